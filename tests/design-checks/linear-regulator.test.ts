import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linearRegulator } from '../../src/design-checks/linear-regulator.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// P = (Vin - Vout) Iout; efficiency at most Vout/Vin.
const { linear_regulator: worked } = reference('power');
const quiet = {
  inputVoltage: '4.2 V',
  outputVoltage: '1.8 V',
  outputCurrent: '15 mA',
  dropoutVoltage: '0.2 V',
};
const run = (given: Record<string, string>) => linearRegulator.run(inputs({ ...quiet, ...given }));

describe('linear regulator', () => {
  test('loses what the worked case loses', () => {
    const { values } = linearRegulator.run({
      ...inputs(quiet),
      inputVoltage: { value: worked.vin, unit: 'V' },
      outputVoltage: { value: worked.vout, unit: 'V' },
      outputCurrent: { value: worked.iout_mA, unit: 'mA' },
    });
    expect(values.loss).toMatchObject({ unit: 'mW', value: expect.closeTo(worked.loss_mW, 9) });
    expect(values.efficiencyAtMost.value / 100).toBeCloseTo(worked.efficiency_max, 6);
    expect(values.headroom.value).toBeCloseTo(2.2, 9);
  });

  test('is less efficient with its own current', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 1000, noNaN: true }), (value) => {
        const { efficiency, efficiencyAtMost } = linearRegulator.run({
          ...inputs(quiet),
          quiescentCurrent: { value, unit: 'uA' },
        }).values;
        expect(efficiency.value).toBeLessThan(efficiencyAtMost.value);
      }),
      { numRuns: 50 },
    );
    // 15 mA of 30 mA drawn reach the load.
    const { values } = run({ quiescentCurrent: '15 mA' });
    expect(values.efficiency.value).toBeCloseTo(values.efficiencyAtMost.value / 2, 9);
  });

  test('gives the same answer in mA or A, V or mV', () => {
    expect(run({ outputCurrent: '0.015 A', outputVoltage: '1800 mV' })).toEqual(run({}));
  });

  test('speaks against a regulator that drops out, is neutral while that is open or the loss is large', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ outputCurrent: '100 mA' }).verdict).toBe('neutral');
    expect(run({ inputVoltage: '1.9 V' })).toMatchObject({ verdict: 'speaks-against' });
    expect(run({ inputVoltage: '2.0 ± 0.1 V' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(linearRegulator, inputs(quiet)));
});
