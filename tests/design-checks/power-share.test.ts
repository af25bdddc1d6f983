import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { allCorners, cornersThatMatter } from '../../src/design-checks/box.ts';
import type { CheckInputs } from '../../src/design-checks/check.ts';
import { powerShare } from '../../src/design-checks/power-share.ts';
import { runTime } from '../../src/design-checks/run-time.ts';
import { inputs, reference } from './quantities.ts';

vi.mock('../../src/design-checks/box.ts', { spy: true });

// Power balance; worked cases of charge over current and of a duty cycle.
const power = reference('power');
const cell = { energy: '0.2405 Wh', cellVoltage: '3.7 V' };
const run = (given: Record<string, string>) => powerShare.run(inputs({ ...cell, ...given }));

describe('share of each subsystem in the power', () => {
  test('takes the energy of the worked case, and lasts as long as its cell at one steady current', () => {
    const { mAh, V, Wh } = power.energy;
    expect((mAh * V) / 1000).toBeCloseTo(Wh, 9);
    const [{ mA, hours }] = power.run_time.cases;
    const { values } = run({ sensingCurrent: `${mA} mA`, sensingTime: '100 %' });
    expect(values.runTime.value).toBeCloseTo(hours, 9);
    expect(values.sensingShare.value).toBe(100);
  });

  test('averages over the duty cycle as the worked case', () => {
    const {
      active_mA: active,
      sleep_mA: sleep,
      active_fraction: share,
      average_mA: average,
    } = power.duty_cycle;
    const { values } = powerShare.run({
      ...inputs(cell),
      processingCurrent: { value: active, unit: 'mA' },
      processingTime: { value: share, unit: '1' },
      sensingCurrent: { value: sleep, unit: 'mA' },
      sensingTime: { value: 1 - share, unit: '1' },
    });
    expect(values.averageCurrent.value).toBeCloseTo(average, 9);
    expect(values.processingShare.value).toBeCloseTo((100 * active * share) / average, 6);
  });

  test('shares of everything given add up to 100 %, the current at rest included', () => {
    const load = fc.double({ min: 0.001, max: 50, noNaN: true });
    fc.assert(
      fc.property(load, load, load, load, (a, b, c, rest) => {
        const { values } = run({
          sensingCurrent: `${a} mA`,
          sensingTime: '50 %',
          displayCurrent: `${b} mA`,
          displayTime: '3 %',
          radioCurrent: `${c} mA`,
          radioTime: '1 %',
          restingCurrent: `${rest} mA`,
        });
        const sum = Object.entries(values)
          .filter(([name]) => name.endsWith('Share'))
          .reduce((all, [, { value }]) => all + value, 0);
        expect(sum).toBeCloseTo(100, 9);
      }),
      { numRuns: 50 },
    );
  });

  test('agrees with the run time of a single load with a sleep current', () => {
    const shared = run({ sensingCurrent: '7.99 mA', sensingTime: '2 %', restingCurrent: '0.01 mA' });
    const alone = runTime.run(
      inputs({ capacity: '65 mAh', activeCurrent: '8 mA', sleepCurrent: '0.01 mA', activeShare: '2 %' }),
    );
    expect(shared.values.runTime.value).toBeCloseTo(alone.values.runTime.value, 6);
  });

  test('asks for a current with its time, and for the currents when no load is given', () => {
    expect(run({ radioCurrent: '10 mA' }).missing).toEqual(['radioTime']);
    expect(run({ radioTime: '1 %', displayCurrent: '9 mA' }).missing).toEqual([
      'radioCurrent',
      'displayTime',
    ]);
    expect(run({}).missing).toEqual(
      ['sensing', 'processing', 'radio', 'display', 'haptics', 'audio', 'storage'].map(
        (one) => `${one}Current`,
      ),
    );
    expect(powerShare.run({}).missing?.slice(0, 2)).toEqual(['energy', 'cellVoltage']);
    expect(run({ radioCurrent: '10 mA' }).sentence).toContain(
      'typically 0.1 to 5 (common practice, no source)',
    );
  });

  test('judges whether a load stands out, from three loads up', () => {
    const even = (n: number) =>
      Object.fromEntries(
        ['sensing', 'processing', 'radio', 'display', 'audio']
          .slice(0, n)
          .flatMap((one) => [[`${one}Current`, '1 mA'] as const, [`${one}Time`, '10 %'] as const]),
      );
    expect(run(even(2)).verdict).toBe('neutral');
    expect(run(even(3)).verdict).toBe('neutral');
    expect(run(even(5)).verdict).toBe('speaks-against');
    expect(run({ ...even(5), radioTime: '90 %' }).verdict).toBe('supports');
    // Uncertain enough that the share of the radio may lie on either side of one half.
    expect(run({ ...even(5), radioCurrent: '4 ± 2 mA' }).verdict).toBe('neutral');
  });

  test('shows the cautions for lithium cells', () => {
    expect(powerShare.cautions.join(' ')).toMatch(/pouch cell.*not medical advice/u);
  });

  test('evaluates no more corners than needed, and contains every value inside', () => {
    const names = powerShare.inputs.map(({ name }) => name);
    const given = (at: number, plusMinus: number): CheckInputs =>
      Object.fromEntries(
        powerShare.inputs.map(({ name, unit }) => [
          name,
          { value: unit === '%' ? 5 * at : at, unit, plusMinus },
        ]),
      );
    expect(names.length).toBeGreaterThan(15);
    vi.clearAllMocks();
    const wide = powerShare.run(given(2, 1)).values;
    // Two corners an output (box.test.ts counts them), where all would be 2 to the power of the inputs.
    expect(vi.mocked(cornersThatMatter)).toHaveBeenCalledOnce();
    expect(vi.mocked(allCorners)).not.toHaveBeenCalled();
    // The share of the radio is highest with its own inputs high and all other loads low.
    const high = {
      ...given(1, 0),
      radioCurrent: { value: 3, unit: 'mA' },
      radioTime: { value: 11, unit: '%' },
    };
    for (const name of names.filter((one) => one.endsWith('Time') && one !== 'radioTime'))
      Object.assign(high, { [name]: { value: 9, unit: '%' } });
    expect(wide.radioShare.high).toBeCloseTo(powerShare.run(high).values.radioShare.value, 9);
  });
});
