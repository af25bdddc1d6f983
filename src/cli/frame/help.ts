import { wrapped } from '../../export/narrow.ts';
import type { Argument, Command } from './command.ts';
import { EXIT_HELP } from './exit.ts';
import { type Option, writtenOption } from './options.ts';

/** Columns of a help text. */
const WIDTH = 110;

/** Help of a command: usage, what it does, arguments, options, examples, exit codes. */
export function helpOf(command: Command): string {
  const { name, about, arguments: declared = [], allOptions, examples } = command;
  const sections = [
    `Usage: caseback ${[name, ...declared.map(usageOf), '[OPTIONS]'].join(' ')}`,
    about
      .split('\n')
      .map((line) => (line.startsWith(' ') ? line : wrapped(line, WIDTH).join('\n')))
      .join('\n'),
    listed(
      'Arguments',
      declared.flatMap((one) => (one.help === undefined ? [] : [[one.name, one.help] as const])),
    ),
    listed(
      'Options',
      Object.entries(allOptions).map(([option, declaration]) => [
        [writtenOption(option), declaration.value].filter((part) => part !== undefined).join(' '),
        explained(declaration),
      ]),
    ),
    `Examples\n${examples.map((example) => `  caseback ${example}`).join('\n')}`,
    EXIT_HELP,
  ];
  return `${sections.filter((section) => section !== '').join('\n\n')}\n`;
}

function usageOf({ name, optional, many }: Argument): string {
  const written = many ? `${name} ...` : name;
  return optional ? `[${written}]` : written;
}

function explained({ help, choices, default: otherwise }: Option<unknown>): string {
  const [first, ...details] = help.split('\n');
  const missing = choices?.filter((one) => !help.includes(one)) ?? [];
  const among = choices && missing.length > 0 ? `: ${choices.join(', ')}` : '';
  const usual = otherwise === undefined || otherwise === false ? '' : ` (default: ${otherwise})`;
  return [`${first}${among}${usual}`, ...details].join('\n');
}

/** Names in a column, what they mean beside them. */
function listed(title: string, entries: readonly (readonly [name: string, help: string])[]): string {
  if (entries.length === 0) return '';
  const column = Math.max(...entries.map(([name]) => name.length)) + 4;
  const lines = entries.flatMap(([name, help]) =>
    help
      .split('\n')
      .flatMap((line) => (line.startsWith(' ') ? [line] : wrapped(line, WIDTH - column)))
      .map((line, at) => `${(at === 0 ? `  ${name}` : '').padEnd(column)}${line}`),
  );
  return `${title}\n${lines.join('\n')}`;
}
