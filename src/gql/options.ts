/**
 * Options of a query with their defaults, checked on entry.
 */
import type { Vocabulary } from './check/rule.ts';
import type { LabelReading } from './plan/compiled.ts';
import type { Strategy } from './plan/plan-match.ts';
import type { Limits } from './search/request.ts';

/** Limits that end a query early. The answer then says so, with what was found. */
export interface Budgets {
  /** Milliseconds, 1 to 600 000. @default 5000 */
  readonly time?: number;
  /** Rows (or segments with matches) that are returned, at least 1. @default 10 000 */
  readonly rows?: number;
  /** Bytes that a thread may keep for groups, sorting and distinct rows. @default 256 MiB */
  readonly memory?: number;
  /** Elements examined, for limits that do not depend on the machine. @default none */
  readonly steps?: number;
}

export interface QueryOptions {
  /**
   * Values of `$name`: texts, finite numbers, truth values, null, and lists and plain objects of them, up to 40 deep and a
   * million in all. Anything else is a QueryOptionError.
   */
  readonly parameters?: Readonly<Record<string, unknown>>;
  /**
   * Whether each place of a match must be a node of its own (subgraph isomorphism), nameless ones and those inside
   * quantified paths included, in all clauses together. Places that one name binds, node patterns side by side, and the
   * ends of a quantified path that walked nothing are one place. EXISTS and VALUE count outer nodes only where they
   * name them; NEXT hands on only the nodes of its columns. The language itself lets two variables bind the same node
   * (homomorphism). @default false
   */
  readonly distinctNodes?: boolean;
  /**
   * How labels with a weight below 1 are read: `possible` takes every match that holds if some of them are true,
   * `certain` only matches that hold whichever are true. @default 'possible'
   */
  readonly labels?: LabelReading;
  readonly budgets?: Budgets;
  /**
   * Address (URL) of a module that exports `functions: FunctionDefinition[]`, in addition to those of the standard;
   * worker threads load it as well. Call `loadFunctions` once before.
   */
  readonly functions?: string | undefined;
  /** Names to compare mistyped names with, instead of all names in the graph. */
  readonly vocabulary?: Vocabulary | undefined;
  /** How to treat a label or property that is not in the graph. @default 'warning' */
  readonly unknownNames?: 'error' | 'warning';
  readonly signal?: AbortSignal | undefined;
  /**
   * Called right before the query takes its snapshot of the graph: changes made here are seen, and nothing else can
   * come in between. For a graph that several callers each want in a different state.
   */
  readonly align?: (() => void) | undefined;
  /** Keys of the segments that the query may see; the content of others is never revealed. @default all */
  readonly segments?: Iterable<string> | undefined;
  /** Search in the order of the text, without estimates, index and candidate sets: slow, for comparison. */
  readonly naive?: boolean;
  /**
   * How parts without quantified paths are searched: `loops` writes code for them, `candidates` keeps candidate sets,
   * which pays for many pattern nodes in large segments, `steps` writes none, which pays for what is asked once of little.
   * @default 'auto'
   */
  readonly strategy?: Strategy;
  /**
   * Where to run: `auto` uses worker threads for long queries, `here` holds the calling thread until the query is done or
   * its time is up. With a `signal` a long query goes on in a worker all the same, since a thread that searches does
   * not hear of it. @default 'auto'
   */
  readonly where?: 'auto' | 'here' | 'workers';
}

/** An invalid value in the options. */
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
