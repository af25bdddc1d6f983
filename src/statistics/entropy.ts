import { requireDistribution, requireSameLength } from './domain.ts';

/**
 * Entropy of a distribution in bits (Shannon, Bell System Technical Journal 27, 1948, section 6): how many yes-or-no
 * answers are missing on average. 0 when one outcome is certain, log2 n when n outcomes are equally likely.
 * @throws RangeError unless the probabilities sum to 1
 */
export function entropyBits(probabilities: readonly number[]): number {
  requireDistribution(probabilities, 'probabilities');
  return probabilities.reduce((bits, p) => bits - pLog2p(p), 0);
}

/**
 * Mutual information in bits of a joint distribution, a row for each value of one variable and a column for each of
 * the other (Shannon 1948, section 12): how much one says about the other, never below 0.
 * @throws RangeError unless rows are equally long and all cells sum to 1
 */
export function mutualInformationBits(joint: readonly (readonly number[])[]): number {
  for (const row of joint) requireSameLength(joint[0], 'row 1', row, 'another row');
  requireDistribution(joint.flat(), 'the joint distribution');
  const columns = joint[0].map((_, column) => joint.reduce((sum, row) => sum + row[column], 0));
  let bits = 0;
  for (const row of joint) {
    const share = row.reduce((sum, p) => sum + p, 0);
    row.forEach((p, column) => {
      if (p > 0) bits += p * Math.log2(p / (share * columns[column]));
    });
  }
  return Math.max(0, bits);
}

/**
 * Bits that an observation is expected to give about which hypothesis holds, before it is made (Lindley, Annals of
 * Mathematical Statistics 27, 1956, 986-1005): the mutual information of hypothesis and outcome.
 * @param priors probability of each hypothesis; sums to 1
 * @param outcomes for each hypothesis the distribution of the outcomes under it, all of the same outcomes
 * @throws RangeError unless lengths agree and each is a distribution
 */
export function expectedInformationBits(
  priors: readonly number[],
  outcomes: readonly (readonly number[])[],
): number {
  requireSameLength(priors, 'priors', outcomes, 'outcomes');
  requireDistribution(priors, 'priors');
  outcomes.forEach((row, at) => requireDistribution(row, `outcomes[${at}]`));
  return mutualInformationBits(outcomes.map((row, at) => row.map((p) => p * priors[at])));
}

/**
 * Information gain in bits of splitting cases by an attribute (Quinlan, Machine Learning 1, 1986, 81-106, section 4).
 * @param counts a row for each value of the attribute, a column for each class
 * @throws RangeError unless rows are equally long, counts are >= 0 and some count is above 0
 */
export function informationGainBits(counts: readonly (readonly number[])[]): number {
  const total = counts.flat().reduce((sum, count) => sum + count, 0);
  if (!(total > 0)) throw new RangeError('there is no case to gain information from');
  return mutualInformationBits(counts.map((row) => row.map((count) => count / total)));
}

function pLog2p(p: number): number {
  return p === 0 ? 0 : p * Math.log2(p);
}
