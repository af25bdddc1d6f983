import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boostInputCurrent } from '../../src/design-checks/boost-input-current.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Power balance; ideal boost converter in continuous conduction.
const { boost_input_current: worked, ideal_boost_duty: ideal } = reference('power');
const display = { inputVoltage: '3.7 V', outputVoltage: '12 V', outputCurrent: '10 mA', efficiency: '80 %' };

describe('boost input current', () => {
  test('is that of the worked case', () => {
    const { values, verdict } = boostInputCurrent.run({
      inputVoltage: { value: worked.vin, unit: 'V' },
      outputVoltage: { value: worked.vout, unit: 'V' },
      outputCurrent: { value: worked.iout_mA, unit: 'mA' },
      efficiency: { value: worked.efficiency, unit: '1' },
    });
    expect(values.inputCurrent.value).toBeCloseTo(worked.iin_mA, 4);
    expect(values.dutyCycle.value).toBeCloseTo(ideal.duty, 6);
    // 120 mW out, 150 mW in.
    expect(values.loss).toMatchObject({ unit: 'mW', value: expect.closeTo(30, 9) });
    expect(verdict).toBe('supports');
  });

  test('gives the same answer in mA or A, and grows with the load', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (milliampere) => {
        const drawn = (value: number, unit: string) =>
          boostInputCurrent.run({ ...inputs(display), outputCurrent: { value, unit } }).values.inputCurrent
            .value;
        expect(drawn(milliampere / 1000, 'A')).toBeCloseTo(drawn(milliampere, 'mA'), 9);
        expect(drawn(milliampere + 1, 'mA')).toBeGreaterThan(drawn(milliampere, 'mA'));
      }),
      { numRuns: 50 },
    );
  });

  test('carries the spread of the efficiency into the current, up to 100 %', () => {
    const { inputCurrent } = boostInputCurrent.run(inputs({ ...display, efficiency: '90 ± 20 %' })).values;
    expect(inputCurrent.low).toBeCloseTo(120 / 3.7, 9);
    expect(inputCurrent.high).toBeCloseTo(120 / 3.7 / 0.7, 9);
  });

  test('speaks against a boost that is not needed or takes more than allowed', () => {
    const verdict = (given: Record<string, string>) =>
      boostInputCurrent.run(inputs({ ...display, ...given })).verdict;
    expect(verdict({ outputVoltage: '3.3 V' })).toBe('speaks-against');
    expect(verdict({ inputCurrentAllowed: '30 mA' })).toBe('speaks-against');
    expect(verdict({ inputCurrentAllowed: '60 mA' })).toBe('supports');
    expect(verdict({ outputVoltage: '4 ± 1 V' })).toBe('neutral');
    const low = boostInputCurrent.run(inputs({ ...display, outputVoltage: '3.3 V' }));
    expect(low.values.dutyCycle.value).toBe(0);
    expect(low.sentence).toContain('No boost is needed');
  });

  test('asks for what is missing', () => expectToAskForEachInput(boostInputCurrent, inputs(display)));
});
