import { CasebackError } from '../../model/problems.ts';
import { Pace } from '../../state/pace.ts';
import { editDistance, MAX_EDIT_NODES } from './edit-distance.ts';
import { type Edits, editsOf } from './edits.ts';
import type { LabelledGraph } from './labelled-graph.ts';
import { leastChanges } from './lower-bound.ts';
import { packedPair } from './packed-pair.ts';
import { goodMappings } from './upper-bound.ts';

/** Nodes that either graph may have; work and memory grow with the product of both. */
export const MAX_NODES = 1_500;

/** How a range was found: by a search of all mappings, by bounds that meet, or by bounds that do not. */
export const RANGE_METHODS = ['search', 'bounds-meet', 'bounds'] as const;
export type RangeMethod = (typeof RANGE_METHODS)[number];

/** Between how many changes two graphs are apart, and the fewest that were found. */
export interface DistanceRange {
  readonly atLeast: number;
  readonly atMost: number;
  readonly method: RangeMethod;
  /** Changes that do it, as many as `atMost`. */
  readonly edits: Edits;
}

/**
 * The edit distance of two graphs at unit costs: exact where both have at most 16 nodes or where the bounds meet, else the
 * range in which it lies. Lower bound: BRANCH, tightened (`lower-bound.ts`); upper bound: bipartite assignment, refined
 * (`upper-bound.ts`), from either graph to the other. The range is the same in both directions.
 * @param mostSteps of the exact search, after which the bounds are answered
 * @throws CasebackError TOO_LARGE for more than 1,500 nodes; the signal's reason
 */
export async function distanceRange(
  a: LabelledGraph,
  b: LabelledGraph,
  { signal, mostSteps }: { readonly signal?: AbortSignal; readonly mostSteps?: number } = {},
): Promise<DistanceRange> {
  const larger = Math.max(a.labels.length, b.labels.length);
  if (larger > MAX_NODES) {
    throw new CasebackError(
      'TOO_LARGE',
      `a graph of ${larger} nodes is too large for bounds of the edit distance (at most ${MAX_NODES}); compare one subsystem`,
    );
  }
  const pace = new Pace(signal);
  await pace.rest();
  const edits = await fewestFound(a, b, pace);
  const atLeast = await bestBound(a, b, edits.distance, pace);
  if (atLeast === edits.distance) return { atLeast, atMost: atLeast, method: 'bounds-meet', edits };
  if (larger <= MAX_EDIT_NODES) {
    const found = await searched(a, b, { becomes: edits.becomes, atLeast }, mostSteps, signal);
    if (found) return { atLeast: found.distance, atMost: found.distance, method: 'search', edits: found };
  }
  return { atLeast, atMost: edits.distance, method: 'bounds', edits };
}

/** The fewest changes that heuristics find, from the first to the second and back. */
async function fewestFound(a: LabelledGraph, b: LabelledGraph, pace: Pace): Promise<Edits> {
  const best = async (from: LabelledGraph, to: LabelledGraph) => {
    let fewest = editsOf(
      from,
      to,
      from.labels.map(() => -1),
    );
    for (const mapping of goodMappings(packedPair(from, to))) {
      const edits = editsOf(from, to, [...mapping]);
      if (edits.distance < fewest.distance) fewest = edits;
      if (pace.due) await pace.rest();
    }
    return fewest;
  };
  const there = await best(a, b);
  const back = await best(b, a);
  if (back.distance >= there.distance) return there;
  const turned = a.labels.map(() => -1);
  back.becomes.forEach((to, node) => {
    if (to >= 0) turned[to] = node;
  });
  return editsOf(a, b, turned);
}

/** The highest lower bound, or `enough` when it is reached. The smaller graph comes first, so that order changes nothing. */
async function bestBound(a: LabelledGraph, b: LabelledGraph, enough: number, pace: Pace): Promise<number> {
  const [first, second] = [a, b].map((graph) => JSON.stringify(graph));
  const pair =
    (a.labels.length - b.labels.length || (first < second ? -1 : 1)) < 0
      ? packedPair(a, b)
      : packedPair(b, a);
  let atLeast = 0;
  for (const bound of leastChanges(pair)) {
    atLeast = bound;
    if (atLeast >= enough) break;
    if (pace.due) await pace.rest();
  }
  return atLeast;
}

async function searched(
  a: LabelledGraph,
  b: LabelledGraph,
  known: { readonly becomes: readonly number[]; readonly atLeast: number },
  mostSteps: number | undefined,
  signal: AbortSignal | undefined,
): Promise<Edits | undefined> {
  try {
    return await editDistance(a, b, { signal, mostSteps, known });
  } catch (thrown) {
    if (thrown instanceof CasebackError && thrown.code === 'OUT_OF_BUDGET') return undefined;
    throw thrown;
  }
}
