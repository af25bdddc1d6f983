import type { Direction } from '../statistics/direction.ts';
import { normalTwoSided } from '../statistics/distributions.ts';

/** A device's value when each identification is right or wrong with its own probability. */
export interface Doubtful {
  readonly start: number;
  readonly expected: number;
  readonly variance: number;
}

/** A direction is named in spite of doubt when it stays with at least this probability. */
const SURE = 0.95;

/**
 * Whether values keep a direction however the doubtful identifications turn out: the covariance of values and time is a
 * sum of independent terms, so that its sign follows from its mean and variance (normal approximation).
 */
export function directionStays(direction: Direction, values: readonly Doubtful[]): boolean {
  if (direction === 'level') return false;
  const middle = values.reduce((sum, { start }) => sum + start, 0) / values.length;
  let mean = 0;
  let variance = 0;
  for (const value of values) {
    mean += (value.start - middle) * value.expected;
    variance += (value.start - middle) ** 2 * value.variance;
  }
  const agreeing = direction === 'rising' ? mean : -mean;
  if (agreeing <= 0) return false;
  return variance === 0 || 1 - normalTwoSided(agreeing / Math.sqrt(variance)) / 2 >= SURE;
}
