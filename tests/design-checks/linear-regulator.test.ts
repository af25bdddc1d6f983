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

  // Power balance by hand: no regulator gives more than its input less drop-out, so 3.0 V become 2.8 V at best.
  test('gives the input less drop-out where it cannot give more, and never more power than it takes', () => {
    const { values, sentence, verdict } = run({
      inputVoltage: '3.0 V',
      outputVoltage: '3.3 V',
      outputCurrent: '10 mA',
    });
    expect(values.reached.value).toBeCloseTo(2.8, 12);
    expect(values.loss.value).toBeCloseTo(2, 12);
    expect(values.efficiencyAtMost.value).toBeCloseTo(280 / 3, 12);
    expect([verdict, sentence]).toEqual(['speaks-against', expect.stringContaining('gives 2.8 V at most')]);
    const short = run({ inputVoltage: '3.35 V', outputVoltage: '3.3 V' }).values;
    expect(short.efficiencyAtMost.value).toBeCloseTo((100 * 3.15) / 3.35, 12);
    expect(run({ inputVoltage: '0.1 V' }).values).toMatchObject({
      reached: { value: 0 },
      efficiencyAtMost: { value: 0 },
    });
  });

  test('no loss is below 0 and no efficiency above 100 %, whatever the voltages', () => {
    const volts = fc.double({ min: 0.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(volts, volts, volts, volts, (inputVoltage, outputVoltage, dropoutVoltage, spread) => {
        const volt = (value: number, plusMinus = 0) => ({ value, unit: 'V', plusMinus });
        const { values } = linearRegulator.run({
          inputVoltage: volt(inputVoltage + spread, spread),
          outputVoltage: volt(outputVoltage),
          dropoutVoltage: volt(dropoutVoltage),
          outputCurrent: { value: 10, unit: 'mA' },
          quiescentCurrent: { value: 5, unit: 'uA' },
        });
        expect(values.loss.low).toBeGreaterThanOrEqual(0);
        expect(values.efficiencyAtMost.low).toBeGreaterThanOrEqual(0);
        expect(values.efficiencyAtMost.high).toBeLessThanOrEqual(100 + 1e-9);
        expect(values.efficiency.high).toBeLessThan(values.efficiencyAtMost.high + 1e-9);
        expect(values.reached.high).toBeLessThanOrEqual(inputVoltage + 2 * spread);
      }),
      { numRuns: 200 },
    );
  });

  test('the interval has the best efficiency, which lies where it begins to regulate', () => {
    const { values } = run({ inputVoltage: '2.1 ± 0.5 V' });
    // 1.8 of 2.0 V; at both ends of the input it is lower.
    expect(values.efficiencyAtMost.high).toBeCloseTo(90, 9);
    expect(values.efficiencyAtMost.low).toBeCloseTo(180 / 2.6, 9);
  });

  test('asks for what is missing', () => expectToAskForEachInput(linearRegulator, inputs(quiet)));
});
