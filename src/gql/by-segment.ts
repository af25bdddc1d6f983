/**
 * Matches segment by segment: for each grouped segment, what the pattern's variables are bound to in it.
 */
import { MatchReader, type SegmentMatch } from './bound-match.ts';
import { checked } from './checked.ts';
import { type BeginExtras, begin, planFor, settled } from './engine.ts';
import type { PatternGraph } from './graph.ts';
import { lacksLabel, noteLabels } from './needed-labels.ts';
import { limitsOf, type QueryOptions } from './options.ts';
import type { SegmentMatches } from './search/execute.ts';
import type { QueryPlan } from './search/plan-query.ts';
import type { Shortage } from './search/stage.ts';
import { S } from './storage/store.ts';

export interface SegmentAnswer {
  readonly key: string;
  /** Matches in the segment; with `exactCounts: false` possibly only those handed out. */
  readonly count: number;
  readonly matches: readonly SegmentMatch[];
}

export interface BySegmentOptions extends QueryOptions {
  /** Matches to hand out for each segment. @default 100 */
  readonly matchesPerSegment?: number;
  /** Whether to count the matches that are not handed out. @default true */
  readonly exactCounts?: boolean;
  /**
   * Labels of nodes that may stand in another grouped segment than the one that a match belongs to; all other nodes
   * have to be in that one, or in one that is not grouped, inside EXISTS too. Without it, edges may lead anywhere.
   */
  readonly roaming?: readonly string[] | undefined;
  /** Keys of the grouped segments whose matches are wanted, which may reach into others; all when not given. */
  readonly only?: ReadonlySet<string> | undefined;
  /** Key of the last segment that was seen; the answer goes on behind it. */
  readonly after?: string | undefined;
}

export interface BySegmentEnd {
  readonly complete: boolean;
  readonly shortage: Shortage | undefined;
}

function listOf(keys: Iterable<string>): Iterable<string> {
  return Array.isArray(keys) ? keys : [...keys];
}

/** Segments that are searched before the first answer; later stretches grow. */
const FIRST_WINDOW = 256;
const LAST_WINDOW = 16_384;

/**
 * Goes through the grouped segments in the order of their keys and answers those with a match. The pattern has to
 * begin with MATCH; a match belongs to the segment of its first node pattern that can stand in a grouped segment.
 * Nodes that no edge ties to that one are looked for in the same segment, or in one that is not grouped. What RETURN
 * says is not looked at.
 */
export async function* matchBySegment(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions = {},
  extras: BeginExtras = {},
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  const start = performance.now();
  const time = options.budgets?.time;
  // An iterable may be gone after one pass; the same array each time also keeps the plan.
  const segments = options.segments && listOf(options.segments);
  let from = 0;
  let window = FIRST_WINDOW;
  let given = 0;
  for (;;) {
    const left = time === undefined ? undefined : Math.max(1, time - (performance.now() - start));
    const step = await segmentWindow(
      graph,
      text,
      {
        ...options,
        segments,
        budgets: { ...options.budgets, ...(left === undefined ? {} : { time: left }) },
      },
      { from, to: from + window },
      extras,
    );
    for (const answer of step.answers) {
      yield answer;
      given++;
      if (options.budgets?.rows !== undefined && given >= options.budgets.rows)
        return { complete: false, shortage: 'rows' };
    }
    if (step.shortage) return { complete: false, shortage: step.shortage };
    from += window;
    if (from >= step.total) return { complete: true, shortage: undefined };
    window = Math.min(LAST_WINDOW, window * 4);
  }
}

/** All matching segments at once, with the number of matches of each. */
export async function countBySegment(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions = {},
  extras: BeginExtras = {},
): Promise<BySegmentEnd & { readonly counts: ReadonlyMap<string, number> }> {
  const all = { from: 0, to: Number.POSITIVE_INFINITY };
  const step = await segmentWindow(graph, text, { ...options, matchesPerSegment: 0 }, all, extras);
  return {
    counts: new Map(step.answers.map(({ key, count }) => [key, count])),
    complete: step.shortage === undefined,
    shortage: step.shortage,
  };
}

interface Window {
  readonly from: number;
  readonly to: number;
}

async function segmentWindow(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions,
  window: Window,
  extras: BeginExtras,
): Promise<{ answers: SegmentAnswer[]; total: number; shortage: Shortage | undefined }> {
  const found: SegmentMatches[] = [];
  let total = 0;
  limitsOf(options);
  checked(graph, text, options);
  if (lacksLabel(graph, text, extras.relaxation)) return { answers: [], total, shortage: undefined };
  const bySegment = { roaming: options.roaming };
  const planned = planFor(graph, text, options, { ...extras, bySegment });
  noteLabels(text, extras.relaxation, planned.compiled);
  if (planned.anchor === undefined || segmentsOf(arrangedOnce(graph, planned, options)).length === 0)
    return { answers: [], total, shortage: undefined };
  const others = graph.ungroupedSlots(options.segments);
  const make = () =>
    begin(
      graph,
      text,
      options,
      {
        kind: 'segments',
        matches: options.matchesPerSegment ?? 100,
        exact: options.exactCounts ?? true,
        others,
        roaming: options.roaming,
      },
      {
        ...extras,
        bySegment,
        arrange: (planned) => {
          const arranged = arrangedOnce(graph, planned, options);
          total = segmentsOf(arranged).length;
          return cut(arranged, window);
        },
      },
    );
  const { running, outcome } = await settled(
    make,
    (batch) => {
      if (batch.kind === 'segments') found.push(...batch.found);
    },
    () => {
      found.length = 0;
    },
  );
  const keys = new Map(found.map(({ segment }) => [segment, graph.segmentKey(segment)]));
  const sorted = found.sort((a, b) => (keys.get(a.segment)! < keys.get(b.segment)! ? -1 : 1));
  const reader = new MatchReader(graph, running.planned.compiled);
  const answers = sorted.map(({ segment, count, matches }) => ({
    key: keys.get(segment)!,
    count,
    matches: reader.matches(matches),
  }));
  return { answers, total, shortage: outcome.shortage };
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

/** Grouped segments only, those wanted, in the order of their keys, behind the cursor. */
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

function cut(planned: QueryPlan, { from, to }: Window): QueryPlan {
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
