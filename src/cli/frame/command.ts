import { type Answer, FORMATS, type Format } from './answer.ts';
import type { Call } from './call.ts';
import {
  AS_OF_OPTION,
  AUDIENCE_OPTION,
  AUTHOR_OPTIONS,
  DATA_OPTION,
  HELP_OPTION,
  WHOLE_OPTION,
} from './common-options.ts';
import { choice, type Options } from './options.ts';

/** One argument beside the options. */
export interface Argument {
  /** In capitals, as help writes it. */
  readonly name: string;
  readonly help?: string;
  readonly optional?: true;
  /** Whether it may be repeated; the last argument only. */
  readonly many?: true;
}

/**
 * What a command does with the archive, which decides its common options:
 * `nothing`; `folder`, which it opens itself (`--data`); `view`, read as an audience sees it (`--audience`, the desk by default, `--as-of` and `--what-is-whole`);
 * `change`, made at the desk with name and reason (`--actor`, `--reason`).
 */
export type Use = 'nothing' | 'folder' | 'view' | 'change';

export interface Declaration<O extends Options> {
  /** One word, or verb-noun. */
  readonly name: string;
  /** A few sentences for its help. */
  readonly about: string;
  readonly arguments?: readonly Argument[];
  readonly options?: O;
  readonly uses: Use;
  /** Whether its answers are figures over the archive, which may go into print: then it says when the desk's count more than readers see. */
  readonly givesFigures?: true;
  /** Formats that it offers, the default first. */
  readonly formats?: readonly Format[];
  /** Command lines without the program's name, each of which works on the demo archive or on files of the reader's. */
  readonly examples: readonly string[];
  /** Answers, or writes to the call's terminal by itself and answers the exit code. */
  run(call: Call<O>): Promise<Answer | number>;
}

/** A command as the frame runs it. */
export interface Command extends Declaration<Options> {
  /** Its own options and the common ones. */
  readonly allOptions: Options;
}

/** Declares a command; its own options type the call that it gets. */
export function defineCommand<O extends Options = Record<never, never>>(declared: Declaration<O>): Command {
  const { uses, formats = [], options = {} } = declared;
  const [usual] = formats;
  const allOptions: Options = {
    ...options,
    ...(formats.length > 0
      ? {
          format: choice('FORMAT', formats, {
            help: formats.map((format) => `${format}: ${FORMATS[format]}`).join('; '),
            default: usual,
          }),
        }
      : {}),
    ...(uses === 'nothing' ? {} : DATA_OPTION),
    ...(uses === 'view' ? { ...AUDIENCE_OPTION, ...AS_OF_OPTION, ...WHOLE_OPTION } : {}),
    ...(uses === 'change' ? AUTHOR_OPTIONS : {}),
    ...HELP_OPTION,
  };
  return { ...(declared as unknown as Declaration<Options>), allOptions };
}
