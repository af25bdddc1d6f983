import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chargeRate } from '../../src/design-checks/charge-rate.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Definition of the C rate: current over rated capacity.
const cases: { mAh: number; mA: number; C: number }[] = reference('power').c_rate.cases;
const cell = { capacity: '65 mAh', chargeCurrent: '32.5 mA', rateAllowed: '1 /h' };
const run = (given: Record<string, string>) => chargeRate.run(inputs({ ...cell, ...given }));

describe('charge rate', () => {
  test.each(cases)('$mA mA into $mAh mAh is $C C', ({ mAh, mA, C }) => {
    const { values, sentence } = run({ capacity: `${mAh} mAh`, chargeCurrent: `${mA} mA` });
    expect(values.rate.value).toBeCloseTo(C, 12);
    expect(values.atLeast.value).toBeCloseTo(1 / C, 12);
    expect(sentence).toContain(`${C} C`);
  });

  test('gives the same answer in mA or A, coulomb or mAh, and grows with the current', () => {
    expect(run({ capacity: '234 C' }).values.rate.value).toBeCloseTo(0.5, 9);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (milliampere) => {
        const rate = (value: number, unit: string) =>
          chargeRate.run({ ...inputs(cell), chargeCurrent: { value, unit } }).values.rate.value;
        expect(rate(milliampere / 1000, 'A')).toBeCloseTo(rate(milliampere, 'mA'), 9);
        expect(rate(milliampere + 1, 'mA')).toBeGreaterThan(rate(milliampere, 'mA'));
      }),
      { numRuns: 50 },
    );
  });

  test('judges against the rate allowed, and cautions', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ chargeCurrent: '130 mA' }).verdict).toBe('speaks-against');
    expect(run({ chargeCurrent: '65 ± 5 mA' }).verdict).toBe('neutral');
    expect(chargeRate.limits).toMatch(/lithium.*fire/u);
  });

  test('asks for what is missing', () => expectToAskForEachInput(chargeRate, inputs(cell)));
});
