import { gammaUpperQuantile } from './distributions.ts';
import { requireCount, requireLevel } from './domain.ts';
import type { Interval } from './proportion.ts';

/**
 * Exact interval of the expected number behind a count of independent events (Garwood, Biometrika 28, 1936,
 * 437-442): half chi-square quantiles with 2 k and 2 k + 2 degrees of freedom, here as gamma quantiles.
 * @throws RangeError unless the count is whole and >= 0, 0 < level < 1
 */
export function poissonInterval(count: number, level = 0.95): Interval {
  requireCount(count, 'the count');
  requireLevel(level);
  const tail = (1 - level) / 2;
  return {
    low: count === 0 ? 0 : gammaUpperQuantile(1 - tail, count),
    high: gammaUpperQuantile(tail, count + 1),
  };
}

/** A count divided by what it was counted over, with its limits; unit: one per unit of the exposure. */
export interface Rate extends Interval {
  readonly rate: number;
}

/**
 * Rate and exact interval of a count over an exposure, for example parts per cm² or devices per year.
 * @param exposure area, time or number of devices the count was made over, > 0
 * @throws RangeError as {@link poissonInterval}, and unless the exposure is finite and > 0
 */
export function poissonRate(count: number, exposure: number, level = 0.95): Rate {
  if (!(exposure > 0 && Number.isFinite(exposure))) {
    throw new RangeError(`the exposure of a rate must be finite and above 0; it is ${exposure}`);
  }
  const { low, high } = poissonInterval(count, level);
  return { rate: count / exposure, low: low / exposure, high: high / exposure };
}
