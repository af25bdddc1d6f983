import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hapticStart } from '../../src/design-checks/haptic-start.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// Worked by hand from Ohm's law: 120 mA through 0.5 Ω drop 60 mV and make 7.2 mW.
const wrist = {
  cellVoltage: '3.7 V',
  internalResistance: '0.5 Ω',
  startCurrent: '120 mA',
  lowestVoltage: '3.0 V',
};
const run = (given: Record<string, string>) => hapticStart.run(inputs({ ...wrist, ...given }));

describe('haptic start', () => {
  test("sags by Ohm's law and heats by Joule's", () => {
    const { values } = run({});
    expect(values.sag).toMatchObject({ unit: 'mV', value: 60 });
    expect(values.voltageAtStart.value).toBeCloseTo(3.64, 12);
    expect(values.margin.value).toBeCloseTo(640, 9);
    expect(values.heat).toMatchObject({ unit: 'mW', value: expect.closeTo(7.2, 12) });
    expect(run({ otherCurrent: '40 mA' }).values.sag.value).toBe(80);
  });

  test('draws no more than the short-circuit current of the cell, so that no voltage falls below 0', () => {
    const { values } = run({ internalResistance: '50 Ω' });
    // 3.7 V over 50 Ω are 74 mA and 273.8 mW.
    expect(values.current.value).toBeCloseTo(74, 9);
    expect(values.voltageAtStart.value).toBeCloseTo(0, 9);
    expect(values.heat.value).toBeCloseTo(273.8, 9);
    // Most heat where the resistance just lets the current through: 3.7 V × 120 mA.
    expect(run({ internalResistance: '40 ± 20 Ω' }).values.heat.high).toBeCloseTo(444, 9);
  });

  test('gives the same answer in mA or A, and sags more the larger the resistance', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 10, noNaN: true }), (ohm) => {
        const sag = (value: number, startCurrent: string) =>
          hapticStart.run({
            ...inputs({ ...wrist, startCurrent }),
            internalResistance: { value, unit: 'Ohm' },
          }).values.sag.value;
        expect(sag(ohm, '0.12 A')).toBeCloseTo(sag(ohm, '120 mA'), 9);
        expect(sag(ohm + 0.1, '120 mA')).toBeGreaterThan(sag(ohm, '120 mA'));
      }),
      { numRuns: 50 },
    );
  });

  test('speaks against a start that resets the device', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ cellVoltage: '3.1 V' }).verdict).toBe('neutral');
    expect(run({ cellVoltage: '3.1 V', internalResistance: '2 Ω' }).verdict).toBe('speaks-against');
    expect(run({ cellVoltage: '3.2 ± 0.2 V' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(hapticStart, inputs(wrist)));
});
