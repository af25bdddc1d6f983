import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { smallOneAwake } from '../../src/design-checks/small-one-awake.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Average over a duty cycle, worked case.
const { duty_cycle: duty } = reference('power');
const pair = { smallActive: '0.5 mA', largeActive: '8 mA', largeSleep: '0.01 mA' };
const run = (given: Record<string, string>) => smallOneAwake.run(inputs({ ...pair, ...given }));

describe('a small part that stays awake', () => {
  test('is added to the duty cycle of the worked case', () => {
    const { values } = smallOneAwake.run({
      smallActive: { value: 0.5, unit: 'mA' },
      largeActive: { value: duty.active_mA, unit: 'mA' },
      largeSleep: { value: duty.sleep_mA, unit: 'mA' },
      largeShare: { value: duty.active_fraction, unit: '1' },
      capacity: { value: 51, unit: 'mA.h' },
    });
    expect(values.averageCurrent.value).toBeCloseTo(0.5 + duty.average_mA, 9);
    expect(values.watching.value).toBeCloseTo(0.51, 12);
    expect(values.watchTime.value).toBeCloseTo(100, 9);
  });

  test('at the break-even the pair draws as much as the large part awake', () => {
    const current = fc.double({ min: 0.1, max: 3, noNaN: true });
    fc.assert(
      fc.property(current, (small) => {
        const { breakEven } = run({ smallActive: `${small} mA` }).values;
        const { averageCurrent } = run({
          smallActive: `${small} mA`,
          largeShare: `${breakEven.value} %`,
        }).values;
        expect(averageCurrent.value).toBeCloseTo(8, 9);
      }),
      { numRuns: 50 },
    );
  });

  test('judges the pair, and says when it never pays', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ smallActive: '5 mA' }).verdict).toBe('neutral');
    expect(run({ smallActive: '9 mA' })).toMatchObject({
      verdict: 'speaks-against',
      sentence: expect.stringContaining('draws more even while the large part sleeps'),
    });
  });

  test('asks for what is missing', () => expectToAskForEachInput(smallOneAwake, inputs(pair)));
});
