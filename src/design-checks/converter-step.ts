import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const converterStep = defineCheck({
  name: 'converter-step',
  title: 'Step and ideal signal to noise of a converter, against the signal it is to resolve',
  required: {
    resolutionBits: {
      unit: 'bit',
      min: 1,
      max: 32,
      beyond: 'no converter resolves more (common practice, no source)',
      whole: true,
      meaning: 'Resolution of the converter.',
      typical: { low: 8, high: 24, note: 'common practice, no source' },
    },
    fullScale: {
      unit: 'V',
      above: 0,
      meaning: 'Input range of the converter.',
      typical: { low: 1, high: 3.6, note: 'common practice, no source' },
    },
    signalStep: {
      unit: 'uV',
      above: 0,
      meaning: 'Smallest change of the signal at the converter input.',
      typical: { low: 1, high: 1000, note: 'common practice, no source' },
    },
  },
  outputs: {
    step: { unit: 'uV', meaning: 'One step (least significant bit).' },
    quantisationNoise: { unit: 'uV', meaning: 'Root-mean-square noise of rounding to steps.' },
    idealSignalToNoise: { unit: 'dB', meaning: 'Ideal signal to noise for a full-scale sine.' },
    steps: { unit: '1', meaning: 'Steps in the smallest change of the signal.' },
  },
  formula: 'step = full scale/2^N; noise = step/√12; signal to noise = 20 log10(2^N √1.5) = 6.02 N + 1.76 dB',
  source: 'Bennett, Spectra of Quantized Signals, Bell System Technical Journal 27 (1948) 446-472',
  limits:
    'An ideal converter and a busy signal; noise and non-linearity of a real one take one to several bits (common ' +
    'practice, no source). The verdict is a rule of this check: supports from 2 steps, speaks against below half a step.',
  hazards: ['lithium-cell', 'probing'],
  compute({ resolutionBits, fullScale, signalStep }) {
    const levels = 2 ** resolutionBits;
    const step = (fullScale * 1e6) / levels;
    return {
      step,
      quantisationNoise: step / Math.sqrt(12),
      idealSignalToNoise: 20 * Math.log10(levels * Math.sqrt(1.5)),
      steps: signalStep / step,
    };
  },
  judge({ step, steps, idealSignalToNoise }) {
    return {
      verdict: steps.low >= 2 ? 'supports' : steps.high < 0.5 ? 'speaks-against' : 'neutral',
      sentence:
        `One step of the converter is ${formatValue(step)}, so the smallest change of the signal spans ${formatValue(steps)} steps; ` +
        `at best it has ${formatValue(idealSignalToNoise)} of signal to noise.`,
    };
  },
});
