import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runTime } from '../../src/design-checks/run-time.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Charge over current.
const power = reference('power');
const band = { capacity: '65 mAh', activeCurrent: '8 mA', sleepCurrent: '0.01 mA', activeShare: '2 %' };
const run = (given: Record<string, string>) => runTime.run(inputs({ ...band, ...given }));

describe('run time', () => {
  test.each(power.run_time.cases as { mAh: number; mA: number; hours: number }[])(
    '$mAh mAh at $mA mA last $hours h',
    ({ mAh, mA, hours }) => {
      const { values } = run({ capacity: `${mAh} mAh`, activeCurrent: `${mA} mA`, activeShare: '100 %' });
      expect(values.runTime.value).toBeCloseTo(hours, 9);
      expect(values.alwaysOn.value).toBeCloseTo(hours, 9);
    },
  );

  test('averages over the duty cycle as the worked case, and holds its energy', () => {
    const { duty_cycle: duty, energy } = power;
    const { values } = runTime.run({
      capacity: { value: energy.mAh, unit: 'mA.h' },
      cellVoltage: { value: energy.V, unit: 'V' },
      activeCurrent: { value: duty.active_mA, unit: 'mA' },
      sleepCurrent: { value: duty.sleep_mA, unit: 'mA' },
      activeShare: { value: duty.active_fraction, unit: '1' },
    });
    expect(values.averageCurrent.value).toBeCloseTo(duty.average_mA, 9);
    expect(values.energy.value).toBeCloseTo(energy.Wh, 9);
  });

  test('gives the same answer in mA or A, and never runs longer by working more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99 }), (percent) => {
        const hours = (share: number, unit: string, active: string) =>
          runTime.run({ ...inputs({ ...band, activeCurrent: active }), activeShare: { value: share, unit } })
            .values.runTime.value;
        expect(hours(percent / 100, '1', '0.008 A')).toBeCloseTo(hours(percent, '%', '8 mA'), 9);
        expect(hours(percent + 1, '%', '8 mA')).toBeLessThan(hours(percent, '%', '8 mA'));
      }),
      { numRuns: 50 },
    );
  });

  test('judges what resting buys, and takes the usable share off the time', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ activeShare: '75 %' }).verdict).toBe('neutral');
    expect(run({ activeShare: '99 %' }).verdict).toBe('speaks-against');
    expect(run({ usableShare: '80 %' }).values.runTime.value).toBeCloseTo(
      0.8 * run({}).values.runTime.value,
      9,
    );
  });

  test('asks for what is missing', () => expectToAskForEachInput(runTime, inputs(band)));
});
