import { describe, expect, test } from 'vitest';
import { switchedOff } from '../../src/design-checks/switched-off.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Charge over current.
const power = reference('power');
const sensor = { sleepCurrent: '2 uA', leakage: '0.1 uA', capacity: '65 mAh' };
const run = (given: Record<string, string>) => switchedOff.run(inputs({ ...sensor, ...given }));

describe('switched off', () => {
  test.each(power.run_time.cases as { mAh: number; mA: number; hours: number }[])(
    'what would empty $mAh mAh in $hours h takes 24 h over that of it in a day',
    ({ mAh, mA, hours }) => {
      const { values } = run({ capacity: `${mAh} mAh`, sleepCurrent: `${mA} mA`, leakage: '0 uA' });
      expect(values.shareADay.value).toBeCloseTo((100 * 24) / hours, 9);
    },
  );

  test('counts every load behind the switch, and subtracts the switch', () => {
    expect(run({}).values.saved.value).toBeCloseTo(1.9, 12);
    expect(run({ loads: '3' }).values.saved.value).toBeCloseTo(5.9, 12);
  });

  test('judges a switch that takes more than the load, and a switch that saves next to nothing', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ leakage: '3 uA' }).verdict).toBe('speaks-against');
    expect(run({ leakage: '3 uA' }).sentence).toContain('takes more when off');
    expect(run({ sleepCurrent: '0.2 uA' }).verdict).toBe('neutral');
    expect(run({ leakage: '2 ± 1 uA' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(switchedOff, inputs(sensor)));
});
