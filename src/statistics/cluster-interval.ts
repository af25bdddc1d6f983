import { betaQuantile, gammaUpperQuantile, studentQuantile } from './distributions.ts';
import { requireFinite, requireLevel, requireSameLength } from './domain.ts';
import { type Interval, wilson } from './proportion.ts';
import { sorted } from './quantile.ts';

/**
 * How many independent values tell as much about a mean as these do, whose clusters are alike inside (Korn & Graubard,
 * Survey Methodology 24, 1998, 193-201): n over the design effect, and over the square of the ratio of the t quantiles of the
 * degrees of freedom that the clusters leave. Never above n, nor under 1. Where the clusters show no variation of their own,
 * or there is one only, it is their number: as if members of one cluster were all the same.
 * @param alone variance of one value if all were independent: p (1 − p) of a share, the rate itself of a count
 */
export function effectiveSize(
  values: readonly number[],
  clusters: readonly number[],
  alone: number,
  level = 0.95,
): { readonly size: number; readonly clusters: number } {
  requireSameLength(values, 'values', clusters, 'clusters');
  requireFinite(values, 'values');
  requireLevel(level);
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const of = new Map<number, { count: number; sum: number }>();
  values.forEach((value, at) => {
    const one = of.get(clusters[at]) ?? { count: 0, sum: 0 };
    one.count++;
    one.sum += value - mean;
    of.set(clusters[at], one);
  });
  const found = of.size;
  if (found === n) return { size: n, clusters: n };
  if (found === 1 || !(alone > 0)) return { size: found, clusters: found };
  // The bias-reduced variance of a mean (Bell & McCaffrey 2002), and Satterthwaite's degrees of freedom, as in cluster-slope.ts.
  let variance = 0;
  let own = 0;
  let trace = 0;
  let crossed = 0;
  for (const { count, sum } of of.values()) {
    const rest = 1 - count / n;
    variance += sum ** 2 / rest / n ** 2;
    const d = count / n / rest / n;
    const crossing = (count / n) ** 2 / rest / n;
    own += d - crossing;
    trace += d * d - 2 * d * crossing;
    crossed += crossing;
  }
  if (variance === 0) return { size: found, clusters: found };
  const freedom = own ** 2 / (trace + crossed ** 2);
  const p = (1 + level) / 2;
  const wider = studentQuantile(p, freedom) / studentQuantile(p, Math.max(1, n - 1));
  const size = alone / variance / wider ** 2;
  return { size: Math.min(n, Math.max(1, size)), clusters: found };
}

/** Wilson's interval of a share with the size that clusters leave. */
export function clusteredShare(share: number, size: number, level = 0.95): Interval {
  return wilson(share * size, size, level);
}

/**
 * Interval of a rate by the gamma distribution with its effective count (Fay & Feuer, Statistics in Medicine 16, 1997,
 * 791-801); Garwood's where the size is the number counted over.
 */
export function clusteredRate(rate: number, size: number, level = 0.95): Interval {
  requireLevel(level);
  const tail = (1 - level) / 2;
  const count = rate * size;
  return {
    low: count === 0 ? 0 : gammaUpperQuantile(1 - tail, count) / size,
    high: gammaUpperQuantile(tail, count + 1) / size,
  };
}

/**
 * Interval of a median: the limits of a share of one half with the size that clusters leave, as order statistics (Woodruff,
 * JASA 47, 1952, 635-646). Null where even the extremes do not reach the level.
 */
export function clusteredMedian(values: readonly number[], size: number, level = 0.95): Interval | null {
  requireLevel(level);
  const ordered = sorted(values);
  const n = ordered.length;
  const tail = (1 - level) / 2;
  const below = betaQuantile(tail, size / 2, size / 2 + 1);
  const rank = Math.floor(n * below);
  return rank < 1 ? null : { low: ordered[rank - 1], high: ordered[n - rank] };
}
