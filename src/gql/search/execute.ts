/**
 * Runs one compiled query, or its share of one, on the thread it is called on.
 */

import { LRUCache } from 'lru-cache';
import type { Query } from '../language/ast.ts';
import { compileQuery } from '../plan/compile.ts';
import type { Answering, Compiled } from '../plan/compiled.ts';
import type { Lineage } from '../plan/lineage.ts';
import type { Match, PlannableClause } from '../plan/match.ts';
import type { Place } from '../plan/pattern.ts';
import type { PlannedMatch } from '../plan/plan-match.ts';
import { Entering } from '../storage/entering.ts';
import type { Store } from '../storage/store.ts';
import { BodyAnswers } from './body-answers.ts';
import { clausesStage } from './clauses.ts';
import { expressionsOf } from './functions.ts';
import { COUNTER } from './generate.ts';
import { KeptMatches } from './kept-matches.ts';
import { isPlain, type MatchStage, type PreparedMatch, prepareMatch } from './match-stage.ts';
import { matchesOf } from './prepared-clauses.ts';
import type { Batch, ExecuteRequest, Outcome, SegmentMatches } from './request.ts';
import { ResultSink } from './result.ts';
import { bodyLineage, RowLineage, waysOf } from './row-lineage.ts';
import { SegmentCursor } from './segment-cursor.ts';
import { OutOfBudget, Run, type Shortage } from './stage.ts';

export interface Channel {
  /** Words of `CONTROL` in `workers/protocol.ts`. */
  readonly control: Int32Array;
  readonly emit: (batch: Batch) => void;
}

/** Places in the control words; see `workers/protocol.ts`. */
const CANCELLED = 0;
const NEXT = 1;
const ROWS = 2;

/** Segments that are taken at once, at most. */
const STRETCH = 64;
/** Rows that are sent together, and milliseconds after which fewer are. */
const BATCH = { rows: 512, time: 4 };

const NOTHING_ROAMS = new Uint8Array(0);
const NOTHING_NEAR: ReadonlySet<number> = new Set();

interface Ready {
  readonly compiled: Compiled;
  readonly prepared: PreparedMatch[];
  readonly counting: boolean;
  readonly output: (value: unknown) => unknown;
}

/** Compiled queries of each store. */
const cache = new WeakMap<Store, LRUCache<string, Ready>>();
const MAX_KEPT = 200;

/** What planning has made of a query already, on this thread. */
export type Understood = Pick<Ready, 'compiled'> & { readonly matches: readonly Match[] };

/**
 * @param understood from the plan that the request was made of, to spare doing it again; on another thread the tree that the settings
 * refer to
 */
