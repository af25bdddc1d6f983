/**
 * Matches segment by segment: for each grouped segment, what the pattern's variables are bound to in it.
 */
import { MatchReader, type SegmentMatch } from './bound-match.ts';
import { broughtForward } from './brought-forward.ts';
import { tablesIn } from './check/rows-by-matches.ts';
import { begin, planFor } from './engine.ts';
import type { PatternGraph } from './graph.ts';
import { lacksLabel, noteLabels } from './needed-labels.ts';
import { limitsOf, type QueryOptions } from './options.ts';
import type { Place } from './plan/pattern.ts';
import { PatternError, type PreparedPattern, preparedOn } from './prepared-pattern.ts';
import type { QueryPlan } from './search/plan-query.ts';
import type { SegmentMatches } from './search/request.ts';
import type { Shortage } from './search/stage.ts';
import { type Searched, shortageNote } from './shortage-note.ts';
import type { Snapshot } from './storage/snapshot.ts';
import { S } from './storage/store.ts';

export interface SegmentAnswer {
  readonly key: string;
  /** Matches in the segment; with `exactCounts: false` possibly only those returned. */
  readonly count: number;
  readonly matches: readonly SegmentMatch[];
  /** With `everyWay`, matches beyond those, each of which holds under other circumstances than all before. */
  readonly further: readonly SegmentMatch[];
  /** Whether matches under still other circumstances were left out, since there are too many. */
  readonly cut: boolean;
}

export interface BySegmentOptions extends QueryOptions {
  /** Matches to return for each segment. @default 100 */
  readonly matchesPerSegment?: number;
  /** Whether to count the matches that are not returned. @default true */
  readonly exactCounts?: boolean;
  /**
   * How many more matches to return of a segment, one for every other set of circumstances under which the pattern
   * matches in it (`further`): what its probability depends on. @default 0
   */
  readonly everyWay?: number;
  /**
   * Labels of nodes that may be in a grouped segment other than that of the match; all other nodes must be in the
   * segment of the match or in one that is not grouped, inside EXISTS too. Without it, edges may lead anywhere.
   */
  readonly roaming?: readonly string[] | undefined;
  /**
   * Label of edges that lead from a segment to nodes which roam and count as in it, wherever they are: a node of the pattern that no
   * edge ties to others may be one of these, too.
   */
  readonly home?: string | undefined;
  /** Keys of the grouped segments to search; matches may reach into others. @default all */
  readonly only?: ReadonlySet<string> | undefined;
  /** Key of the last segment seen; the answer continues after it. */
  readonly after?: string | undefined;
}

export interface BySegmentEnd {
  readonly complete: boolean;
  readonly shortage: Shortage | undefined;
  /** When it is not complete: how many of the grouped segments in which something may be found were searched. */
  readonly searched?: Searched | undefined;
  /** Why it is not complete, in words, with what was not searched. */
  readonly note?: string | undefined;
}

/** Segments that are searched before the first answer; later stretches grow. */
const FIRST_WINDOW = 256;
const LAST_WINDOW = 16_384;

/**
 * Goes through the grouped segments in the order of their keys and yields those with a match, as the graph was when the
 * first was requested. The pattern must begin with MATCH. With `roaming`, a match of its first MATCH belongs to the segment
 * that its nodes are in which do not roam, or, when all of them roam, to each segment that one of them is in: it does not
 * matter which comes first in the text. Without it, it belongs to the segment of the first node that is in a grouped one.
 * Nodes without an edge to these are searched in the same segment and at the ends of its edges of the label `home`, or in segments that are
 * not grouped. RETURN is ignored.
 *
 * Memory is held until the last answer has been taken or the generator is returned, which `for await` does.
 */
export function matchBySegment(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: BySegmentOptions = {},
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  return searchedSegments(graph, options, () => {
    limitsOf(options);
    options.align?.();
    const prepared = preparedOn(graph, pattern, options);
    const snapshot = graph.snapshot(options.segments);
    const done = () => snapshot.release();
    try {
      return { ...segmentSearch(graph, prepared, options, snapshot), done };
    } catch (error) {
      done();
      throw error;
    }
  });
}

