import { parseArgs } from 'node:util';
import { didYouMean } from '../../text/near.ts';
import type { Command } from './command.ts';
import { quoted, UsageError } from './exit.ts';
import { type Options, type Parsed, writtenOption } from './options.ts';

/**
 * Splits a command line into arguments and options.
 * @throws UsageError that names what is wrong, with near names for a mistyped option
 */
export function parseCommandLine(command: Command, args: readonly string[]): Parsed {
  const { allOptions } = command;
  const names = new Map(Object.keys(allOptions).map((name) => [writtenOption(name).slice(2), name]));
  const config = Object.fromEntries(
    [...names].map(([written, name]) => [
      written,
      {
        type: allOptions[name].value === undefined ? ('boolean' as const) : ('string' as const),
        ...(name === 'help' ? { short: 'h' } : {}),
      },
    ]),
  );
  // Not strict, because our own messages name the fix.
  const { positionals, tokens } = parseArgs({
    args: [...args],
    options: config,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const options: Record<string, unknown> = Object.fromEntries(
    Object.entries(allOptions).map(([name, option]) => [name, option.default]),
  );
  const given = new Set<string>();
  for (const token of tokens) {
    if (token.kind !== 'option') continue;
    const name = names.get(token.name);
    if (name === undefined) throw new UsageError(unknownOption(token.rawName, allOptions));
    if (given.has(name)) throw new UsageError(`--${token.name} is given twice`);
    given.add(name);
    options[name] = read(allOptions, name, token);
  }
  if (options.help !== true) checkCount(command, positionals);
  return { arguments: positionals, options, given };
}

function read(
  options: Options,
  name: string,
  { value, inlineValue }: { readonly value?: string; readonly inlineValue?: boolean },
): unknown {
  const option = options[name];
  const written = writtenOption(name);
  if (option.value === undefined) {
    if (value !== undefined) throw new UsageError(`${written} takes no value`);
    return option.read('', written);
  }
  if (value === undefined) throw new UsageError(`${written} needs a value: ${written} ${option.value}`);
  if (inlineValue !== true && /^-./u.test(value))
    throw new UsageError(
      `${written} is followed by ${quoted(value)}; a value that begins with "-" is written ${written}=${option.value}`,
    );
  return option.read(value, written);
}

function checkCount({ name, arguments: declared = [], examples }: Command, written: readonly string[]): void {
  const missing = declared[written.length];
  if (missing && !missing.optional && !(missing.many && written.length >= declared.length))
    throw new UsageError(`${missing.name} is missing; for example: caseback ${examples[0]}`);
  const [extra] = written.slice(declared.length);
  if (extra === undefined || declared.at(-1)?.many) return;
  const takes =
    declared.length === 0 ? 'options only' : `only ${declared.map((argument) => argument.name).join(' ')}`;
  throw new UsageError(`${quoted(extra)} is one argument too many; ${name} takes ${takes}`);
}

function unknownOption(rawName: string, options: Options): string {
  const written = Object.keys(options).map((name) => writtenOption(name));
  const near = didYouMean(
    rawName.replace(/^-+/u, ''),
    written.map((one) => one.slice(2)),
  );
  const fix = near?.replaceAll(/"([^"]+)"/gu, '--$1') ?? `the options are ${written.join(', ')}`;
  return `there is no option ${quoted(rawName).slice(1, -1)}; ${fix}`;
}
