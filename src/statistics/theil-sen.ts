import quickselect from 'quickselect';
import { normalQuantile } from './distributions.ts';
import { requireFinite, requireLevel, requireSameLength } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import { pairOrder } from './pair-order.ts';
import type { Interval } from './proportion.ts';
import { median } from './quantile.ts';
import { varianceOfS } from './variance-of-s.ts';

/** A line through the middle of the data, robust against outliers. */
export interface RobustLine {
  readonly kind: 'robust-line';
  readonly n: number;
  /** Median of the slopes of all pairs of points; unit of the values by unit of the times. */
  readonly slope: number;
  readonly interval: Interval;
  /** Median of the values less slope times median of the times (Conover): the line's value at time 0. */
  readonly intercept: number;
}

/** All pairs of this many points are about eight million slopes, 64 MB and half a second. */
export const MAX_POINTS = 4000;

/**
 * Theil–Sen slope with Sen's interval, ties in either variable allowed (Sen, JASA 63, 1968, 1379-1389, section 5),
 * the variance with Kendall's correction for ties. The interval's ranks are rounded to the nearest whole, as SciPy's
 * theilslopes does.
 * @param times where each value stands; several may share a time. Left out: 0, 1, 2 …
 * @param options.widening factor on the standard error of S, such as the root of a design effect; 1 or more
 * @throws RangeError unless values and times are equally long and finite, and small enough for a slope to be finite;
 * 0 < level < 1; at most {@link MAX_POINTS} points
 */
export function theilSen(
  values: readonly number[],
  times: readonly number[] = values.map((_, at) => at),
  { level = 0.95, widening = 1 }: { readonly level?: number; readonly widening?: number } = {},
): RobustLine | NoData {
  requireSameLength(values, 'values', times, 'times');
  requireFinite(values, 'values');
  requireFinite(times, 'times');
  requireLevel(level);
  const n = values.length;
  if (n > MAX_POINTS) {
    throw new RangeError(
      `a Theil–Sen slope takes at most ${MAX_POINTS} points; there are ${n}. Take the median of each period first.`,
    );
  }
  const slopes = pairSlopes(values, times);
  // A selection among slopes of which some are NaN would never end.
  requireFinite(slopes, 'slopes');
  if (slopes.length === 0) return noData('a slope takes two points at different times');
  const error = widening * Math.sqrt(varianceOfS(pairOrder(times, values)));
  const reach = normalQuantile((1 + level) / 2) * error;
  const last = slopes.length - 1;
  const upper = Math.min(roundHalfEven((slopes.length + reach) / 2), last);
  const lower = Math.max(roundHalfEven((slopes.length - reach) / 2) - 1, 0);
  const middle = [Math.floor(last / 2), Math.ceil(last / 2)];
  const [low, first, second, high] = atRanks(slopes, [lower, ...middle, upper]);
  const slope = (first + second) / 2;
  return {
    kind: 'robust-line',
    n,
    slope,
    interval: { low, high },
    intercept: median(values) - slope * median(times),
  };
}

/** Slopes of all pairs at different times, in no order. */
function pairSlopes(values: readonly number[], times: readonly number[]): Float64Array {
  const n = values.length;
  const slopes = new Float64Array((n * (n - 1)) / 2);
  let count = 0;
  for (let a = 0; a < n; a++) {
    for (let b = a + 1; b < n; b++) {
      // Adding 0 makes a slope of -0 a plain 0.
      if (times[a] !== times[b]) slopes[count++] = (values[b] - values[a]) / (times[b] - times[a]) + 0;
    }
  }
  return slopes.subarray(0, count);
}

/** The values that would stand at the rising 0-based ranks if all were sorted; moves the values about. */
function atRanks(values: Float64Array, ranks: readonly number[]): readonly number[] {
  let from = 0;
  return ranks.map((rank) => {
    // quickselect reads and writes by index only, which a typed array allows as well as a list.
    quickselect(values as unknown as number[], rank, from);
    from = rank;
    return values[rank];
  });
}

/** To the nearest whole number, halves to the even one. */
function roundHalfEven(value: number): number {
  const below = Math.floor(value);
  if (value - below !== 0.5) return Math.round(value);
  return below % 2 === 0 ? below : below + 1;
}
