import { studentQuantile, studentTwoSided } from './distributions.ts';
import { requireFinite, requireLevel, requireSameLength } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import type { Interval } from './proportion.ts';

/** A slope whose error allows for members of a cluster being alike. */
export interface ClusterSlope {
  readonly kind: 'cluster-slope';
  readonly n: number;
  readonly clusters: number;
  readonly slope: number;
  readonly standardError: number;
  readonly t: number;
  /** Satterthwaite's; low where few or unlike clusters carry the slope, whatever their number. */
  readonly freedom: number;
  /** Two-sided. */
  readonly p: number;
  readonly interval: Interval;
  /** Variance of the slope by clusters over that with all members independent of one another. */
  readonly designEffect: number;
}

/**
 * Least-squares slope with the bias-reduced cluster-robust variance (CR2) and Satterthwaite's degrees of freedom (Bell &
 * McCaffrey, Survey Methodology 28, 2002, 169-181; Pustejovsky & Tipton, Journal of Business & Economic Statistics 36,
 * 2018, 672-683), which hold their level with few clusters of unlike size. Nothing is drawn, so nothing needs a seed.
 * @param clusters the cluster of each value; equal numbers are one cluster
 * @throws RangeError unless the lists are equally long, values and scores finite, 0 < level < 1
 */
export function clusterSlope(
  values: readonly number[],
  scores: readonly number[],
  clusters: readonly number[],
  level = 0.95,
): ClusterSlope | NoData {
  requireSameLength(values, 'values', scores, 'scores');
  requireFinite(values, 'values');
  requireLevel(level);
  const design = slopeDesign(scores, clusters);
  if (design.kind === 'no-data') return design;
  const n = values.length;
  const { mean, slope } = fitOf(design, values);
  const residuals = values.map((value, at) => value - mean - slope * design.centred[at]);
  const sums = new Float64Array(design.clusters);
  residuals.forEach((residual, at) => {
    sums[design.clusterOf[at]] += design.weights[at] * residual;
  });
  const variance = sums.reduce((sum, one) => sum + one * one, 0);
  const alone = residuals.reduce((sum, one) => sum + one * one, 0) / (n - 2) / design.spread;
  const standardError = Math.sqrt(variance);
  const t = slope / standardError;
  if (!(standardError > 1e-12 * Math.abs(slope)) || !(alone > 0)) return noData('the values lie on a line');
  const reach = studentQuantile((1 + level) / 2, design.freedom) * standardError;
  return {
    kind: 'cluster-slope',
    n,
    clusters: design.clusters,
    slope,
    standardError,
    t,
    freedom: design.freedom,
    p: studentTwoSided(t, design.freedom),
    interval: { low: slope - reach, high: slope + reach },
    designEffect: variance / alone,
  };
}

/** What follows from scores and clusters alone, whatever the values are. */
export interface SlopeDesign {
  readonly kind: 'slope-design';
  readonly clusters: number;
  readonly clusterOf: Int32Array;
  /** Scores less their mean, and the sum of their squares. */
  readonly centred: Float64Array;
  readonly spread: number;
  /** Weight of each residual in the sum of its cluster; the variance is the sum of the squares of these. */
  readonly weights: Float64Array;
  readonly freedom: number;
}

/**
 * The adjustment (I − H)^(−1/2) of each cluster and Satterthwaite's degrees of freedom. Hat matrix H = B Bᵗ with two
 * columns, so that all of it reduces to 2 × 2 matrices: (I − B Bᵗ)^(−1/2) B = B (I − Bᵗ B)^(−1/2).
 */
export function slopeDesign(scores: readonly number[], clusters: readonly number[]): SlopeDesign | NoData {
  requireSameLength(scores, 'scores', clusters, 'clusters');
  requireFinite(scores, 'scores');
  const n = scores.length;
  const mean = scores.reduce((sum, score) => sum + score, 0) / n;
  const centred = Float64Array.from(scores, (score) => score - mean);
  const spread = centred.reduce((sum, score) => sum + score * score, 0);
  if (n < 3 || spread === 0) return noData('a slope by clusters takes three values, at two different scores');
  const numbers = new Map<number, number>();
  const clusterOf = Int32Array.from(clusters, (cluster) => {
    const number = numbers.get(cluster) ?? numbers.size;
    numbers.set(cluster, number);
    return number;
  });
  if (numbers.size < 2) return noData('all values are of one cluster');
  const root = Math.sqrt(spread);
  // Sums over each cluster of 1, b and b² for the columns 1/√n and b = centred/√spread of B.
  const [ones, firsts, squares] = [0, 0, 0].map(() => new Float64Array(numbers.size));
  centred.forEach((score, at) => {
    const b = score / root;
    ones[clusterOf[at]]++;
    firsts[clusterOf[at]] += b;
    squares[clusterOf[at]] += b * b;
  });
  const turns: (readonly [number, number])[] = [];
  let own = 0;
  let ownSquares = 0;
  let crossed = 0;
  let [uu, uv, vv] = [0, 0, 0];
  for (let cluster = 0; cluster < numbers.size; cluster++) {
    const p: Symmetric = [ones[cluster] / n, firsts[cluster] / Math.sqrt(n), squares[cluster]];
    const q = inverseRootOfRest(p);
    // Column of (I − P)^(−1/2) that belongs to the slope, over √spread.
    const turn = [q[1] / root, q[2] / root] as const;
    turns.push(turn);
    const v = [p[0] * turn[0] + p[1] * turn[1], p[1] * turn[0] + p[2] * turn[1]];
    const d = turn[0] * v[0] + turn[1] * v[1];
    const crossing = v[0] * v[0] + v[1] * v[1];
    own += d - crossing;
    ownSquares += d * d;
    crossed += d * crossing;
    uu += v[0] * v[0];
    uv += v[0] * v[1];
    vv += v[1] * v[1];
  }
  const trace = ownSquares - 2 * crossed + uu * uu + 2 * uv * uv + vv * vv;
  const weights = Float64Array.from(centred, (score, at) => {
    const [first, second] = turns[clusterOf[at]];
    return first / Math.sqrt(n) + (second * score) / root;
  });
  if (!(own > 0 && trace > 0)) return noData('no two clusters can be compared');
  const freedom = (own * own) / trace;
  return { kind: 'slope-design', clusters: numbers.size, clusterOf, centred, spread, weights, freedom };
}

export function fitOf({ centred, spread }: SlopeDesign, values: ArrayLike<number>) {
  let sum = 0;
  let excess = 0;
  for (let at = 0; at < values.length; at++) {
    sum += values[at];
    excess += centred[at] * values[at];
  }
  return { mean: sum / values.length, slope: excess / spread };
}

/** A symmetric 2 × 2 matrix: its corners left above and right below, the other between. */
type Symmetric = readonly [number, number, number];

/** (I − P)^(−1/2), for P with eigenvalues from 0 to 1; a direction that the cluster alone determines is left out. */
function inverseRootOfRest([a, b, c]: Symmetric): Symmetric {
  const middle = (a + c) / 2;
  const half = Math.hypot((a - c) / 2, b);
  const angle = half === 0 ? 0 : Math.atan2(b, (a - c) / 2) / 2;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const [first, second] = [middle + half, middle - half].map((value) => {
    const rest = 1 - value;
    return rest > 1e-9 ? 1 / Math.sqrt(rest) : 0;
  });
  return [
    first * cos * cos + second * sin * sin,
    (first - second) * cos * sin,
    first * sin * sin + second * cos * cos,
  ];
}
