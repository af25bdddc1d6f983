/**
 * The pattern engine: ask a graph for the places where a pattern fits.
 *
 * ```ts
 * const graph = buildGraph(nodes, edges);                            // or new PatternGraph() and putSegment
 * const answer = await runPattern(graph, 'MATCH (a:Town)~[:ROAD]~(b) RETURN a.name, COUNT(*) AS roads');
 * answer.columns; answer.rows; answer.complete;
 * ```
 *
 * - `runPattern` rows of a query; `countPattern` how many matches; `streamPattern` rows as they come;
 * - `matchBySegment` matches segment by segment, lazily, in a stable order, with a cursor;
 * - `nearMatches` segments that would match but for one node, edge or condition;
 * - `explainPattern` the plan with estimated and real counts (`explain.ts`).
 *
 * A query that is expected to be small runs at once on the calling thread, for a few milliseconds at most; anything
 * else runs on worker threads that read the same memory, so the event loop is not blocked. Every query has budgets and
 * can be cancelled. While a query runs, the graph may change: the query continues with the segments as they were.
 */

import { Source } from '../text/source.ts';
import type { PatternGraph } from './graph.ts';
import type { Query } from './language/ast.ts';
import { type Problem, problemAt } from './language/problem.ts';
import { limitsOf, type QueryOptions } from './options.ts';
import { treeOf } from './plan/parsed.ts';
import { type PreparedPattern, preparedOn } from './prepared-pattern.ts';
import { execute } from './search/execute.ts';
import { expressionsOf } from './search/functions.ts';
import { type PlanOptions, planKept, type QueryPlan } from './search/plan-query.ts';
import {
  type Batch,
  type ExecuteRequest,
  type Limits,
  notSearched,
  type Outcome,
  type QuerySettings,
} from './search/request.ts';
import type { Shortage } from './search/stage.ts';
import { type Searched, searchedBy, shortageNote } from './shortage-note.ts';
import type { Snapshot } from './storage/snapshot.ts';
import { WorkerPool } from './workers/pool.ts';
import { CONTROL } from './workers/protocol.ts';

export interface Answer {
  readonly columns: readonly string[];
  /** Values by column; nodes and edges as `ElementValue`. */
  readonly rows: readonly (readonly unknown[])[];
  /** False when a budget ran out or the query was cancelled: there may be more. */
  readonly complete: boolean;
  /** Why it is not complete. */
  readonly shortage: Shortage | undefined;
  /** The same in words, with what was not searched and the part of the text that it stopped in. */
  readonly note: string | undefined;
  /** How far a search came that goes segment by segment; also when it is complete. */
  readonly searched: Searched | undefined;
  /** Differences from other implementations of the language, and names that are not in the graph. */
  readonly warnings: readonly Problem[];
  /** Milliseconds from call to answer. */
  readonly time: number;
  readonly where: 'here' | 'workers';
}

/** Entries to examine that are expected to take a few milliseconds at most. */
const SMALL = 80_000;
/** The same for streaming: what runs here yields nothing before it is done. */
const SMALL_STREAM = 30_000;
/** Milliseconds that a query may run on the calling thread before it moves to a worker. */
const HERE = 8;
/** Nodes of a graph that is not worth a worker, and milliseconds that a query of it may run on the calling thread. */
const FEW = 5_000;
const HERE_OF_FEW = 30;
/** Steps for which code is written on the calling thread at most. */
const FEW_WRITTEN = 48;
/** Entries to examine that are worth a second thread. */
const LARGE = 80_000;

/** Milliseconds that all queries together may run on the calling thread before it looks at its event loop again. */
const TURN = 16;

/** Time spent in this turn of the event loop. */
const turn = {
  spent: 0,
  isUsedUp(): boolean {
    return this.spent >= TURN;
  },
  add(time: number): void {
    if (this.spent === 0)
      setImmediate(() => {
        this.spent = 0;
      });
    this.spent += time;
  },
};

/** Threads used when the caller does not bring any. */
let commonPool: WorkerPool | undefined;

export function defaultPool(): WorkerPool {
  commonPool ??= new WorkerPool();
  return commonPool;
}

