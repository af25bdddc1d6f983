import { didYouMean } from '../../text/near.ts';
import { quoted, UsageError } from './exit.ts';

/**
 * One option of a command. Commands declare options under the field's name in camelCase (`bodySite`); on the command
 * line they are kebab-case (`--body-site`).
 */
export interface Option<T> {
  /** How help writes its value, such as `N`; none for a flag, which takes no value. */
  readonly value?: string;
  readonly help: string;
  readonly choices?: readonly string[];
  /** What it is when not given. */
  readonly default: T;
  /** @throws UsageError for a text that is not a valid value */
  read(written: string, option: string): T;
}

export type Options = Readonly<Record<string, Option<unknown>>>;
export type ValuesOf<O extends Options> = {
  readonly [K in keyof O]: O[K] extends Option<infer T> ? T : never;
};

/** `--body-site` for `bodySite`. */
export function writtenOption(name: string): string {
  return `--${name.replaceAll(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
}

/** An option that is given or not. */
export function flag(help: string): Option<boolean> {
  return { help, default: false, read: () => true };
}

/** An option whose value is any text. */
export function text(value: string, help: string): Option<string | undefined> {
  return { value, help, default: undefined, read: (written) => written };
}

/** An option whose value is one of a few words; without a default it may be left out. */
export function choice<T extends string>(
  value: string,
  choices: readonly T[],
  settings: { readonly help: string; readonly default: NoInfer<T> },
): Option<T>;
export function choice<T extends string>(
  value: string,
  choices: readonly T[],
  settings: { readonly help: string },
): Option<T | undefined>;
export function choice<T extends string>(
  value: string,
  choices: readonly T[],
  settings: { readonly help: string; readonly default?: T },
): Option<T | undefined> {
  return {
    value,
    help: settings.help,
    choices,
    default: settings.default,
    read(written, option) {
      const chosen = choices.find((one) => one === written);
      if (chosen !== undefined) return chosen;
      const fix = didYouMean(written, choices) ?? `it must be one of ${choices.join(', ')}`;
      throw new UsageError(`${option} is ${quoted(written)}; ${fix}`);
    },
  };
}

interface Bounds {
  readonly min: number;
  readonly max?: number;
}

/** An option whose value is a whole number within bounds; without a default it may be left out. */
export function whole(
  value: string,
  settings: Bounds & { readonly help: string; readonly default: number },
): Option<number>;
export function whole(
  value: string,
  settings: Bounds & { readonly help: string },
): Option<number | undefined>;
export function whole(
  value: string,
  { help, default: otherwise, ...bounds }: Bounds & { readonly help: string; readonly default?: number },
): Option<number | undefined> {
  const range = bounds.max === undefined ? '' : `, ${bounds.min} to ${bounds.max}`;
  return {
    value,
    help: help.replace(/(?: \(default.*)?$/u, (usual) => `${range}${usual}`),
    default: otherwise,
    read: (written, option) => wholeNumber(written, option, bounds),
  };
}

/**
 * A whole number within bounds.
 * @param name of the option or variable, for the message
 * @throws UsageError for any other text
 */
export function wholeNumber(
  written: string,
  name: string,
  { min, max = Number.MAX_SAFE_INTEGER }: Bounds,
): number {
  const number = Number(written);
  if (written.trim() !== '' && Number.isInteger(number) && number >= min && number <= max) return number;
  const range = max === Number.MAX_SAFE_INTEGER ? `, ${min} or more` : ` from ${min} to ${max}`;
  throw new UsageError(`${name} is ${quoted(written)}; it must be a whole number${range}`);
}

/** An option whose value is a number above a bound (`above`) or from a bound on (`min`). */
export function decimal(
  value: string,
  settings: {
    readonly help: string;
    readonly above?: number;
    readonly min?: number;
    readonly default: number;
  },
): Option<number>;
export function decimal(
  value: string,
  settings: { readonly help: string; readonly above?: number; readonly min?: number },
): Option<number | undefined>;
export function decimal(
  value: string,
  {
    help,
    above = -Infinity,
    min = -Infinity,
    default: otherwise,
  }: { readonly help: string; readonly above?: number; readonly min?: number; readonly default?: number },
): Option<number | undefined> {
  return {
    value,
    help,
    default: otherwise,
    read(written, option) {
      const number = Number(written);
      if (written.trim() !== '' && Number.isFinite(number) && number > above && number >= min) return number;
      const range = above > -Infinity ? ` above ${above}` : min > -Infinity ? `, ${min} or more` : '';
      throw new UsageError(
        `${option} is ${quoted(written)}; ${pointFor(written) ?? `it must be a number${range}`}`,
      );
    },
  };
}

/** `write 4.3, with a point`, for a number with a decimal comma. */
export function pointFor(written: string): string | undefined {
  const match = /^\s*([+-]?\d+),(\d+)\s*$/u.exec(written);
  return match ? `write ${match[1]}.${match[2]}, with a point` : undefined;
}

/** An option whose value is several words joined by commas. */
export function list(value: string, help: string): Option<readonly string[] | undefined> {
  return {
    value,
    help,
    default: undefined,
    read: (written) => written.split(',').map((word) => word.trim()),
  };
}

/** An option whose value something else reads. */
export function readBy<T>(
  value: string,
  help: string,
  read: (written: string, option: string) => T,
): Option<T | undefined> {
  return { value, help, default: undefined, read };
}

/** A command line, split. */
export interface Parsed {
  readonly arguments: readonly string[];
  /** Value of every option by its name in camelCase, defaults included. */
  readonly options: Readonly<Record<string, unknown>>;
  /** Names of the options that were written. */
  readonly given: ReadonlySet<string>;
}
