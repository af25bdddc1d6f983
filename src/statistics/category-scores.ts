import { requireDistribution } from './domain.ts';

/** A distribution over rival answers, and which came true. */
export interface CategoryForecast {
  /** Sums to 1. */
  readonly probabilities: readonly number[];
  /** Index of the answer that was right. */
  readonly truth: number;
}

/**
 * Brier's own score for several categories: the squared differences summed over the categories, averaged over the
 * forecasts (Brier, Monthly Weather Review 78, 1950, equation 2). From 0 (perfect) to 2; for two categories it is
 * twice the score for one event (scores.ts).
 * @throws RangeError without forecasts, or with one that is not a distribution or lacks the answer
 */
export function categoryBrier(forecasts: readonly CategoryForecast[]): number {
  return mean(forecasts, ({ probabilities, truth }) =>
    probabilities.reduce((sum, p, at) => sum + (p - Number(at === truth)) ** 2, 0),
  );
}

/**
 * Mean negative logarithm of the probability given to the right answer, in nats (Good, JRSS B 14, 1952, 107-114).
 * @param floor probabilities below it are raised to it; 1e-6 as in scores.ts. With 0, one answer that was called
 * impossible and came true makes the score infinite.
 * @throws RangeError as {@link categoryBrier}
 */
export function categoryLogLoss(forecasts: readonly CategoryForecast[], floor = 1e-6): number {
  return mean(forecasts, ({ probabilities, truth }) => -Math.log(Math.max(floor, probabilities[truth])));
}

function mean(forecasts: readonly CategoryForecast[], of: (forecast: CategoryForecast) => number): number {
  if (forecasts.length === 0) throw new RangeError('no forecasts to score');
  let sum = 0;
  forecasts.forEach((forecast, at) => {
    requireDistribution(forecast.probabilities, `forecasts[${at}]`);
    if (!(forecast.truth in forecast.probabilities)) {
      throw new RangeError(`forecasts[${at}] has no answer ${forecast.truth}`);
    }
    sum += of(forecast);
  });
  return sum / forecasts.length;
}
