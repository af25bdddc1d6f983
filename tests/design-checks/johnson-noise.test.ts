import { describe, expect, test } from 'vitest';
import { johnsonNoise } from '../../src/design-checks/johnson-noise.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Johnson 1928, Nyquist 1928; 1 kΩ at 300 K has 4.07 nV/√Hz.
const { johnson } = reference('signal');
const source = { resistance: '1 kΩ', temperature: '300 K', bandwidth: '100 Hz', inputNoise: '20 nV' };

describe('johnson noise', () => {
  test('is that of the published kilohm, and grows with the root of the bandwidth', () => {
    const { values } = johnsonNoise.run(inputs(source));
    expect(values.density.value).toBeCloseTo(johnson.nV_per_sqrt_Hz, 5);
    expect(values.thermalNoise.value).toBeCloseTo(10 * johnson.nV_per_sqrt_Hz, 4);
    expect(values.total.value ** 2).toBeCloseTo(values.thermalNoise.value ** 2 + 400, 6);
  });

  test('does not mind Ω or kΩ, °C or K, kHz or Hz', () => {
    const other = johnsonNoise.run(
      inputs({ resistance: '1000 Ω', temperature: '26.85 °C', bandwidth: '0.1 kHz', inputNoise: '0.02 uV' }),
    );
    expect(other.values.total.value).toBeCloseTo(johnsonNoise.run(inputs(source)).values.total.value, 9);
  });

  test('judges the amplifier against the source', () => {
    const verdict = (inputNoise: string) => johnsonNoise.run(inputs({ ...source, inputNoise })).verdict;
    expect(verdict('20 nV')).toBe('supports');
    expect(verdict('80 nV')).toBe('neutral');
    expect(verdict('1 uV')).toBe('speaks-against');
  });

  test('asks for what is missing', () => expectToAskForEachInput(johnsonNoise, inputs(source)));
});