/** All matching segments at once, with the number of matches of each. */
export async function countBySegment(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: BySegmentOptions = {},
): Promise<BySegmentEnd & { readonly counts: ReadonlyMap<string, number> }> {
  limitsOf(options);
  options.align?.();
  const prepared = preparedOn(graph, pattern, options);
  using snapshot = graph.snapshot(options.segments);
  return await countedSegments(graph, segmentSearch(graph, prepared, options, snapshot), options);
}

/** A search that has been planned; it sees the graph as the snapshot has it. */
export interface SegmentSearch {
  readonly prepared: PreparedPattern;
  readonly snapshot: Snapshot;
  readonly relaxation: number | undefined;
  /** With the segments to search; one for each node that a search has to start from, none when nothing can be found. */
  readonly plans: readonly QueryPlan[];
  /** Segments that are not grouped. */
  readonly others: Int32Array;
}

/**
 * Plans a search over a snapshot that has just been taken.
 * @param relaxation number of a near pattern; see `relaxations`
 */
export function segmentSearch(
  graph: PatternGraph,
  prepared: PreparedPattern,
  options: BySegmentOptions,
  snapshot: Snapshot,
  relaxation?: number,
): SegmentSearch {
  const problems = tablesIn(prepared);
  if (problems.length > 0) throw new PatternError(problems);
  const nothing = { prepared, snapshot, relaxation, plans: [], others: new Int32Array(0) };
  if (lacksLabel(graph, prepared.text, relaxation)) return nothing;
  const near = relaxation === undefined ? {} : { relaxation };
  const { roaming } = options;
  let text = prepared;
  let first = planFor(graph, text, options, snapshot, { ...near, bySegment: { roaming } });
  if (!first.isAnchored && relaxation === undefined)
    for (const other of broughtForward(prepared)) {
      const planned = planFor(graph, other, options, snapshot, { bySegment: { roaming } });
      if (planned.isAnchored || first.anchors.length === 0) [text, first] = [other, planned];
      if (first.isAnchored) break;
    }
  const search = { prepared: text, snapshot, relaxation };
  noteLabels(prepared.text, relaxation, first.compiled);
  const plans = first.anchors.flatMap((_, anchor) => {
    const planned =
      anchor === 0
        ? first
        : planFor(graph, text, options, snapshot, { ...near, bySegment: { roaming, anchor } });
    const arranged = arrangedOnce(graph, planned, options);
    return segmentsOf(arranged).length === 0 ? [] : [arranged];
  });
  if (plans.length === 0) return nothing;
  return { ...search, plans, others: graph.ungroupedSlots(snapshot.visible) };
}

/**
 * What a search finds, segment by segment.
 * @param plan makes the search, when the first answer is requested
 */
export async function* searchedSegments(
  graph: PatternGraph,
  options: BySegmentOptions,
  plan: () => SegmentSearch & { readonly done?: () => void },
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  const search = plan();
  try {
    const { plans } = search;
    if (plans.length === 0) return { complete: true, shortage: undefined };
    if (plans.length === 1) return yield* foundBy(graph, search, plans[0]!, options);
    const { rows, ...budgets } = options.budgets ?? {};
    return yield* joined(
      graph,
      plans.map((planned) => foundBy(graph, search, planned, { ...options, budgets })),
      { most: options.matchesPerSegment ?? 100, rows },
      search,
    );
  } finally {
    search.done?.();
  }
}