/** All rows of a query. Throws PatternError when the text is not a valid pattern. */
export async function runPattern(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: QueryOptions = {},
): Promise<Answer> {
  const rows: (readonly unknown[])[] = [];
  const running = begin(graph, pattern, options);
  const {
    complete,
    shortage,
    note,
    searched,
    time,
    where,
    warnings: met,
  } = await running.run((batch) => {
    if (batch.kind === 'rows') rows.push(...batch.rows);
  });
  const { columns } = running;
  const warnings = [...running.warnings, ...met];
  return { columns, rows, complete, shortage, note, searched, warnings, time, where };
}

/** Number of matches of a query's clauses; RETURN is ignored. */
export async function countPattern(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: QueryOptions = {},
): Promise<Omit<Answer, 'rows' | 'columns'> & { readonly count: number }> {
  const running = begin(graph, pattern, options, { kind: 'count' });
  const { count, complete, shortage, note, searched, time, where } = await running.run(() => {});
  return { count, complete, shortage, note, searched, warnings: running.warnings, time, where };
}

/** Rows as they are found, in batches; the first row comes as soon as it is found. */
export async function* streamPattern(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: QueryOptions = {},
): AsyncGenerator<readonly (readonly unknown[])[], Omit<Answer, 'rows' | 'columns'>, void> {
  const stop = new AbortController();
  const signal = options.signal ? AbortSignal.any([options.signal, stop.signal]) : stop.signal;
  const running = begin(graph, pattern, { ...options, signal }, { kind: 'rows' }, { stream: true });
  const waiting: (readonly (readonly unknown[])[])[] = [];
  let wake: (() => void) | undefined;
  let done = false;
  const whole = running
    .run((batch) => {
      if (batch.kind === 'rows') waiting.push(batch.rows);
      wake?.();
    })
    .finally(() => {
      done = true;
      wake?.();
    });
  // The error, if any, is thrown below.
  whole.catch(() => {});
  try {
    for (;;) {
      const batch = waiting.shift();
      if (batch) yield batch;
      else if (done) break;
      else
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
    }
    const { complete, shortage, note, searched, time, where, warnings: met } = await whole;
    const warnings = [...running.warnings, ...met];
    return { complete, shortage, note, searched, warnings, time, where };
  } finally {
    // The reader may have left before the end.
    stop.abort();
  }
}

export type Output = ExecuteRequest['output'];

export interface Running {
  readonly columns: readonly string[];
  readonly planned: QueryPlan;
  /** Segments that it may see. */
  readonly visible: Uint8Array;
  readonly warnings: readonly Problem[];
  /** Runs the query, once; must be called, since it holds memory of the graph from the start. */
  readonly run: (onBatch: (batch: Batch) => void) => Promise<{
    readonly count: number;
    readonly complete: boolean;
    readonly shortage: Shortage | undefined;
    readonly note: string | undefined;
    readonly searched: Searched | undefined;
    readonly stoppedIn: Outcome['stoppedIn'];
    /** What the values of the rows do not show. */
    readonly warnings: readonly Problem[];
    readonly time: number;
    readonly where: 'here' | 'workers';
    readonly traces: Outcome['traces'];
  }>;
}

/** Warnings of queries of VALUE that had several rows: the standard has an exception there (cardinality), and null looks like no row. */
function severalRows(text: string, outcomes: readonly Outcome[]): readonly Problem[] {
  const places = new Map(outcomes.flatMap(({ several }) => several.map((place) => [place.start, place])));
  const message =
    'VALUE had several rows here, and is null where it had; aggregate them, or ORDER BY and LIMIT 1.';
  const source = new Source(text);
  return [...places.values()]
    .toSorted((a, b) => a.start - b.start)
    .map((place) => problemAt(source, 'several-values', place, message, { severity: 'warning' }));
}

export interface BeginExtras {
  readonly relaxation?: number;
  readonly trace?: boolean;
  /** Whether rows are streamed. */
  readonly stream?: boolean;
  /** Set when the answer comes segment by segment. */
  readonly bySegment?: PlanOptions['bySegment'];
  readonly visibleAlone?: boolean;
  /** The plan, if already made. */
  readonly planned?: QueryPlan;
  /** Snapshot of the graph, held by the caller; the current graph when not given. */
  readonly snapshot?: Snapshot | undefined;
  readonly pool?: WorkerPool;
}

