import { type Direction, directionOf } from './direction.ts';
import { chiSquareTail1 } from './distributions.ts';
import { requireCount, requireFinite, requireSameLength } from './domain.ts';
import { type NoData, noData } from './no-data.ts';

/** One group of a series of shares, such as the devices of one year. */
export interface ShareGroup {
  readonly successes: number;
  readonly trials: number;
  /** Place on the axis of the trend, such as the year. Its zero and scale change neither chi-square nor p. */
  readonly score: number;
}

/** Outcome of the test for a linear trend in shares. */
export interface ShareTrend {
  readonly kind: 'share-trend';
  /** All trials together. */
  readonly n: number;
  readonly chiSquare: number;
  /** Root of chi-square with the sign of the trend. */
  readonly z: number;
  /** Two-sided, one degree of freedom, no continuity correction. */
  readonly p: number;
  /** Change of the share for one unit of the score (weighted least squares). */
  readonly slope: number;
  readonly direction: Direction;
  /**
   * Minimum expected number of successes or failures in a group with members. Chi-square is an approximation; where
   * this is under 5 it is inaccurate (common practice after Cochran, Biometrics 10, 1954, 417-451).
   */
  readonly smallestExpected: number;
}

/**
 * Cochran–Armitage test for a linear trend in proportions (Armitage, Biometrics 11, 1955, 375-386), with the variance
 * of the pooled proportion, as R's prop.trend.test computes it. Groups without trials carry no weight.
 * @throws RangeError unless counts are whole, 0 <= successes <= trials, and scores are finite
 */
export function cochranArmitage(groups: readonly ShareGroup[]): ShareTrend | NoData {
  requireFinite(
    groups.map(({ score }) => score),
    'score',
  );
  for (const { successes, trials } of groups) {
    requireCount(successes, 'the number of successes');
    requireCount(trials, 'the number of trials');
    if (successes > trials) throw new RangeError(`${successes} successes of ${trials} trials: too many`);
  }
  const held = groups.filter(({ trials }) => trials > 0);
  if (held.length === 0) return noData('nothing was counted');
  if (held.every(({ score }) => score === held[0].score)) {
    return noData('a trend takes two groups of different score, each with members');
  }
  const n = sum(held, ({ trials }) => trials);
  const share = sum(held, ({ successes }) => successes) / n;
  if (share === 0 || share === 1)
    return noData(share === 0 ? 'no success in any group' : 'no failure in any group');
  // Scores are taken from their mean: years near 2000 squared would otherwise eat the digits of the difference.
  const mean = sum(held, ({ score, trials }) => score * trials) / n;
  const excess = sum(held, ({ score, successes, trials }) => (score - mean) * (successes - trials * share));
  const spread = sum(held, ({ score, trials }) => trials * (score - mean) ** 2);
  const z = excess / Math.sqrt(share * (1 - share) * spread);
  const smallestGroup = Math.min(...held.map(({ trials }) => trials));
  return {
    kind: 'share-trend',
    n,
    chiSquare: z * z,
    z,
    p: chiSquareTail1(z * z),
    slope: excess / spread,
    direction: directionOf(z),
    smallestExpected: smallestGroup * Math.min(share, 1 - share),
  };
}

/** {@link cochranArmitage} for counts in parallel lists, scores 1, 2, 3 … unless given. */
export function cochranArmitageOf(
  successes: readonly number[],
  trials: readonly number[],
  scores: readonly number[] = successes.map((_, at) => at + 1),
): ShareTrend | NoData {
  requireSameLength(successes, 'successes', trials, 'trials');
  requireSameLength(successes, 'successes', scores, 'scores');
  return cochranArmitage(
    successes.map((count, at) => ({ successes: count, trials: trials[at], score: scores[at] })),
  );
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
