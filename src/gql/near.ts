/**
 * Near matches: segments that would match but for one node, one edge or one condition.
 */
import type { SegmentMatch } from './bound-match.ts';
import { type BySegmentOptions, countBySegment, matchBySegment } from './by-segment.ts';
import { checked } from './checked.ts';
import type { PatternGraph } from './graph.ts';
import { parsed } from './plan/parsed.ts';
import { type Removed, relaxations } from './plan/relax.ts';
import type { Shortage } from './search/stage.ts';

export interface NearMatch {
  readonly key: string;
  /** Each of these alone stands in the way. Conditions come before edges, edges before nodes. */
  readonly missing: readonly {
    /** What was taken out: kind, variable, and where it stands in the text. */
    readonly removed: Removed;
    /** A match of what is left. */
    readonly example: SegmentMatch | undefined;
  }[];
}

export interface NearOptions extends BySegmentOptions {
  /** Things that may stand in the way that are named for one segment. @default 3 */
  readonly missingPerSegment?: number;
}

export interface NearEnd {
  readonly matches: readonly NearMatch[];
  readonly complete: boolean;
  readonly shortage: Shortage | undefined;
}

/**
 * Grouped segments without a match that have one when one element or condition of the pattern is left out, in the
 * order of their keys. A node is only named when neither an edge nor a condition at it would do, since without the
 * node these are gone too. The time budget is for all of it.
 */
export async function nearMatches(
  graph: PatternGraph,
  text: string,
  options: NearOptions = {},
): Promise<NearEnd> {
  checked(graph, text, options);
  const start = performance.now();
  const segments = options.segments && [...options.segments];
  const time = options.budgets?.time ?? 5_000;
  const left = (): BySegmentOptions => ({
    ...options,
    segments,
    budgets: { ...options.budgets, time: Math.max(1, time - (performance.now() - start)) },
  });
  const exact = await countBySegment(graph, text, { ...left(), exactCounts: false, matchesPerSegment: 0 });
  if (!exact.complete) return { matches: [], complete: false, shortage: exact.shortage };
  const found = new Map<string, { removed: Removed; example: SegmentMatch | undefined }[]>();
  const most = options.missingPerSegment ?? 3;
  const all = relaxations(parsed(text));
  let shortage: Shortage | undefined;
  for (let number = 0; number < all.length && !shortage; number++) {
    const { removed } = all[number]!;
    const answers = matchBySegment(
      graph,
      text,
      { ...left(), matchesPerSegment: 1, exactCounts: false, after: undefined },
      { relaxation: number },
    );
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
  }
  const matches = [...found]
    .filter(([, missing]) => missing.length > 0)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, missing]) => ({ key, missing }));
  return { matches, complete: shortage === undefined, shortage };
}
