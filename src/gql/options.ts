/**
 * Options of a query, their defaults in one place, checked at the door.
 */
import type { Vocabulary } from './check/rule.ts';
import type { LabelReading } from './plan/compile.ts';
import type { Strategy } from './plan/plan-match.ts';
import type { Limits } from './search/request.ts';

/** When a query has to stop though it is not done. The answer then says so, with what was found. */
export interface Budgets {
  /** Milliseconds, 1 to 600 000. @default 5000 */
  readonly time?: number;
  /** Rows (or segments with matches) that are handed out, at least 1. @default 10 000 */
  readonly rows?: number;
  /** Bytes that a thread may keep for groups, sorting and distinct rows. @default 256 MiB */
  readonly memory?: number;
  /** Elements looked at, for limits that do not hang on the machine. @default none */
  readonly steps?: number;
}

export interface QueryOptions {
  /** Values of `$name`: strings, numbers, booleans, null and lists of them. */
  readonly parameters?: Readonly<Record<string, unknown>>;
  /**
   * Whether node patterns of one query stand for different nodes (subgraph isomorphism). The language itself lets
   * two variables be one node (homomorphism). @default false
   */
  readonly distinctNodes?: boolean;
  /**
   * How labels with a weight below 1 are read: `possible` takes every match that holds if some of them are true,
   * `certain` only matches that hold whatever is true of them. @default 'possible'
   */
  readonly labels?: LabelReading;
  readonly budgets?: Budgets;
  /**
   * Address (URL) of a module that exports `functions: FunctionDefinition[]`, functions besides those of the standard;
   * worker threads load it as well. Call `loadFunctions` once before.
   */
  readonly functions?: string | undefined;
  /** Names that mistyped ones are compared with, instead of all names in the graph. */
  readonly vocabulary?: Vocabulary | undefined;
  /** What to make of a label or property that the graph has not got. @default 'warning' */
  readonly unknownNames?: 'error' | 'warning';
  readonly signal?: AbortSignal | undefined;
  /**
   * Called right before the query begins to see the graph: what is put into the graph here is seen, and nothing else
   * can come in between. For a graph that several callers each want in a state of their own.
   */
  readonly align?: (() => void) | undefined;
  /** Keys of the segments that the query may see; nothing in others shows in any way. @default all */
  readonly segments?: Iterable<string> | undefined;
  /** Search in the order of the text, without estimates, index and candidate sets: slow, for comparison. */
  readonly naive?: boolean;
  /**
   * How parts without quantified paths are searched: `loops` writes code for them, `candidates` keeps candidate sets,
   * which pays for many pattern nodes in large segments. @default 'auto'
   */
  readonly strategy?: Strategy;
  /** Where to run: `auto` takes worker threads for what may last. @default 'auto' */
  readonly where?: 'auto' | 'here' | 'workers';
}

/** A value in the options that cannot be. */
export class QueryOptionError extends Error {
  override readonly name = 'QueryOptionError';
}

const BUDGETS = { time: 5_000, rows: 10_000, memory: 256 * 2 ** 20, steps: Number.MAX_SAFE_INTEGER };

export function limitsOf({ budgets = {} }: QueryOptions): Limits {
  const within = (name: keyof Budgets, least: number, most: number): number => {
    const value = budgets[name] ?? BUDGETS[name];
    if (!(value >= least && value <= most))
      throw new QueryOptionError(`budgets.${name} is ${value}; it has to be from ${least} to ${most}`);
    return value;
  };
  return {
    time: within('time', 1, 600_000),
    rows: within('rows', 1, Number.MAX_SAFE_INTEGER),
    bytes: within('memory', 1024, Number.MAX_SAFE_INTEGER),
    steps: within('steps', 1, Number.MAX_SAFE_INTEGER),
  };
}
