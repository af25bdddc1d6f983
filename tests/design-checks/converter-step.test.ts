import { describe, expect, test } from 'vitest';
import { converterStep } from '../../src/design-checks/converter-step.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Bennett 1948; ideal signal to noise 6.02 N + 1.76 dB for a full-scale sine.
const { adc } = reference('signal');
const sensor = { resolutionBits: '12 bits', fullScale: '3.3 V', signalStep: '2 mV' };

describe('converter step', () => {
  test.each(adc.cases as { bits: number; snr_dB: number }[])(
    '$bits bits have $snr_dB dB',
    ({ bits, snr_dB }) => {
      const { values } = converterStep.run(inputs({ ...sensor, resolutionBits: `${bits} bits` }));
      expect(values.idealSignalToNoise.value).toBeCloseTo(snr_dB, 4);
      expect(values.idealSignalToNoise.value).toBeCloseTo(6.02 * bits + 1.76, 1);
    },
  );

  test.each(adc.lsb as { bits: number; full_scale_V: number; lsb_V: number }[])(
    '$bits bits over $full_scale_V V have steps of $lsb_V V',
    ({ bits, full_scale_V, lsb_V }) => {
      const { step } = converterStep.run(
        inputs({ ...sensor, resolutionBits: `${bits} bits`, fullScale: `${full_scale_V} V` }),
      ).values;
      expect(step.value * 1e-6).toBeCloseTo(lsb_V, 9);
    },
  );

  test('does not mind V or mV, and judges the signal against the step', () => {
    expect(converterStep.run(inputs({ ...sensor, fullScale: '3300 mV' }))).toEqual(
      converterStep.run(inputs(sensor)),
    );
    const verdict = (signalStep: string) => converterStep.run(inputs({ ...sensor, signalStep })).verdict;
    expect(verdict('2 mV')).toBe('supports');
    expect(verdict('1 mV')).toBe('neutral');
    expect(verdict('100 uV')).toBe('speaks-against');
  });

  test('asks for what is missing', () => expectToAskForEachInput(converterStep, inputs(sensor)));
});
