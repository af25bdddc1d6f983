import { type Direction, directionOf } from './direction.ts';
import { normalTwoSided } from './distributions.ts';
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
  /** Two-sided, exact, for up to {@link EXACT_UP_TO} values without ties; null otherwise. Prefer it to `p`. */
  readonly exactP: number | null;
  /** Kendall's tau-b of values and times. */
  readonly tau: number;
  readonly direction: Direction;
}

/** Beyond this many values the normal approximation is good to three digits and the exact count is not made. */
export const EXACT_UP_TO = 50;

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
  const { n, s, pairs, tiedX, tiedY } = order;
  if (n < 2) return noData('a trend takes two values or more');
  const tau = tauB(order);
  if (tau === undefined) return noData(tiedX === pairs ? 'all times are equal' : 'all values are equal');
  const variance = varianceOfS(order);
  const z = (s - Math.sign(s)) / Math.sqrt(variance);
  const exactP = n <= EXACT_UP_TO && tiedX === 0 && tiedY === 0 ? exactTwoSided(s, n) : null;
  return {
    kind: 'monotone-trend',
    n,
    s,
    variance,
    z,
    p: normalTwoSided(z),
    exactP,
    tau,
    direction: directionOf(s),
  };
}

/**
 * P(|S| >= |s|) over all n! equally likely orders, from the distribution of the number of inversions
 * (Kendall 1975, section 5.2): with each further value the count grows by 0, 1, … or n - 1, all equally likely.
 */
function exactTwoSided(s: number, n: number): number {
  if (s === 0) return 1;
  let chance = new Float64Array([1]);
  for (let size = 2; size <= n; size++) {
    const next = new Float64Array(chance.length + size - 1);
    let window = 0;
    for (let at = 0; at < next.length; at++) {
      window += chance[at] ?? 0;
      if (at >= size) window -= chance[at - size];
      next[at] = window / size;
    }
    chance = next;
  }
  const inversions = (chance.length - 1 - Math.abs(s)) / 2;
  return Math.min(1, 2 * chance.subarray(0, inversions + 1).reduce((sum, term) => sum + term, 0));
}
