import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';

/** A lower and an upper limit. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Standard normal quantile of 0.975, for two-sided 95 %. */
const Z95 = 1.959963984540054;

/**
 * Exact interval of a proportion (Clopper & Pearson, Biometrika 26, 1934, 404-413): at least `level` of such
 * intervals hold the true proportion.
 * @throws RangeError unless 0 <= successes <= trials, trials > 0
 */
export function clopperPearson(successes: number, trials: number, level = 0.95): Interval {
  requireCounts(successes, trials);
  const tail = (1 - level) / 2;
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes, trials - successes + 1),
    high: successes === trials ? 1 : betaQuantile(1 - tail, successes + 1, trials - successes),
  };
}

/**
 * Score interval of a proportion (Wilson, JASA 22, 1927, 209-212), 95 %: what to show beside a share.
 * @throws RangeError unless 0 <= successes <= trials, trials > 0
 */
export function wilson(successes: number, trials: number): Interval {
  requireCounts(successes, trials);
  const share = successes / trials;
  const shrink = 1 + Z95 ** 2 / trials;
  const middle = (share + Z95 ** 2 / (2 * trials)) / shrink;
  const reach = (Z95 / shrink) * Math.sqrt((share * (1 - share)) / trials + Z95 ** 2 / (4 * trials ** 2));
  return { low: Math.max(0, middle - reach), high: Math.min(1, middle + reach) };
}

function requireCounts(successes: number, trials: number): void {
  if (!(trials > 0 && successes >= 0 && successes <= trials)) {
    throw new RangeError(
      `${successes} of ${trials} is no proportion: 0 <= successes <= trials and trials > 0`,
    );
  }
}
