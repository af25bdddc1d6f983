import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/**
 * Noise of the mean of `count` readings over the noise of one, when every two readings have errors that
 * correlate by `correlation`: √((1 + (N - 1) r)/N). Variance of a mean, standard statistics.
 */
export function noiseRatio(count: number, correlation: number): number {
  // A correlation below -1/(N - 1) cannot hold between all pairs at once; the smallest variance is 0.
  return Math.sqrt(Math.max(0, (1 + (count - 1) * correlation) / count));
}

export const averaging = defineCheck({
  name: 'averaging',
  title: 'What averaging several like sensors buys',
  required: {
    count: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of like sensors that read the same thing.',
      typical: { low: 2, high: 4, note: 'common practice, no source' },
    },
    correlation: {
      unit: '1',
      min: -1,
      max: 1,
      meaning:
        'Correlation of their errors: 0 for independent noise, 1 for a common cause, below 0 where they make up for one another.',
      typical: { low: 0, high: 0.3, note: 'common practice, no source' },
    },
  },
  optional: {
    noise: { unit: 'm/s2', min: 0, meaning: 'Noise of one reading, for accelerometers.' },
  },
  outputs: {
    noiseRatio: { unit: '1', meaning: 'Noise of the mean over the noise of one sensor.' },
    gained: { unit: 'dB', meaning: 'The same as a gain of signal to noise.' },
  },
  furtherOutputs: { averagedNoise: { unit: 'm/s2', meaning: 'Noise of the mean.' } },
  formula: 'noise of the mean = noise of one × √((1 + (N - 1) r)/N); 1/√N for independent errors',
  source: 'Variance of a mean of equally correlated errors, standard statistics',
  limits:
    'Like sensors, equally weighted, every two equally correlated, which goes down to -1/(N - 1). ' +
    'The verdict is a rule of this check: supports from a gain of 2 dB, speaks against up to 0.5 dB.',
  compute({ count, correlation, noise }) {
    const ratio = noiseRatio(count, correlation);
    return {
      noiseRatio: ratio,
      gained: -20 * Math.log10(ratio),
      averagedNoise: noise === undefined ? undefined : noise * ratio,
    };
  },
  judge({ noiseRatio: ratio, gained }, { count }) {
    return {
      verdict: gained.low >= 2 ? 'supports' : gained.high <= 0.5 ? 'speaks-against' : 'neutral',
      sentence: `Averaging ${formatValue(count)} sensors leaves ${formatValue(ratio)} of the noise of one, a gain of ${formatValue(gained)}.`,
    };
  },
});