export function execute(
  store: Store,
  request: ExecuteRequest,
  channel: Channel,
  understood: Understood | { readonly tree: Query },
): Outcome {
  const start = performance.now();
  const ready = readyFor(store, request, understood);
  const { compiled } = ready;
  const { limits, output } = request;
  const run = new Run(
    compiled.slots.count,
    {
      deadline: start + limits.time,
      steps: limits.steps,
      bytes: limits.bytes,
      cancelled: () => Atomics.load(channel.control, CANCELLED) === 1,
    },
    request.query.parameters,
  );
  const cursor = output.kind === 'segments' ? new SegmentCursor(store, request, output) : undefined;
  const visible = cursor?.visible ?? request.visible;
  const entering = new Entering(store, visible, request.ranks);
  const context = {
    run,
    store,
    visible,
    roams: cursor?.roams ?? NOTHING_ROAMS,
    near: cursor?.near ?? NOTHING_NEAR,
    entering,
  };
  let taken = 0;
  const take = () => withPlan(ready.prepared[taken]!, request.plan[taken]!, taken++ === 0, cursor);
  let count = 0;
  let shortage: Shortage | undefined;
  let stoppedIn: Place | undefined;
  let searched = 0;

  const rows: unknown[][] = [];
  let sent = start;
  let stretchFrom = 0;
  const flush = () => {
    if (rows.length > 0) channel.emit({ kind: 'rows', from: stretchFrom, rows: rows.splice(0) });
    sent = performance.now();
  };
  const emitRow = (cells: readonly unknown[]): boolean => {
    if (Atomics.add(channel.control, ROWS, 1) >= limits.rows) throw new OutOfBudget('rows');
    rows.push(cells.map((cell) => ready.output(cell)));
    count++;
    if (count === 1 || rows.length >= BATCH.rows || performance.now() - sent > BATCH.time) flush();
    return true;
  };
  const sink = output.kind === 'rows' ? new ResultSink(compiled.result, run, emitRow) : undefined;
  run.keepsDoubts = output.kind === 'segments' && output.matches > 0;
  const kept = output.kind === 'segments' ? new KeptMatches(run, compiled, store, output) : undefined;
  const last = (): boolean => {
    if (sink) return sink.take();
    if (!kept) {
      count++;
      return true;
    }
    const before = kept.count;
    const goes = kept.take();
    count += kept.count - before;
    return goes;
  };

  const clauses = clausesStage(compiled.clauses, take, context, last);
  // In the order of their matches.
  const bodies = compiled.inner.map((body, number) => {
    const answering = compiled.answers.get(number);
    if (answering) run.answers[number] = answerOf(body, answering, take, context);
    return answering ? NOTHING : bodyStage(body, take, context);
  });
  const remembered: BodyAnswers<unknown>[] = [];
  const remembering = <T>(number: number, ask: () => T): (() => T) => {
    const reads = compiled.innerReads[number];
    if (!reads) return ask;
    const answers = new BodyAnswers(run, reads, ask);
    remembered.push(answers);
    return () => answers.get();
  };
  bodies.forEach((visit, number) => {
    run.inner.push(
      remembering(number, () => {
        let found = false;
        visit(() => {
          found = true;
          return false;
        });
        return found;
      }),
    );
  });
  if (run.keepsDoubts) {
    run.wayOf = waysOf(store, run);
    const ask = bodyLineage(
      run,
      bodies,
      compiled.inner.map((body) => new RowLineage(store, run, body)),
    );
    const lineages = new Map<number, () => Lineage>();
    run.bodyLineage = (possible, certain) => {
      let lineage = lineages.get(possible);
      if (!lineage) {
        lineage = remembering(possible, () => ask(possible, certain));
        lineages.set(possible, lineage);
      }
      return lineage();
    };
  }
  if (ready.counting) COUNTER[0] = 0;
  for (const match of ready.prepared) for (const trace of match.traces) trace?.fill(0);
  try {
    if (output.kind === 'segments') {
      stretches(clauses, request, channel, (from, to) => {
        const found: SegmentMatches[] = [];
        try {
          for (let s = from; s < to; s++) {
            kept!.clear(clauses.segments![s]!);
            cursor!.moveTo(clauses.segments![s]!);
            for (const answers of remembered) answers.forget();
            clauses.stretch(s, s + 1);
            if (kept!.count > 0) found.push({ segment: clauses.segments![s]!, ...kept!.found() });
            searched++;
          }
        } finally {
          channel.emit({ kind: 'segments', from, to, found });
        }
        return true;
      });
    } else
      stretches(clauses, request, channel, (from, to) => {
        flush();
        stretchFrom = from;
        const goes = clauses.stretch(from, to);
        if (goes) searched += to - from;
        return goes;
      });
  } catch (error) {
    if (!(error instanceof OutOfBudget)) throw error;
    shortage = error.shortage;
    stoppedIn = error.place;
  }
  if (ready.counting) count = COUNTER[0]!;
  if (sink && shortage !== 'rows') {
    try {
      sink.finish();
    } catch (error) {
      if (!(error instanceof OutOfBudget)) throw error;
      shortage ??= error.shortage;
    }
  }
  flush();
  const traces = request.trace
    ? ready.prepared.map((match) => match.traces.map((trace) => (trace ? [...trace] : [])))
    : [];
  return {
    count,
    shortage,
    segments: clauses.segments?.length ?? 0,
    searched,
    stoppedIn,
    several: [...run.several],
    steps: run.steps,
    time: performance.now() - start,
    traces,
  };
}

/** Takes stretches of the first segment list, alone or shared with other threads. */
function stretches(
  clauses: MatchStage,
  request: ExecuteRequest,
  channel: Channel,
  run: (from: number, to: number) => boolean,
): void {
  const { segments } = clauses;
  if (!segments) {
    // Nothing to share: the first thread does all of it.
    if (!request.shared || Atomics.add(channel.control, NEXT, 1) === 0) clauses.run();
    return;
  }
  // Few segments are taken one by one, so that it can be said how many were searched.
  const stretch = Math.max(1, Math.min(STRETCH, segments.length >> 4));
  for (;;) {
    const from = Atomics.add(channel.control, NEXT, stretch);
    if (from >= segments.length) return;
    if (!run(from, Math.min(segments.length, from + stretch))) return;
  }
}

/** The body of an EXISTS; it calls back for every row, until it is answered false. */
function bodyStage(
  body: readonly PlannableClause[],
  take: () => PreparedMatch,
  context: Parameters<typeof clausesStage>[2],
): (visit: () => boolean) => void {
  let current: () => boolean = () => false;
  const stage = clausesStage(body, take, context, () => current());
  return (visit) => {
    const before = current;
    current = visit;
    stage.run();
    current = before;
  };
}

