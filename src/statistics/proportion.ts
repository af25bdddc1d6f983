import { betaQuantile, normalQuantile } from './distributions.ts';
import { requireCount, requireLevel } from './domain.ts';

/** A lower and an upper limit. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Exact interval of a proportion (Clopper & Pearson, Biometrika 26, 1934, 404-413): at least `level` of such
 * intervals hold the true proportion.
 * @throws RangeError unless 0 <= successes <= trials, both whole, trials > 0, 0 < level < 1
 */
export function clopperPearson(successes: number, trials: number, level = 0.95): Interval {
  requireCount(successes, 'the number of successes');
  requireCount(trials, 'the number of trials');
  requireTrials(successes, trials);
  requireLevel(level);
  const tail = (1 - level) / 2;
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes, trials - successes + 1),
    high: successes === trials ? 1 : betaQuantile(1 - tail, successes + 1, trials - successes),
  };
}

/**
 * Score interval of a proportion (Wilson, JASA 22, 1927, 209-212; method 3 of Newcombe, Statistics in Medicine 17,
 * 1998, 857-872): what to show beside a share. Neither number need be whole, so that an expected number of uncertain
 * members and an effective number of trials can be given.
 * @throws RangeError unless 0 <= successes <= trials, trials finite and > 0, 0 < level < 1
 */
export function wilson(successes: number, trials: number, level = 0.95): Interval {
  requireTrials(successes, trials);
  requireLevel(level);
  const z2 = normalQuantile((1 + level) / 2) ** 2;
  const failures = trials - successes;
  const middle = successes + z2 / 2;
  const reach = Math.sqrt(z2 * ((successes * failures) / trials + z2 / 4));
  return {
    low: successes === 0 ? 0 : Math.max(0, (middle - reach) / (trials + z2)),
    high: failures === 0 ? 1 : Math.min(1, (middle + reach) / (trials + z2)),
  };
}

function requireTrials(successes: number, trials: number): void {
  if (!(trials > 0 && Number.isFinite(trials) && successes >= 0 && successes <= trials)) {
    throw new RangeError(
      `${successes} of ${trials} is not a valid proportion: 0 <= successes <= trials and trials > 0`,
    );
  }
}