/**
 * Checks, plans and prepares a query. From here on it sees the graph as it is now, whatever changes before and while it
 * runs. Nothing else runs between `options.align` and that.
 */
export function begin(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: QueryOptions,
  output: Output = { kind: 'rows' },
  extras: BeginExtras = {},
): Running {
  const start = performance.now();
  const limits = limitsOf(options);
  if (!extras.snapshot) options.align?.();
  const prepared = preparedOn(graph, pattern, options);
  const snapshot = extras.snapshot ?? graph.snapshot(options.segments);
  const done = () => {
    if (!extras.snapshot) snapshot.release();
  };
  try {
    const running = readied(graph, prepared, options, output, extras, { snapshot, limits, start });
    const run: Running['run'] = async (onBatch) => {
      try {
        return await running.run(onBatch);
      } finally {
        done();
      }
    };
    return { ...running, run };
  } catch (error) {
    done();
    throw error;
  }
}

function readied(
  graph: PatternGraph,
  prepared: PreparedPattern,
  options: QueryOptions,
  output: Output,
  extras: BeginExtras,
  {
    snapshot,
    limits,
    start,
  }: { readonly snapshot: Snapshot; readonly limits: Limits; readonly start: number },
): Running {
  const settings = settingsOf(prepared, options, extras.relaxation);
  const tree = treeOf(settings);
  const planned = extras.planned ?? planFor(graph, prepared, options, snapshot, extras);
  // COUNT(*) alone needs no rows.
  const counts = output.kind === 'rows' && isCountOnly(tree);
  const request: ExecuteRequest = {
    query: settings,
    name: planned.name,
    plan: planned.plan,
    strings: planned.strings,
    visible: snapshot.visible,
    ranks: snapshot.ranks,
    handles: snapshot.handles,
    crossingCodes: planned.crossingCodes,
    limits,
    output: counts ? { kind: 'count' } : output,
    trace: extras.trace ?? false,
    shared: true,
  };
  const parts = planned.cost > LARGE && isDivisible(tree, request.output) && !request.trace ? 64 : 1;

  const run: Running['run'] = async (onBatch) => {
    let outcomes: Outcome[] | undefined;
    let where: 'here' | 'workers' = 'here';
    if (options.signal?.aborted) outcomes = [notSearched('cancelled')];
    const small =
      options.where === 'here' ||
      (planned.cost <= (extras.stream ? SMALL_STREAM : SMALL) && planned.written <= FEW_WRITTEN);
    const here = !outcomes && small && options.where !== 'workers';
    // For a few nodes a worker takes longer than waiting for the calling thread.
    if (here && options.where !== 'here' && graph.nodeCount <= FEW)
      while (turn.isUsedUp()) await new Promise(setImmediate);
    // What planning has taken is gone; something is always looked at.
    const inTime = () => ({
      ...request,
      limits: { ...limits, time: Math.max(1, limits.time - (performance.now() - start)) },
    });
    if (here && (options.where === 'here' || !turn.isUsedUp()))
      outcomes = snapshot.within(() => runHere(graph, planned, inTime(), options, onBatch));
    if (!outcomes) {
      where = 'workers';
      const pool = extras.pool ?? defaultPool();
      const asked = (threads: number, each: (batch: Batch) => void) => {
        const shares = { parts: threads, signal: options.signal, onBatch: each, whenDone: snapshot.hold() };
        return pool.run(graph, inTime(), tree, shares);
      };
      if (parts === 1 || extras.stream || request.output.kind !== 'rows')
        outcomes = await asked(parts, onBatch);
      else {
        const batches: Extract<Batch, { kind: 'rows' }>[] = [];
        outcomes = await asked(parts, (batch) => {
          if (batch.kind === 'rows') batches.push(batch);
        });
        // Which rows come first is a matter of the threads, unless there is one.
        if (outcomes.some(({ shortage }) => shortage === 'rows')) outcomes = await asked(1, onBatch);
        else for (const batch of batches.toSorted((a, b) => a.from - b.from)) onBatch(batch);
      }
    }
    const count = outcomes.reduce((sum, outcome) => sum + outcome.count, 0);
    const shortage = outcomes.find((outcome) => outcome.shortage)?.shortage;
    const searched = searchedBy(outcomes);
    const stoppedIn = outcomes.find((outcome) => outcome.stoppedIn)?.stoppedIn;
    if (counts) onBatch({ kind: 'rows', from: 0, rows: [[count]] });
    return {
      count,
      complete: shortage === undefined,
      shortage,
      note: shortage && shortageNote(shortage, prepared.text, graph.segmentsName, searched, stoppedIn),
      searched,
      stoppedIn,
      warnings: severalRows(prepared.text, outcomes),
      time: performance.now() - start,
      where,
      traces: outcomes[0]!.traces,
    };
  };
  return { columns: planned.columns, planned, visible: snapshot.visible, warnings: prepared.warnings, run };
}

