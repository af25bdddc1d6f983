import { requireDistribution, requireProbability, requireSameLength } from './domain.ts';
import { type NoData, noData } from './no-data.ts';

// Bayes' theorem in odds, and evidence on a scale that adds up: ten decibans multiply the odds by ten, and about one
// deciban is the least change of mind a person notices (Good, Probability and the Weighing of Evidence, 1950;
// Good, Bayesian Statistics 2, 1985, 249-270).

/** p / (1 - p); Infinity for certainty. @throws RangeError unless 0 <= p <= 1 */
export function oddsOf(probability: number): number {
  requireProbability(probability, 'the probability');
  return probability / (1 - probability);
}

/** Odds as a probability; Infinity gives 1. @throws RangeError for negative odds */
export function probabilityOf(odds: number): number {
  if (!(odds >= 0)) throw new RangeError(`odds must be 0 or more; they are ${odds}`);
  return odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds);
}

/**
 * Weight of evidence in decibans: 10 log10 of how much likelier the evidence is if the hypothesis holds than if not.
 * Infinity when it is impossible otherwise, -Infinity when it is impossible under the hypothesis.
 * @throws RangeError unless both are probabilities (or densities >= 0) and not both are 0
 */
export function weightOfEvidence(ifTrue: number, ifFalse: number): number {
  if (!(ifTrue >= 0 && ifFalse >= 0) || (ifTrue === 0 && ifFalse === 0)) {
    throw new RangeError(
      `evidence needs likelihoods of 0 or more, not both 0; they are ${ifTrue} and ${ifFalse}`,
    );
  }
  return 10 * (Math.log10(ifTrue) - Math.log10(ifFalse));
}

/**
 * A probability after evidence of the given decibans. Certainties stay what they are.
 * @throws RangeError unless 0 <= prior <= 1 and the weight is a number
 */
export function updated(prior: number, decibans: number): number {
  requireProbability(prior, 'the prior');
  if (Number.isNaN(decibans)) throw new RangeError('the weight of evidence is NaN');
  if (prior === 0 || prior === 1) return prior;
  // From the smaller side, so that neither a tiny probability nor a tiny doubt is rounded away.
  return 1 / (1 + ((1 - prior) / prior) * 10 ** (-decibans / 10));
}

/** What one piece of evidence does to each of several rival hypotheses. */
export interface Posterior {
  readonly kind: 'posterior';
  /** Same order as the priors; sums to 1. */
  readonly probabilities: readonly number[];
  /**
   * Decibans for (above 0) or against (below) each hypothesis, set against all rivals together in the proportions of
   * their priors. Null where the prior is 0 or 1: nothing can move it.
   */
  readonly decibans: readonly (number | null)[];
}

/**
 * Bayes' theorem over rival hypotheses of which exactly one holds.
 * @param priors sum to 1
 * @param likelihoods probability or density of the evidence under each, on one common scale
 * @throws RangeError unless lengths agree, priors are a distribution, likelihoods finite and >= 0
 */
export function posterior(priors: readonly number[], likelihoods: readonly number[]): Posterior | NoData {
  requireSameLength(priors, 'priors', likelihoods, 'likelihoods');
  requireDistribution(priors, 'priors');
  likelihoods.forEach((value, at) => {
    if (!(value >= 0 && Number.isFinite(value)))
      throw new RangeError(`likelihoods[${at}] must be finite and 0 or more; it is ${value}`);
  });
  // Only ratios count; the greatest becomes 1, so that products of many small likelihoods do not vanish.
  const maximum = likelihoods.reduce((most, one, at) => (priors[at] > 0 ? Math.max(most, one) : most), 0);
  if (maximum === 0) return noData('the evidence is impossible under every hypothesis');
  const joint = priors.map((prior, at) => (prior === 0 ? 0 : prior * (likelihoods[at] / maximum)));
  const rivals = sumsOfOthers(joint);
  const total = joint[0] + rivals[0];
  const decibans = priors.map((prior, at) =>
    prior === 0 || prior === 1 ? null : weightOfEvidence(joint[at] / prior, rivals[at] / (1 - prior)),
  );
  return { kind: 'posterior', probabilities: joint.map((one) => one / total), decibans };
}

/** For each value the sum of all others, added and never subtracted, so that small rivals keep their digits. */
function sumsOfOthers(values: readonly number[]): Float64Array {
  const sums = new Float64Array(values.length);
  let before = 0;
  for (let at = 0; at < values.length; at++) {
    sums[at] = before;
    before += values[at];
  }
  let after = 0;
  for (let at = values.length - 1; at >= 0; at--) {
    sums[at] += after;
    after += values[at];
  }
  return sums;
}