/** What searches find that start from different nodes, by segment. */
async function* joined(
  graph: PatternGraph,
  searches: readonly AsyncGenerator<SegmentAnswer, BySegmentEnd, void>[],
  { most, rows }: { readonly most: number; readonly rows: number | undefined },
  { plans, prepared }: SegmentSearch,
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  try {
    const heads = await Promise.all(searches.map((search) => search.next()));
    for (let given = 0; ; given++) {
      // Behind where one search stopped, others have not found everything.
      const cut = heads.find((head) => head.done && !head.value.complete);
      if (cut?.done) return cut.value;
      const keys = heads.flatMap((head) => (head.done ? [] : [head.value.key]));
      if (keys.length === 0) return { complete: true, shortage: undefined };
      if (given === rows) {
        const all = { segments: given, of: Math.max(...plans.map((planned) => segmentsOf(planned).length)) };
        const note = shortageNote('rows', prepared.text, graph.segmentsName, all, undefined);
        return { complete: false, shortage: 'rows', searched: all, note };
      }
      const key = keys.sort()[0]!;
      const answers: SegmentAnswer[] = [];
      for (const [at, head] of heads.entries()) {
        if (head.done || head.value.key !== key) continue;
        answers.push(head.value);
        heads[at] = await searches[at]!.next();
      }
      yield answers.length === 1 ? answers[0]! : together(key, answers, most);
    }
  } finally {
    for (const search of searches) await search.return({ complete: false, shortage: undefined });
  }
}

function together(key: string, answers: readonly SegmentAnswer[], most: number): SegmentAnswer {
  const matches = answers.flatMap((answer) => answer.matches);
  return {
    key,
    count: answers.reduce((sum, { count }) => sum + count, 0),
    matches: matches.slice(0, most),
    further: [...matches.slice(most), ...answers.flatMap(({ further }) => further)],
    cut: answers.some(({ cut }) => cut),
  };
}

/** What the search of one plan finds. */
async function* foundBy(
  graph: PatternGraph,
  search: SegmentSearch,
  planned: QueryPlan,
  options: BySegmentOptions,
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  const start = performance.now();
  const { snapshot } = search;
  const time = options.budgets?.time;
  const total = segmentsOf(planned).length;
  const reader = new MatchReader(graph, snapshot, planned.compiled);
  let from = 0;
  let window = FIRST_WINDOW;
  let given = 0;
  for (;;) {
    const left = time === undefined ? undefined : Math.max(1, time - (performance.now() - start));
    const budgets = { ...options.budgets, ...(left === undefined ? {} : { time: left }) };
    const stretch = { from, to: from + window };
    const { found, shortage, searched, stoppedIn } = await foundIn(
      graph,
      search,
      planned,
      { ...options, budgets },
      stretch,
    );
    const ended = (why: Shortage, segments: number): BySegmentEnd => {
      const all = { segments: from + segments, of: total };
      const note = shortageNote(why, search.prepared.text, graph.segmentsName, all, stoppedIn);
      return { complete: false, shortage: why, searched: all, note };
    };
    for (const { segment, count, matches, further, cut } of found) {
      const read = reader.matches(segment, [...matches, ...further]);
      yield {
        key: graph.segmentKey(segment),
        count,
        matches: read.slice(0, matches.length),
        further: read.slice(matches.length),
        cut,
      };
      given++;
      if (options.budgets?.rows !== undefined && given >= options.budgets.rows)
        return ended('rows', segmentsOf(planned).indexOf(segment, from) + 1 - from);
    }
    if (shortage) return ended(shortage, searched);
    from += window;
    if (from >= total) return { complete: true, shortage: undefined };
    window = Math.min(LAST_WINDOW, window * 4);
  }
}

