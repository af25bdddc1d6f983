import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inputReferredNoise } from '../../src/design-checks/input-referred-noise.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// No published case; worked by hand with a 3-4-5 triangle: amplifier 3, link 40 over a gain of 10.
const pad = { gain: '20 dB', inputNoise: '3 uV', linkNoise: '40 uV', followingNoise: '0 uV' };
const run = (given: Record<string, string>) => inputReferredNoise.run(inputs({ ...pad, ...given }));

describe('input-referred noise', () => {
  test('adds in power, the link divided by the gain ahead of it', () => {
    const { values, verdict } = run({});
    expect(values.atSensor.value).toBeCloseTo(5000, 9);
    expect(values.afterLink.value).toBeCloseTo(Math.sqrt(9 + 1600) * 1000, 6);
    expect(values.bought.value).toBeCloseTo(10 * Math.log10(1609 / 25), 9);
    expect(verdict).toBe('supports');
  });

  test('gives the same answer in nV or µV, and buys more the noisier the link', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (microvolt) => {
        const bought = (value: number, unit: string) =>
          inputReferredNoise.run({ ...inputs(pad), linkNoise: { value, unit } }).values.bought.value;
        expect(bought(microvolt * 1000, 'nV')).toBeCloseTo(bought(microvolt, 'uV'), 9);
        expect(bought(microvolt + 1, 'uV')).toBeGreaterThan(bought(microvolt, 'uV'));
      }),
      { numRuns: 50 },
    );
  });

  test('speaks against where the link is quiet', () => {
    expect(run({ linkNoise: '0 uV' }).verdict).toBe('speaks-against');
    expect(run({ linkNoise: '1 uV' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(inputReferredNoise, inputs(pad)));
});
