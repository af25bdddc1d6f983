import { requireLevel, requireProbabilities } from './domain.ts';
import type { Interval } from './proportion.ts';

/** Number of successes among independent trials that succeed with unlike probabilities. */
export interface SuccessCount {
  readonly n: number;
  readonly expectation: number;
  readonly variance: number;
  /** Probability of exactly `lowest`, `lowest + 1`, … successes. */
  readonly lowest: number;
  readonly chances: Float64Array;
}

/** Chances at the edges smaller than this are dropped; over n trials less than n times this is lost. */
const NEGLIGIBLE = 1e-20;

/**
 * Poisson-binomial distribution by adding one trial at a time (the recursion of Barlow and Heidtmann, Computing k-out-of-n system
 * reliability, IEEE Transactions on Reliability 33, 1984, 322-323, pages from memory; reviewed in Hong, On computing the
 * distribution function for the Poisson binomial distribution, Computational Statistics & Data Analysis 59, 2013, 41-51, from
 * memory). Only counts with a chance worth keeping are carried, so ten thousand trials take milliseconds.
 * @throws RangeError when a probability is outside [0, 1]
 */
export function poissonBinomial(probabilities: readonly number[]): SuccessCount {
  requireProbabilities(probabilities, 'probabilities');
  let chances = new Float64Array(probabilities.length + 1);
  chances[0] = 1;
  let from = 0;
  let to = 0;
  let certain = 0;
  let expectation = 0;
  let variance = 0;
  probabilities.forEach((p) => {
    expectation += p;
    variance += p * (1 - p);
    if (p === 0) return;
    if (p === 1) {
      certain++;
      return;
    }
    to++;
    for (let k = to; k > from; k--) chances[k] = chances[k] * (1 - p) + chances[k - 1] * p;
    chances[from] *= 1 - p;
    while (chances[from] < NEGLIGIBLE) chances[from++] = 0;
    while (chances[to] < NEGLIGIBLE) chances[to--] = 0;
  });
  chances = chances.slice(from, to + 1);
  return { n: probabilities.length, expectation, variance, lowest: from + certain, chances };
}

/** Probability of exactly `k` successes. */
export function chanceOf({ lowest, chances }: SuccessCount, k: number): number {
  return chances[k - lowest] ?? 0;
}

/**
 * The narrowest central range of counts: at most (1 - level) / 2 lies below `low`, and as much above `high`.
 * @throws RangeError unless 0 < level < 1
 */
export function countInterval({ lowest, chances }: SuccessCount, level = 0.95): Interval {
  requireLevel(level);
  const tail = (1 - level) / 2;
  let low = 0;
  for (let below = chances[0]; below <= tail; below += chances[low]) low++;
  let high = chances.length - 1;
  for (let above = chances[high]; above <= tail; above += chances[high]) high--;
  return { low: lowest + low, high: lowest + high };
}
