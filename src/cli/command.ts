import { type ParseArgsConfig, parseArgs } from 'node:util';

/** Exit codes, the same for all commands. */
export const EXIT = { fine: 0, problems: 1, usage: 2, damaged: 3, other: 4 } as const;

type Options = NonNullable<ParseArgsConfig['options']>;
export type Values = Readonly<Record<string, string | boolean | undefined>>;

/** One command of the command line. */
export interface Command {
  /** One line for the list of commands. */
  readonly summary: string;
  /** Everything `--help` shows after the usage line. */
  readonly help: string;
  /** Usage without the program's name, such as `check FILE|FOLDER ...`. */
  readonly usage: string;
  readonly options: Options;
  /** Does the work; answers the exit code. */
  run(words: readonly string[], values: Values): Promise<number>;
}

/** Raised for a command line that cannot be understood. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Splits a command's arguments into words and options. */
export function parseCommand(
  command: Command,
  args: readonly string[],
): { words: readonly string[]; values: Values } {
  try {
    const { positionals, values } = parseArgs({
      args: [...args],
      options: { ...command.options, help: { type: 'boolean', short: 'h' } },
      allowPositionals: true,
    });
    return { words: positionals, values: values as Values };
  } catch (error) {
    throw new UsageError((error as Error).message);
  }
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
