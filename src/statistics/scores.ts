import { requireProbability } from './domain.ts';
import { clopperPearson, type Interval } from './proportion.ts';

/** A stated probability of something, and whether it came true. */
export interface Forecast {
  readonly probability: number;
  readonly cameTrue: boolean;
}

/**
 * Mean squared difference of probability and outcome (Brier, Monthly Weather Review 78, 1950, 1-3, for one event):
 * 0 is perfect, 0.25 is the score of always forecasting one half.
 * @throws RangeError without forecasts, or with one that is not a probability
 */
export function brierScore(forecasts: readonly Forecast[]): number {
  return mean(forecasts, ({ probability, cameTrue: came }) => (probability - Number(came)) ** 2);
}

/**
 * Mean negative logarithm of the probability given to what happened, in nats (Good, JRSS B 14, 1952, 107-114).
 * Probabilities are kept a millionth away from 0 and 1, so that a single bold mistake does not make the score infinite.
 * @throws RangeError as {@link brierScore}
 */
export function logLoss(forecasts: readonly Forecast[]): number {
  return mean(forecasts, ({ probability, cameTrue: came }) => {
    const p = Math.min(1 - 1e-6, Math.max(1e-6, probability));
    return -Math.log(came ? p : 1 - p);
  });
}

function mean(forecasts: readonly Forecast[], of: (forecast: Forecast) => number): number {
  if (forecasts.length === 0) throw new RangeError('no forecasts to score');
  return (
    forecasts.reduce((sum, forecast) => {
      requireProbability(forecast.probability, 'a stated probability');
      return sum + of(forecast);
    }, 0) / forecasts.length
  );
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

/**
 * Sorts forecasts into bins of equal width (Murphy & Winkler, Applied Statistics 26, 1977, 41-47). Without forecasts
 * all bins are empty.
 * @throws RangeError with a forecast that is not a probability, or a number of bins that is not whole and above 0
 */
export function reliability(forecasts: readonly Forecast[], bins = 10): readonly ReliabilityBin[] {
  if (!(Number.isInteger(bins) && bins > 0))
    throw new RangeError(`there must be whole bins, 1 or more, not ${bins}`);
  const inside = Array.from({ length: bins }, (): Forecast[] => []);
  for (const forecast of forecasts) {
    requireProbability(forecast.probability, 'a stated probability');
    inside[Math.min(bins - 1, Math.floor(forecast.probability * bins))].push(forecast);
  }
  return inside.map((members, bin) => summary(members, bin / bins, (bin + 1) / bins));
}

/** Forecasts of at least `from`, 1 included, as one bin. @throws RangeError with a forecast that is not a probability */
export function reliabilityFrom(forecasts: readonly Forecast[], from: number): ReliabilityBin {
  return summary(
    forecasts.filter(({ probability }) => probability >= from),
    from,
    1,
  );
}

function summary(members: readonly Forecast[], from: number, to: number): ReliabilityBin {
  const count = members.length;
  if (count === 0) return { from, to, count, stated: null, observed: null, interval: null, calibrated: null };
  const came = members.filter((forecast) => forecast.cameTrue).length;
  const stated = mean(members, ({ probability }) => probability);
  const interval = clopperPearson(came, count);
  const calibrated = stated >= interval.low && stated <= interval.high;
  return { from, to, count, stated, observed: came / count, interval, calibrated };
}
