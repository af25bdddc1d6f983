import { requireFinite, requireSameLength } from './domain.ts';
import { pairOrder } from './pair-order.ts';
import type { Interval } from './proportion.ts';
import { varianceOfS } from './variance-of-s.ts';

/** Comparisons that the bound may take; beyond, nothing is said. Some 0.2 s. */
const BUDGET = 10_000_000;

/**
 * Bounds of Kendall's S over every choice of values from a range each, and the largest variance that S has under any.
 *
 * S is the sum over pairs. Pairs of fixed values are counted; each open value takes the best of its range against all fixed
 * ones; of two open values the better of what their ranges allow counts. That is a bound, which need not be reached. The
 * variance of S is largest with the fewest ties: only fixed values that are equal stay tied (breaking ties at random adds
 * variance, and gives the distribution without them).
 * @param times finite; several may be equal
 * @param lows lower end of each value's range, −∞ where there is none; @param highs upper end, +∞ where there is none
 */
export function kendallRange(
  times: readonly number[],
  lows: readonly number[],
  highs: readonly number[],
): { readonly s: Interval; readonly variance: number } {
  requireSameLength(times, 'times', lows, 'lows');
  requireSameLength(times, 'times', highs, 'highs');
  requireFinite(times, 'times');
  const fixed: number[] = [];
  const open: number[] = [];
  lows.forEach((low, at) => {
    (low === highs[at] ? fixed : open).push(at);
  });
  const known = pairOrder(
    fixed.map((at) => times[at]),
    fixed.map((at) => lows[at]),
  );
  if (open.length * times.length > BUDGET)
    return { s: { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY }, variance: 0 };
  const byValue = fixed.toSorted((a, b) => lows[a] - lows[b]);
  let low = known.s;
  let high = known.s;
  for (const at of open) {
    const best = against(byValue, times, lows, { time: times[at], low: lows[at], high: highs[at] });
    low += best.low;
    high += best.high;
  }
  for (let place = 0; place < open.length; place++) {
    for (let other = place + 1; other < open.length; other++) {
      const [first, second] = [open[place], open[other]];
      if (times[first] === times[second]) continue;
      const [a, b] = times[first] < times[second] ? [first, second] : [second, first];
      low += Math.sign(lows[b] - highs[a]);
      high += Math.sign(highs[b] - lows[a]);
    }
  }
  const { groupsX } = pairOrder(times, times);
  return { s: { low, high }, variance: varianceOfS({ n: times.length, groupsX, groupsY: known.groupsY }) };
}

/** Smallest and largest sum of pairs of one open value with all fixed ones, over the value's range. */
function against(
  byValue: readonly number[],
  times: readonly number[],
  values: readonly number[],
  open: { readonly time: number; readonly low: number; readonly high: number },
): Interval {
  const weight = (at: number) => Math.sign(open.time - times[at]);
  // Below all of them each pair counts against its weight; passing a value turns its weight in two steps, over a tie.
  let sum = 0;
  for (const at of byValue) sum -= weight(at);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const note = () => {
    low = Math.min(low, sum);
    high = Math.max(high, sum);
  };
  let place = 0;
  // What lies wholly below the range is passed, what equals its end is a tie that it may stay at.
  const n = byValue.length;
  const passEqual = (value: number) => {
    const from = place;
    for (; place < n && values[byValue[place]] === value; place++) sum += weight(byValue[place]);
    return from;
  };
  const leave = (from: number) => {
    for (let at = from; at < place; at++) sum += weight(byValue[at]);
  };
  while (place < n && values[byValue[place]] < open.low) leave(passEqual(values[byValue[place]]));
  if (place >= n || values[byValue[place]] > open.low) note();
  while (place < n && values[byValue[place]] <= open.high) {
    const value = values[byValue[place]];
    const from = passEqual(value);
    note();
    leave(from);
    // Just above the value, where the range has room for it.
    if (value < open.high) note();
  }
  return { low, high };
}
