import { requireProbabilities, requireProbability } from './domain.ts';

/**
 * Probability that at least one of several independent causes acts (noisy-OR; Pearl, Probabilistic Reasoning in
 * Intelligent Systems, 1988, section 4.3.2).
 * @param causes probability that each acts; none at all gives `leak`
 * @param leak probability that the effect comes about without any of them
 * @throws RangeError when a probability is outside [0, 1]
 */
export function noisyOr(causes: readonly number[], leak = 0): number {
  requireProbability(leak, 'the leak');
  requireProbabilities(causes, 'causes');
  // Summed as logarithms of the complements, so that many tiny probabilities do not round away.
  let logNone = Math.log1p(-leak);
  for (const p of causes) logNone += Math.log1p(-p);
  return logNone === 0 ? 0 : -Math.expm1(logNone);
}