const NOTHING = (): void => {};

/** The query of a VALUE: the value of its one row; null when it has none, or several. */
function answerOf(
  body: readonly PlannableClause[],
  { result, isConstant, place }: Answering,
  take: () => PreparedMatch,
  context: Parameters<typeof clausesStage>[2],
): () => unknown {
  let sink: ResultSink | undefined;
  const stage = clausesStage(body, take, context, () => sink!.take());
  let known: { readonly value: unknown } | undefined;
  return () => {
    if (known) return known.value;
    let count = 0;
    let value: unknown = null;
    sink = new ResultSink(result, context.run, ([cell]) => {
      value = count++ === 0 ? cell : null;
      return count < 2;
    });
    stage.run();
    sink.finish();
    sink.forget();
    if (count > 1) context.run.several.add(place);
    if (isConstant) known = { value };
    return value;
  };
}

/** The compiled query is kept; the segments to look at are those of the request. */
function withPlan(
  prepared: PreparedMatch,
  plan: PlannedMatch,
  isFirst: boolean,
  cursor: SegmentCursor | undefined,
): PreparedMatch {
  return {
    ...prepared,
    parts: prepared.parts.map((part, i) => {
      const planned = plan.parts[i]!;
      if (part.kind === 'repeat' || planned.kind === 'repeat') return part;
      const scans = [...planned.scans];
      scans.forEach((_, k) => {
        if (cursor && !(isFirst && i === 0 && k === 0)) cursor.narrow(scans, k);
      });
      return part.kind === 'candidates' ? { ...part, segments: scans[0]! } : { ...part, scans };
    }),
  };
}

function readyFor(
  store: Store,
  request: ExecuteRequest,
  understood: Understood | { readonly tree: Query },
): Ready {
  let kept = cache.get(store);
  if (!kept) {
    kept = new LRUCache({ max: MAX_KEPT });
    cache.set(store, kept);
  }
  const name = nameOf(request);
  const known = kept.get(name);
  if (known) return known;
  const whole = 'tree' in understood ? understand(store, request, understood.tree) : understood;
  const ready = makeReady(store, request, whole);
  kept.set(name, ready);
  return ready;
}

/** Everything that the compiled code depends on. */
function nameOf({ name, output, trace }: ExecuteRequest): string {
  const way =
    output.kind === 'segments' ? JSON.stringify([output.roaming, output.home]) : output.kind === 'count';
  return `${name} ${way} ${trace}`;
}

function understand(store: Store, { query, strings }: ExecuteRequest, tree: Query): Understood {
  const expressions = expressionsOf(store, query);
  const compiled = compileQuery(
    tree,
    store,
    { ...query, stringNumber: (text) => strings[text] ?? -1 },
    expressions,
  );
  const matches = [...matchesOf(compiled.clauses), ...compiled.inner.flatMap((body) => matchesOf(body))];
  return { compiled, matches };
}

function makeReady(store: Store, request: ExecuteRequest, { compiled, matches }: Understood): Ready {
  const { plan, crossingCodes, output } = request;
  const expressions = expressionsOf(store, request.query);
  const [only] = compiled.clauses;
  const counting =
    output.kind === 'count' && compiled.clauses.length === 1 && only?.kind === 'match' && isPlain(only.match);
  const codes = new Set(crossingCodes);
  // Bodies of EXISTS come behind the matches of the clauses, each with as many as it has.
  const firstOf: number[] = [];
  let at = matchesOf(compiled.clauses).length;
  for (const body of compiled.inner) {
    firstOf.push(at);
    at += matchesOf(body).length;
  }
  const settings = {
    store,
    nodeTable: compiled.nodeTable,
    setTable: compiled.setTable,
    crossingCodes: codes,
    roaming: output.kind === 'segments' ? output.roaming : undefined,
    body: (number: number) => {
      const [clause, ...others] = compiled.inner[number]!;
      if (clause?.kind !== 'match' || others.length > 0) return undefined;
      return { match: clause.match, planned: plan[firstOf[number]!]! };
    },
  };
  const prepared = matches.map((match, i) => {
    const planned = plan[i]!;
    const counts =
      counting && i === 0 && planned.parts.every((part) => part.kind === 'search' && !part.byCandidates);
    return prepareMatch(match, planned, settings, { counting: counts, trace: request.trace });
  });
  const byCandidates = plan[0]?.parts.some((part) => part.kind === 'search' && part.byCandidates) ?? false;
  return {
    compiled,
    prepared,
    counting: counting && !byCandidates,
    output: (value) => expressions.output(value),
  };
}
