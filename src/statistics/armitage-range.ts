import { requireCount, requireFinite } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import type { Interval } from './proportion.ts';

/** Smallest and largest z. */
export interface ArmitageRange extends Interval {
  readonly kind: 'z-range';
}

/** A group of a series of shares, some of whose members may be a success or a failure. */
export interface OpenGroup {
  readonly score: number;
  readonly successes: number;
  readonly failures: number;
  /** Members that may turn out either way. */
  readonly open: number;
}

/**
 * The smallest and largest z of the Cochran–Armitage test over every way in which the open members may turn out; exact.
 * Of all ways with the same number of successes z is smallest where these have the lowest scores, so that only as many ways
 * as there are open members need to be looked at, and one. (Bounds instead of a guess for what is missing: Manski, Partial
 * Identification of Probability Distributions, 2003, chapter 1.) A way in which nothing varies counts as z = 0.
 * @throws RangeError unless counts are whole and 0 or more, and scores are finite
 */
export function armitageRange(groups: readonly OpenGroup[]): ArmitageRange | NoData {
  requireFinite(
    groups.map(({ score }) => score),
    'score',
  );
  for (const { successes, failures, open } of groups) {
    requireCount(successes, 'the number of successes');
    requireCount(failures, 'the number of failures');
    requireCount(open, 'the number of open members');
  }
  const size = ({ successes, failures, open }: OpenGroup) => successes + failures + open;
  const n = groups.reduce((sum, group) => sum + size(group), 0);
  if (n === 0) return noData('nothing was counted');
  const mean = groups.reduce((sum, group) => sum + group.score * size(group), 0) / n;
  const spread = groups.reduce((sum, group) => sum + (group.score - mean) ** 2 * size(group), 0);
  if (spread === 0) return noData('a trend takes two groups of different score, each with members');
  const rising = groups.toSorted((a, b) => a.score - b.score);
  const z = (count: number, excess: number) =>
    count === 0 || count === n ? 0 : excess / Math.sqrt((count / n) * (1 - count / n) * spread);
  const extreme = (order: readonly OpenGroup[], of: (a: number, b: number) => number) => {
    let count = groups.reduce((sum, { successes }) => sum + successes, 0);
    let excess = groups.reduce((sum, { score, successes }) => sum + (score - mean) * successes, 0);
    let found = z(count, excess);
    for (const { score, open } of order)
      for (let at = 0; at < open; at++) {
        count++;
        excess += score - mean;
        found = of(found, z(count, excess));
      }
    return found;
  };
  return {
    kind: 'z-range',
    low: extreme(rising, Math.min),
    high: extreme(rising.toReversed(), Math.max),
  };
}