/** The plan of a query over a snapshot that has just been taken; kept as long as the graph stays as it is. */
export function planFor(
  graph: PatternGraph,
  prepared: PreparedPattern,
  options: QueryOptions,
  { visible }: Snapshot,
  { relaxation, bySegment, visibleAlone }: BeginExtras,
): QueryPlan {
  const settings = settingsOf(prepared, options, relaxation);
  return planKept(
    graph,
    () => treeOf(settings),
    settings,
    () => expressionsOf(graph.store, settings),
    {
      naive: options.naive ?? false,
      strategy: options.strategy,
      visible,
      bySegment,
      visibleAlone,
      inKeyOrder: options.segments !== undefined,
    },
  );
}

/** Settings for compiling a query, from the options. */
function settingsOf(
  { text, functions, asksForTime }: PreparedPattern,
  options: QueryOptions,
  relaxation: number | undefined,
): QuerySettings {
  return {
    text,
    distinctNodes: options.distinctNodes ?? false,
    labels: options.labels ?? 'possible',
    parameters: options.parameters ?? {},
    now: asksForTime ? Date.now() : 0,
    functions,
    relaxation,
  };
}

/**
 * Runs a query on this thread; undefined when it takes too long, in which case a worker starts again and nothing has
 * been yielded.
 */
function runHere(
  graph: PatternGraph,
  planned: QueryPlan,
  request: ExecuteRequest,
  options: QueryOptions,
  onBatch: (batch: Batch) => void,
): Outcome[] | undefined {
  const batches: Batch[] = [];
  // While it searches, this thread does not hear that the query was cancelled; a worker does.
  const only = options.where === 'here' && !options.signal;
  const most = graph.nodeCount <= FEW ? HERE_OF_FEW : HERE;
  const time = only ? request.limits.time : Math.min(most, request.limits.time);
  const start = performance.now();
  try {
    const outcome = execute(
      graph.store,
      { ...request, limits: { ...request.limits, time } },
      {
        control: new Int32Array(new SharedArrayBuffer(CONTROL.words * 4)),
        emit: (batch) => batches.push(batch),
      },
      planned,
    );
    if (outcome.shortage === 'time' && time < request.limits.time) return undefined;
    // Deep paths go to a worker, which has a larger stack.
    if (outcome.shortage === 'length' && !only) return undefined;
    for (const batch of batches) onBatch(batch);
    return [outcome];
  } finally {
    turn.add(performance.now() - start);
  }
}

function isCountOnly({ result, offset, limit }: Query): boolean {
  const [item] = result.items ?? [];
  if (result.items?.length !== 1 || item?.value.kind !== 'aggregate' || offset || limit) return false;
  const { name, argument } = item.value;
  return name === 'COUNT' && !argument && (result.groupBy === undefined || result.groupBy.length === 0);
}

/** Whether threads that share the segments give the same answer as a single thread. */
function isDivisible({ result, orderBy, offset, limit }: Query, output: Output): boolean {
  if (output.kind !== 'rows') return true;
  if (result.distinct || result.groupBy || orderBy.length > 0 || offset || limit) return false;
  return !JSON.stringify(result.items ?? []).includes('"kind":"aggregate"');
}
