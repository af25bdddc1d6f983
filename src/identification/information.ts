import { mutualInformationBits } from '../statistics/entropy.ts';

/**
 * Expected information gain of an observation about a hypothesis, in bits: the mutual information of hypothesis and
 * outcome (Lindley 1956).
 * @param prior probability of each hypothesis; sums to 1
 * @param outcomes for each hypothesis, the probability of each outcome that it allows; every row sums to 1
 * @throws RangeError when one does not
 */
export function expectedGainBits(
  prior: readonly number[],
  outcomes: readonly ReadonlyMap<string, number>[],
): number {
  const names = [...new Set(outcomes.flatMap((row) => [...row.keys()]))];
  return mutualInformationBits(
    prior.map((p, hypothesis) => names.map((name) => p * (outcomes[hypothesis].get(name) ?? 0))),
  );
}
