import { type ParseArgsConfig, parseArgs } from 'node:util';
import { didYouMean } from '../text/near.ts';

/** Exit codes, the same for all commands. */
export const EXIT = { fine: 0, problems: 1, usage: 2, damaged: 3, other: 4 } as const;

type Options = NonNullable<ParseArgsConfig['options']>;
export type Values = Readonly<Record<string, string | boolean | undefined>>;

/** One command of the command line. */
export interface Command {
  /** Usage without the program's name, such as `check FILE|FOLDER ...`. */
  readonly usage: string;
  /** Everything `--help` shows after the usage line. */
  readonly help: string;
  readonly options: Options;
  /** Most words it takes beside options; any number when left out. */
  readonly words?: number;
  /** Does the work; answers the exit code. */
  run(words: readonly string[], values: Values): Promise<number>;
}

/** Raised for a command line that cannot be understood. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Raised when the surroundings do not allow the work: a port taken, no service at an address. */
export class Unable extends Error {
  override readonly name = 'Unable';
}

/**
 * Splits a command's arguments into words and options.
 * @throws UsageError that names what is wrong, with near names for a mistyped option
 */
export function parseCommand(
  { options, words: most = Infinity }: Command,
  args: readonly string[],
): { words: readonly string[]; values: Values } {
  const all: Options = { ...options, help: { type: 'boolean', short: 'h' } };
  try {
    const { positionals, values } = parseArgs({ args: [...args], options: all, allowPositionals: true });
    if (positionals.length > most && !values.help) {
      const rest = positionals.slice(most).map((word) => `"${word}"`);
      throw new UsageError(
        `${rest.join(', ')} is more than it takes${most === 0 ? '; it takes options only' : ''}`,
      );
    }
    return { words: positionals, values: values as Values };
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') throw new UsageError(unknownOption(message, all));
    if (code?.startsWith('ERR_PARSE_ARGS')) throw new UsageError(message);
    throw error;
  }
}

function unknownOption(message: string, options: Options): string {
  const written = /'--?([^'=]+)/u.exec(message)?.[1] ?? '';
  const names = Object.keys(options);
  const mend = didYouMean(written, names)?.replaceAll(/"([^"]+)"/gu, '--$1');
  return `no option --${written}; ${mend ?? `the options are ${names.map((name) => `--${name}`).join(', ')}`}`;
}

/** An option's text, or undefined. */
export function textOf(values: Values, name: string): string | undefined {
  const value = values[name];
  return typeof value === 'string' ? value : undefined;
}

/** An option that allows only some words. */
export function choiceOf<T extends string>(
  values: Values,
  name: string,
  allowed: readonly T[],
  otherwise: T,
): T {
  const value = textOf(values, name) ?? otherwise;
  if (!(allowed as readonly string[]).includes(value)) {
    throw new UsageError(`--${name} is "${value}"; it must be one of ${allowed.join(', ')}`);
  }
  return value as T;
}

/** An option that is a whole number within bounds. */
export function numberOf(
  text: string,
  name: string,
  { least, most }: { readonly least: number; readonly most: number },
): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isInteger(value) || value < least || value > most) {
    throw new UsageError(`${name} is "${text}"; it must be a whole number from ${least} to ${most}`);
  }
  return value;
}
