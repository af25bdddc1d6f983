/** Shannon entropy of a distribution, in bits (Shannon 1948, section 6). */
export function entropyBits(probabilities: readonly number[]): number {
  return probabilities.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
}

/**
 * Expected information gain of an observation about a hypothesis, in bits: the mutual information of hypothesis and
 * outcome, H(hypothesis) - sum over outcomes of P(outcome) H(hypothesis | outcome) (Lindley 1956).
 * @param prior probability of each hypothesis; sums to 1
 * @param outcomes for each hypothesis, the probability of each outcome; every row sums to 1
 */
export function informationGainBits(
  prior: readonly number[],
  outcomes: readonly ReadonlyMap<string, number>[],
): number {
  const joint = new Map<string, number[]>();
  prior.forEach((p, h) => {
    for (const [outcome, likelihood] of outcomes[h]) {
      const row = joint.get(outcome) ?? new Array<number>(prior.length).fill(0);
      row[h] = p * likelihood;
      joint.set(outcome, row);
    }
  });
  let left = 0;
  for (const row of joint.values()) {
    const mass = row.reduce((sum, p) => sum + p, 0);
    if (mass > 0) left += mass * entropyBits(row.map((p) => p / mass));
  }
  // Rounding may leave a hair below nought.
  return Math.max(0, entropyBits(prior) - left);
}
