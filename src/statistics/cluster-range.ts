import { fitOf, type SlopeDesign } from './cluster-slope.ts';

/** Slices of the mean, and of the slope within each, for which the variance is bounded one by one. */
const SLICES = 24;
/** Ways times values that are tried one by one where each open value is one of two. */
const BUDGET = 4_000_000;

/**
 * The smallest t of {@link clusterSlope} over every choice of values from a range each; 0 where the slope need not be above 0.
 * For falling series give the values with the other sign.
 *
 * With few open values of two possible outcomes all ways are tried: exact. Else a bound: mean and slope of all values are
 * divided into cells; in a cell the sum of a cluster is linear in its own values, so that the largest square of each cluster
 * bounds the variance from above, and the smallest slope of the cell that from below.
 * @param lows lower end of each value's range, finite; @param highs upper end
 * @param areEnds whether each value is one end or the other, nothing between
 */
export function leastClusterT(
  design: SlopeDesign,
  lows: readonly number[],
  highs: readonly number[],
  areEnds: boolean,
): number {
  const open = lows.flatMap((low, at) => (low === highs[at] ? [] : [at]));
  if (open.length === 0) return tOf(design, lows);
  if (areEnds && open.length < 31 && 2 ** open.length * lows.length <= BUDGET)
    return leastOfAll(design, lows, highs, open);
  return bound(design, lows, highs, open);
}

function leastOfAll(
  design: SlopeDesign,
  lows: readonly number[],
  highs: readonly number[],
  open: readonly number[],
): number {
  const values = Float64Array.from(lows);
  let least = tOf(design, values);
  for (let way = 1; way < 2 ** open.length && least > 0; way++) {
    // Gray's order: one value changes at a time.
    const place = 31 - Math.clz32(way & -way);
    const at = open[place];
    values[at] = values[at] === lows[at] ? highs[at] : lows[at];
    least = Math.min(least, tOf(design, values));
  }
  return Math.max(0, least);
}

/** t of some values; 0 without a rise. */
function tOf(design: SlopeDesign, values: ArrayLike<number>): number {
  const { mean, slope } = fitOf(design, values);
  if (!(slope > 0)) return 0;
  const { centred, clusterOf, weights } = design;
  const sums = new Float64Array(design.clusters);
  for (let at = 0; at < values.length; at++)
    sums[clusterOf[at]] += weights[at] * (values[at] - mean - slope * centred[at]);
  let variance = 0;
  for (const sum of sums) variance += sum * sum;
  return slope / Math.sqrt(variance);
}

function bound(
  design: SlopeDesign,
  lows: readonly number[],
  highs: readonly number[],
  open: readonly number[],
): number {
  const { centred, clusterOf, clusters, spread, weights } = design;
  const n = lows.length;
  // Sum of each cluster as a function of its own values, the mean and the slope: own − mean · ofMean − slope · ofSlope.
  const [ownLow, ownHigh, ofMean, ofSlope] = [0, 0, 0, 0].map(() => new Float64Array(clusters));
  for (let at = 0; at < n; at++) {
    const cluster = clusterOf[at];
    const ends = [weights[at] * lows[at], weights[at] * highs[at]];
    ownLow[cluster] += Math.min(...ends);
    ownHigh[cluster] += Math.max(...ends);
    ofMean[cluster] += weights[at];
    ofSlope[cluster] += weights[at] * centred[at];
  }
  // Raising the open values from the lowest score upwards gives the smallest slope for each sum, downwards the largest.
  const byScore = open.toSorted((a, b) => centred[a] - centred[b]);
  const least = slopesBySum(design, lows, highs, byScore);
  const most = slopesBySum(design, lows, highs, byScore.toReversed());
  const [from, to] = [least.sums[0], least.sums[least.sums.length - 1]];
  let smallest = Number.POSITIVE_INFINITY;
  for (let slice = 0; slice < SLICES; slice++) {
    const [first, last] = [slice, slice + 1].map((edge) => from + ((to - from) * edge) / SLICES);
    const slopes = [...within(least, first, last), ...within(most, first, last)];
    const [low, high] = [Math.min(...slopes), Math.max(...slopes)];
    if (!(low > 0)) return 0;
    for (let cell = 0; cell < SLICES; cell++) {
      const [under, over] = [cell, cell + 1].map((edge) => low + ((high - low) * edge) / SLICES);
      let variance = 0;
      for (let cluster = 0; cluster < clusters; cluster++) {
        // Plain arithmetic: this is passed for every cell and cluster.
        const a = (first / n) * ofMean[cluster];
        const b = (last / n) * ofMean[cluster];
        const c = under * ofSlope[cluster];
        const d = over * ofSlope[cluster];
        const up = ownHigh[cluster] - Math.min(a, b) - Math.min(c, d);
        const down = ownLow[cluster] - Math.max(a, b) - Math.max(c, d);
        variance += up > -down ? up * up : down * down;
      }
      smallest = Math.min(smallest, under / Math.sqrt(variance));
    }
  }
  return spread > 0 ? smallest : 0;
}

interface Curve {
  readonly sums: readonly number[];
  readonly slopes: readonly number[];
}

/** Sum and slope of all values as the open ones are raised from their lower to their upper end in some order. */
function slopesBySum(
  design: SlopeDesign,
  lows: readonly number[],
  highs: readonly number[],
  order: readonly number[],
): Curve {
  let { slope } = fitOf(design, lows);
  let sum = lows.reduce((total, low) => total + low, 0);
  const sums = [sum];
  const slopes = [slope];
  for (const at of order) {
    sum += highs[at] - lows[at];
    slope += (design.centred[at] * (highs[at] - lows[at])) / design.spread;
    sums.push(sum);
    slopes.push(slope);
  }
  return { sums, slopes };
}

/** Slopes at both ends of a stretch of sums, and at the corners of the curve between. */
function within({ sums, slopes }: Curve, first: number, last: number): readonly number[] {
  const found: number[] = [];
  for (let at = 0; at < sums.length; at++) {
    if (sums[at] >= first && sums[at] <= last) found.push(slopes[at]);
    const next = at + 1;
    if (next === sums.length) break;
    for (const edge of [first, last]) {
      if (edge <= sums[at] || edge >= sums[next]) continue;
      const share = (edge - sums[at]) / (sums[next] - sums[at]);
      found.push(slopes[at] + share * (slopes[next] - slopes[at]));
    }
  }
  return found;
}
