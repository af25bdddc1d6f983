import { type Direction, directionOf } from './direction.ts';
import { normalTwoSided } from './distributions.ts';
import { exactTwoSidedS } from './exact-s.ts';
import { tauB } from './kendall-tau.ts';
import { type NoData, noData } from './no-data.ts';
import { pairOrder } from './pair-order.ts';
import { varianceOfS } from './variance-of-s.ts';

/** Outcome of the test for a monotone trend. */
export interface MonotoneTrend {
  readonly kind: 'monotone-trend';
  readonly n: number;
  /** Pairs that rise less pairs that fall. */
  readonly s: number;
  /** Variance of S when there is no trend, corrected for ties. */
  readonly variance: number;
  /** Normal deviate with continuity correction. */
  readonly z: number;
  /** Two-sided, from z. */
  readonly p: number;
  /** Two-sided, exact over all orders of the values, where {@link exactTwoSidedS} has it; else null. Prefer it to `p`. */
  readonly exactP: number | null;
  /** Kendall's tau-b of values and times. */
  readonly tau: number;
  readonly direction: Direction;
}

/**
 * Mann–Kendall test for a rising or falling series (Mann, Econometrica 13, 1945, 245-259; Kendall, Rank Correlation
 * Methods, 1975, chapter 4: variance with ties in both variables, equation 4.4, and continuity correction).
 * @param times when each value was taken; several values may share a time. Left out: one after the other.
 * @throws RangeError unless values and times are equally long and finite
 */
export function mannKendall(
  values: readonly number[],
  times: readonly number[] = values.map((_, at) => at),
): MonotoneTrend | NoData {
  const order = pairOrder(times, values);
  const { n, s, pairs, tiedX } = order;
  if (n < 2) return noData('a trend takes two values or more');
  const tau = tauB(order);
  if (tau === undefined) return noData(tiedX === pairs ? 'all times are equal' : 'all values are equal');
  const variance = varianceOfS(order);
  const z = (s - Math.sign(s)) / Math.sqrt(variance);
  return {
    kind: 'monotone-trend',
    n,
    s,
    variance,
    z,
    p: normalTwoSided(z),
    exactP: exactTwoSidedS(times, values, order),
    tau,
    direction: directionOf(s),
  };
}
