import { binomialAtMost } from './distributions.ts';
import { requireLevel } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import type { Interval } from './proportion.ts';
import { quantileOfSorted, sorted } from './quantile.ts';

/** A median with the two data values that bound it. */
export interface MedianInterval extends Interval {
  readonly kind: 'median';
  readonly n: number;
  readonly median: number;
  /** 1-based ranks of `low` and `high` among the ordered values. */
  readonly rankLow: number;
  readonly rankHigh: number;
  /** Probability that such an interval holds the median of a continuous distribution; at least the level asked. */
  readonly coverage: number;
}

/** A median of too few values for an interval: even the extremes do not reach the level. */
export interface MedianOnly {
  readonly kind: 'median-only';
  readonly n: number;
  readonly median: number;
  /** How many values an interval of this level takes. */
  readonly needed: number;
}

/**
 * Median and its order-statistic interval, free of any assumption on the distribution (Conover, Practical
 * Nonparametric Statistics, section 3.2): ranks r and n - r + 1 with r the largest such that
 * P(Bin(n, 1/2) < r) <= (1 - level) / 2.
 * @param values any order, one unit; what is missing left out
 * @throws RangeError with a value that is not finite, or a level outside (0, 1)
 */
export function medianInterval(
  values: readonly number[],
  level = 0.95,
): MedianInterval | MedianOnly | NoData {
  requireLevel(level);
  if (values.length === 0) return noData('there is no value to take a median of');
  const ordered = sorted(values);
  const n = ordered.length;
  const median = quantileOfSorted(ordered, 0.5);
  const tail = (1 - level) / 2;
  const rankLow = largestRank(n, tail);
  if (rankLow === 0) return { kind: 'median-only', n, median, needed: Math.ceil(-Math.log2(tail)) };
  const rankHigh = n - rankLow + 1;
  const coverage = 1 - 2 * binomialAtMost(rankLow - 1, n, 0.5);
  return {
    kind: 'median',
    n,
    median,
    low: ordered[rankLow - 1],
    high: ordered[rankHigh - 1],
    rankLow,
    rankHigh,
    coverage,
  };
}

/** The largest r up to the middle with P(Bin(n, 1/2) < r) <= tail, by halving. */
function largestRank(n: number, tail: number): number {
  let low = 0;
  let high = Math.floor((n + 1) / 2);
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (binomialAtMost(middle - 1, n, 0.5) <= tail) low = middle;
    else high = middle - 1;
  }
  return low;
}
