import { clopperPearson, type Interval } from './proportion.ts';

/** A stated probability of something, and whether it came true. */
export interface Forecast {
  readonly probability: number;
  readonly came: boolean;
}

/**
 * Mean squared difference of probability and outcome (Brier, Monthly Weather Review 78, 1950, 1-3, for one event):
 * 0 is perfect, 0.25 is what always saying one half earns.
 * @throws RangeError without forecasts
 */
export function brierScore(forecasts: readonly Forecast[]): number {
  return mean(forecasts, ({ probability, came }) => (probability - Number(came)) ** 2);
}

/**
 * Mean negative logarithm of the probability given to what happened, in nats (Good 1952). Probabilities are kept a
 * millionth away from 0 and 1, so that one bold mistake does not make the score infinite.
 * @throws RangeError without forecasts
 */
export function logLoss(forecasts: readonly Forecast[]): number {
  return mean(forecasts, ({ probability, came }) => {
    const p = Math.min(1 - 1e-6, Math.max(1e-6, probability));
    return -Math.log(came ? p : 1 - p);
  });
}

function mean<T>(items: readonly T[], of: (item: T) => number): number {
  if (items.length === 0) throw new RangeError('no forecasts to score');
  return items.reduce((sum, item) => sum + of(item), 0) / items.length;
}

/** Forecasts of like probability together, for a reliability diagram. */
export interface ReliabilityBin {
  /** Probabilities from `from`, itself included, to `to`, itself left out (1 is in the last bin). */
  readonly from: number;
  readonly to: number;
  readonly count: number;
  /** Mean stated probability; null for an empty bin. */
  readonly stated: number | null;
  /** Share that came true; null for an empty bin. */
  readonly observed: number | null;
  /** Exact 95 % interval of the share; null for an empty bin. */
  readonly interval: Interval | null;
  /** Whether the mean stated probability lies inside the interval; null for an empty bin. */
  readonly calibrated: boolean | null;
}

/** Sorts forecasts into bins of equal width (Murphy & Winkler, Applied Statistics 26, 1977, 41-47). */
export function reliability(forecasts: readonly Forecast[], bins = 10): readonly ReliabilityBin[] {
  return Array.from({ length: bins }, (_, bin): ReliabilityBin => {
    const inside = forecasts.filter(
      ({ probability }) => Math.min(bins - 1, Math.floor(probability * bins)) === bin,
    );
    const range = { from: bin / bins, to: (bin + 1) / bins, count: inside.length };
    if (inside.length === 0)
      return { ...range, stated: null, observed: null, interval: null, calibrated: null };
    const came = inside.filter((one) => one.came).length;
    const stated = mean(inside, ({ probability }) => probability);
    const interval = clopperPearson(came, inside.length);
    const calibrated = stated >= interval.low && stated <= interval.high;
    return { ...range, stated, observed: came / inside.length, interval, calibrated };
  });
}
