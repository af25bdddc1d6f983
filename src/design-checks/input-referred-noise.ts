import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const inputReferredNoise = defineCheck({
  name: 'input-referred-noise',
  title: 'Noise as seen at the sensor, with the amplifier ahead of a noisy link or behind it',
  required: {
    gain: {
      unit: 'dB',
      meaning: 'Voltage gain of the amplifier.',
      typical: { low: 10, high: 60, note: 'common practice, no source' },
    },
    inputNoise: {
      unit: 'nV',
      above: 0,
      meaning: 'Input-referred noise of the amplifier, root mean square.',
      typical: { low: 300, high: 5000, note: 'common practice, no source' },
    },
    linkNoise: {
      unit: 'nV',
      min: 0,
      meaning: 'Noise that the link picks up, over the same bandwidth.',
      typical: { low: 100, high: 10000, note: 'common practice, no source' },
    },
    followingNoise: {
      unit: 'nV',
      min: 0,
      meaning: 'Noise of what follows, such as a converter, at its own input.',
      typical: { low: 1000, high: 100000, note: 'common practice, no source' },
    },
  },
  outputs: {
    atSensor: { unit: 'nV', meaning: 'Noise referred to the sensor, amplifier ahead of the link.' },
    afterLink: { unit: 'nV', meaning: 'Noise referred to the sensor, amplifier behind the link.' },
    bought: { unit: 'dB', meaning: 'The difference: what the place at the sensor buys.' },
  },
  formula: 'at sensor: √(a² + (l² + f²)/G²); behind the link: √(a² + l² + f²/G²)',
  source:
    'Independent noise adds in power and is referred to the input by the gain ahead of it, standard electronics',
  limits:
    'Independent noise, one bandwidth, a link without loss (for loss see noise-of-a-chain). ' +
    'The verdict is a rule of this check: supports from 1 dB, speaks against up to 0.1 dB.',
  hazards: ['electrode', 'probing'],
  compute({ gain, inputNoise, linkNoise, followingNoise }) {
    const factor = 10 ** (gain / 20);
    const atSensor = Math.hypot(inputNoise, linkNoise / factor, followingNoise / factor);
    const afterLink = Math.hypot(inputNoise, linkNoise, followingNoise / factor);
    return { atSensor, afterLink, bought: 20 * Math.log10(afterLink / atSensor) };
  },
  judge({ atSensor, afterLink, bought }) {
    return {
      verdict: bought.low >= 1 ? 'supports' : bought.high <= 0.1 ? 'speaks-against' : 'neutral',
      sentence:
        `Seen at the sensor there are ${formatValue(atSensor)} of noise with the amplifier there, ` +
        `${formatValue(afterLink)} with it behind the link: the place buys ${formatValue(bought)}.`,
    };
  },
});