/** The number of matches in each segment with some. */
export async function countedSegments(
  graph: PatternGraph,
  search: SegmentSearch,
  options: BySegmentOptions,
): Promise<BySegmentEnd & { readonly counts: ReadonlyMap<string, number> }> {
  const counts = new Map<string, number>();
  const all = { from: 0, to: Number.POSITIVE_INFINITY };
  const counting = { ...options, matchesPerSegment: 0 };
  for (const planned of search.plans) {
    const { found, shortage, searched, stoppedIn } = await foundIn(graph, search, planned, counting, all);
    for (const { segment, count } of found) {
      const key = graph.segmentKey(segment);
      counts.set(key, (counts.get(key) ?? 0) + count);
    }
    if (!shortage) continue;
    const done = { segments: searched, of: segmentsOf(planned).length };
    const note = shortageNote(shortage, search.prepared.text, graph.segmentsName, done, stoppedIn);
    return { counts, complete: false, shortage, searched: done, note };
  }
  return { counts, complete: true, shortage: undefined };
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Matches in a stretch of the segments, in the order of the segments' keys. */
async function foundIn(
  graph: PatternGraph,
  { prepared, snapshot, relaxation, others }: SegmentSearch,
  planned: QueryPlan,
  options: BySegmentOptions,
  stretch: Stretch,
): Promise<{
  found: readonly SegmentMatches[];
  shortage: Shortage | undefined;
  /** Segments of the stretch that were searched to the end. */
  searched: number;
  stoppedIn: Place | undefined;
}> {
  const batches: { readonly from: number; readonly found: readonly SegmentMatches[] }[] = [];
  const { roaming, home } = options;
  const running = begin(
    graph,
    prepared,
    options,
    {
      kind: 'segments',
      matches: options.matchesPerSegment ?? 100,
      exact: options.exactCounts ?? true,
      everyWay: options.everyWay ?? 0,
      others,
      roaming,
      home,
      foundBy: planned.anchors.slice(0, planned.anchor),
    },
    {
      snapshot,
      planned: cut(planned, stretch),
      bySegment: { roaming },
      ...(relaxation === undefined ? {} : { relaxation }),
    },
  );
  const { shortage, searched, stoppedIn } = await running.run((batch) => {
    if (batch.kind === 'segments' && batch.found.length > 0) batches.push(batch);
  });
  // Threads take stretches of the list in any order.
  batches.sort((a, b) => a.from - b.from);
  return {
    found: batches.flatMap(({ found }) => found),
    shortage,
    searched: searched?.segments ?? 0,
    stoppedIn,
  };
}

/** The last arrangement of each plan: the windows of one search follow one another. */
const arrangements = new WeakMap<
  QueryPlan,
  Pick<BySegmentOptions, 'after' | 'only'> & { readonly arranged: QueryPlan }
>();

function arrangedOnce(graph: PatternGraph, planned: QueryPlan, options: BySegmentOptions): QueryPlan {
  const { after, only } = options;
  const last = arrangements.get(planned);
  if (last && last.after === after && last.only === only) return last.arranged;
  const arranged = inOrder(graph, planned, options);
  arrangements.set(planned, { after, only, arranged });
  return arranged;
}

/** Grouped segments to search, in the order of their keys, after the cursor. */
function inOrder(graph: PatternGraph, planned: QueryPlan, { after, only }: BySegmentOptions): QueryPlan {
  const [first, ...rest] = planned.plan;
  const [part, ...parts] = first!.parts;
  if (part?.kind !== 'search' || part.scans.length === 0)
    throw new Error('A pattern that is matched segment by segment has to begin with a search');
  const { rank, keys } = graph.segmentRanks();
  const slots = [...part.scans[0]!].filter(
    (slot) =>
      graph.store.segmentField(slot, S.grouped) === 1 &&
      (after === undefined || keys[rank[slot]!]! > after) &&
      (only === undefined || only.has(keys[rank[slot]!]!)),
  );
  slots.sort((a, b) => rank[a]! - rank[b]!);
  const scans = [Int32Array.from(slots), ...part.scans.slice(1)];
  return { ...planned, plan: [{ ...first!, parts: [{ ...part, scans }, ...parts] }, ...rest] };
}

/** Segments that the search goes through. */
function segmentsOf({ plan }: QueryPlan): Int32Array {
  const [part] = plan[0]!.parts;
  return part?.kind === 'search' ? part.scans[0]! : new Int32Array(0);
}

function cut(planned: QueryPlan, { from, to }: Stretch): QueryPlan {
  const [first, ...rest] = planned.plan;
  const [part, ...parts] = first!.parts;
  if (part?.kind !== 'search') return planned;
  const whole = part.scans[0]!;
  const scans = [whole.slice(from, Math.min(to, whole.length)), ...part.scans.slice(1)];
  const share = scans[0]!.length / Math.max(1, whole.length);
  return {
    ...planned,
    cost: planned.cost * share,
    plan: [{ ...first!, parts: [{ ...part, scans }, ...parts] }, ...rest],
  };
}
