import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/** One stage of a chain: available power gain and noise figure, both in dB. */
export interface Stage {
  readonly gain: number;
  readonly noiseFigure: number;
}

/**
 * Noise factor (a ratio, not dB) of stages one behind the other: F = F1 + (F2 - 1)/G1 + (F3 - 1)/(G1 G2) + …
 * (Friis, Noise Figures of Radio Receivers, Proc. IRE 32, 1944, 419-422). Without stages it is 1.
 */
export function noiseFactorOfChain(stages: readonly Stage[]): number {
  let factor = 1;
  let gain = 1;
  for (const stage of stages) {
    factor += (ratio(stage.noiseFigure) - 1) / gain;
    gain *= ratio(stage.gain);
  }
  return factor;
}

function ratio(decibel: number): number {
  return 10 ** (decibel / 10);
}

/** Supports from here on; below a tenth of it the place makes no difference worth a sentence. */
const WORTH_IT_DB = 1;

export const noiseOfAChain = defineCheck({
  name: 'noise-of-a-chain',
  title: 'What an amplifier at the sensor buys against one behind the link',
  required: {
    gain: {
      unit: 'dB',
      meaning: 'Power gain of the amplifier.',
      typical: { low: 10, high: 60, note: 'common practice, no source' },
    },
    noiseFigure: {
      unit: 'dB',
      min: 0,
      meaning: 'Noise figure of the amplifier.',
      typical: { low: 1, high: 10, note: 'common practice, no source' },
    },
    linkLoss: {
      unit: 'dB',
      min: 0,
      meaning: 'Loss of the link between sensor and the stage that follows.',
      typical: { low: 0.1, high: 6, note: 'common practice, no source' },
    },
    followingNoiseFigure: {
      unit: 'dB',
      min: 0,
      meaning: 'Noise figure of what follows the link, seen at its own input.',
      typical: { low: 5, high: 20, note: 'common practice, no source' },
    },
  },
  outputs: {
    atSensor: { unit: 'dB', meaning: 'Noise figure of the chain with the amplifier ahead of the link.' },
    afterLink: { unit: 'dB', meaning: 'Noise figure of the chain with the amplifier behind the link.' },
    bought: { unit: 'dB', meaning: 'The difference: what the place at the sensor buys.' },
  },
  formula:
    'F = F1 + (F2 - 1)/G1 + (F3 - 1)/(G1 G2); the link has gain 1/L and, being passive, noise factor L',
  source: 'Friis, Noise Figures of Radio Receivers, Proc. IRE 32 (1944) 419-422',
  limits:
    'Matched stages, and no interference on the link, which input-referred-noise is for. Noise figures hold with the source ' +
    'at 290 K, and a passive link has a noise factor of L only when it is at 290 K too; with a warmer source, such as skin ' +
    'at about 307 K, the place buys a little less. ' +
    'The verdict is a rule of this check: supports from 1 dB, speaks against up to 0.1 dB.',
  hazards: ['electrode', 'probing'],
  compute({ gain, noiseFigure, linkLoss, followingNoiseFigure }) {
    const amplifier = { gain, noiseFigure };
    const link = { gain: -linkLoss, noiseFigure: linkLoss };
    const following = { gain: 0, noiseFigure: followingNoiseFigure };
    const atSensor = 10 * Math.log10(noiseFactorOfChain([amplifier, link, following]));
    const afterLink = 10 * Math.log10(noiseFactorOfChain([link, amplifier, following]));
    return { atSensor, afterLink, bought: afterLink - atSensor };
  },
  judge({ atSensor, afterLink, bought }) {
    return {
      verdict:
        bought.low >= WORTH_IT_DB
          ? 'supports'
          : bought.high <= WORTH_IT_DB / 10
            ? 'speaks-against'
            : 'neutral',
      sentence:
        `With the amplifier at the sensor the chain has a noise figure of ${formatValue(atSensor)}, ` +
        `behind the link ${formatValue(afterLink)}: the place buys ${formatValue(bought)}.`,
    };
  },
});
