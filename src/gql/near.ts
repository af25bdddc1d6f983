/**
 * Near matches: segments that would match but for one node, one edge or one condition.
 */
import type { SegmentMatch } from './bound-match.ts';
import {
  type BySegmentOptions,
  countedSegments,
  type SegmentSearch,
  searchedSegments,
  segmentSearch,
} from './by-segment.ts';
import type { PatternGraph } from './graph.ts';
import { limitsOf } from './options.ts';
import { type Removed, relaxations } from './plan/near-patterns.ts';
import { PlanningClock } from './plan/planning-clock.ts';
import { type PreparedPattern, preparedOn } from './prepared-pattern.ts';
import type { Shortage } from './search/stage.ts';
import { shortageNote } from './shortage-note.ts';

export interface NearMatch {
  readonly key: string;
  /** Each of these alone prevents a match. Conditions come before edges, edges before nodes. */
  readonly missing: readonly {
    /** What was removed: kind, variable and place in the text. */
    readonly removed: Removed;
    /** A match of what is left. */
    readonly example: SegmentMatch | undefined;
  }[];
}

export interface NearOptions extends BySegmentOptions {
  /** Missing things listed for each segment. @default 3 */
  readonly missingPerSegment?: number;
}

export interface NearEnd {
  readonly matches: readonly NearMatch[];
  readonly complete: boolean;
  readonly shortage: Shortage | undefined;
  /** Why it is not complete, in words, with what was not tried. */
  readonly note: string | undefined;
}

/**
 * Grouped segments without a match that have one when one element or condition of the pattern is left out, in the order
 * of their keys. A node is only listed when neither removing an edge nor a condition at it would do, since without the
 * node these are gone too. The time budget is for the complete search.
 */
export async function nearMatches(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: NearOptions = {},
): Promise<NearEnd> {
  const time = options.budgets?.time ?? 5_000;
  limitsOf(options);
  const start = performance.now();
  options.align?.();
  const prepared = preparedOn(graph, pattern, options);
  using snapshot = graph.snapshot(options.segments);
  const exactly = { ...options, exactCounts: false, matchesPerSegment: 0 };
  const roughly = { ...options, exactCounts: false, matchesPerSegment: 1, after: undefined };
  const exactSearch = segmentSearch(graph, prepared, exactly, snapshot);
  // All are planned before anything else can change the graph, so that all are of the graph as it is now. For a large
  // pattern that takes several turns; what is not planned when the graph changes is not searched.
  const ways = relaxations(prepared.tree);
  const relaxed: { readonly removed: Removed; readonly search: SegmentSearch }[] = [];
  const { version } = graph;
  let clock = new PlanningClock();
  let planned = 0;
  for (const { removed, query } of ways) {
    if (clock.isLate) {
      await new Promise(setImmediate);
      if (graph.version !== version || performance.now() - start > time || options.signal?.aborted) break;
      clock = new PlanningClock();
    }
    planned++;
    if (query())
      relaxed.push({ removed, search: segmentSearch(graph, prepared, roughly, snapshot, planned - 1) });
  }
  const timeLeft = () => ({
    budgets: { ...options.budgets, time: Math.max(1, time - (performance.now() - start)) },
  });

  const exact = await countedSegments(graph, exactSearch, { ...exactly, ...timeLeft() });
  if (!exact.complete) return { matches: [], complete: false, shortage: exact.shortage, note: exact.note };
  const found = new Map<string, { removed: Removed; example: SegmentMatch | undefined }[]>();
  const most = options.missingPerSegment ?? 3;
  let shortage: Shortage | undefined;
  let tried = 0;
  for (const { removed, search } of relaxed) {
    if (options.signal?.aborted) shortage = 'cancelled';
    else if (performance.now() - start > time) shortage = 'time';
    if (shortage) break;
    const answers = searchedSegments(graph, { ...roughly, ...timeLeft() }, () => search);
    for (;;) {
      const next = await answers.next();
      if (next.done) {
        shortage = next.value.shortage;
        break;
      }
      const { key, matches } = next.value;
      if (exact.counts.has(key) || (options.after !== undefined && key <= options.after)) continue;
      let missing = found.get(key);
      if (!missing) {
        missing = [];
        found.set(key, missing);
      }
      const implied = removed.kind === 'node' && missing.length > 0;
      if (!implied && missing.length < most) missing.push({ removed, example: matches[0] });
    }
    if (shortage) break;
    tried++;
  }
  if (planned < ways.length) shortage ??= options.signal?.aborted ? 'cancelled' : 'time';
  const left = `Left out one by one: ${tried} of ${ways.length} nodes, edges and conditions.`;
  const matches = [...found]
    .filter(([, missing]) => missing.length > 0)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, missing]) => ({ key, missing }));
  const { segmentsName } = graph;
  const note =
    shortage && `${shortageNote(shortage, prepared.text, segmentsName, undefined, undefined)} ${left}`;
  return { matches, complete: shortage === undefined, shortage, note };
}
