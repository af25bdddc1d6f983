import { binomialAtLeast, binomialAtMost, binomialProbability } from '../../src/statistics/distributions.ts';
import { requireCount, requireProbability } from '../../src/statistics/domain.ts';

/** Which deviations count against the stated probability. */
export type Alternative = 'two-sided' | 'less' | 'greater';

/** Probabilities this near to each other count as equal: rounding must not drop an outcome just as likely. */
const EQUAL = 1 + 1e-7;

/**
 * Exact binomial test: the p-value of `successes` in `trials` when each succeeds with probability `stated`
 * (Conover, Practical Nonparametric Statistics, 1971, section 3.1). Two-sided by the method of small probabilities:
 * the outcomes no likelier than the one seen.
 * @throws RangeError unless 0 <= successes <= trials, both whole, trials > 0, 0 <= stated <= 1
 */
export function binomialTest(
  successes: number,
  trials: number,
  stated: number,
  alternative: Alternative = 'two-sided',
): number {
  requireCount(successes, 'the number of successes');
  requireCount(trials, 'the number of trials');
  requireProbability(stated, 'the stated probability');
  if (trials === 0 || successes > trials) {
    throw new RangeError(`${successes} of ${trials} cannot be tested: successes <= trials and trials > 0`);
  }
  switch (alternative) {
    case 'less':
      return binomialAtMost(successes, trials, stated);
    case 'greater':
      return binomialAtLeast(successes, trials, stated);
    case 'two-sided':
      return twoSided(successes, trials, stated);
    default:
      return alternative satisfies never;
  }
}

function twoSided(successes: number, trials: number, stated: number): number {
  const limit = binomialProbability(successes, trials, stated) * EQUAL;
  const noLikelier = (k: number) => binomialProbability(k, trials, stated) <= limit;
  const mode = Math.floor((trials + 1) * stated);
  const middle = trials * stated;
  if (successes === middle) return 1;
  // The probabilities rise up to the mode and fall after it, so each side has one border, found by halving.
  if (successes < middle) {
    const border = firstWhere(Math.min(mode, trials), trials + 1, (k) => k > trials || noLikelier(k));
    return Math.min(1, binomialAtMost(successes, trials, stated) + binomialAtLeast(border, trials, stated));
  }
  const border = firstWhere(0, Math.min(mode, trials) + 1, (k) => !noLikelier(k)) - 1;
  return Math.min(1, binomialAtMost(border, trials, stated) + binomialAtLeast(successes, trials, stated));
}

/** The first whole number from `from` to `to` that passes, given that all after it pass too; `to` if none does. */
function firstWhere(from: number, to: number, passes: (k: number) => boolean): number {
  let low = from;
  let high = to;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (passes(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
