import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CheckInput, CheckInputError, type CheckInputs } from '../../src/design-checks/check.ts';
import { CHECKS } from '../../src/design-checks/table.ts';

// What no figure can be, whatever goes in: nature's limits, not the code's.

/** Outputs that may be below 0: levels in dB, altitudes, and balances that say in their meaning what that stands for. */
const SIGNED = new Set([
  'gained',
  'bought',
  'amplifierOverThermal',
  'pulseOverNoise',
  'altitude',
  'headroom',
  'idealSignalToNoise',
  'haptic-start.margin',
  'switched-off.saved',
  'switched-off.savedADay',
  'switched-off.shareADay',
]);
/** Outputs that are parts of a whole. */
const AT_MOST: Readonly<Record<string, number>> = {
  efficiency: 100,
  efficiencyAtMost: 100,
  massShare: 100,
  volumeShare: 100,
  saturation: 100,
  saturationByOtherTable: 100,
  saturationByLine: 100,
  breakEven: 100,
  'display-power.saved': 100,
  dutyCycle: 1,
  noiseRatio: 1 + 1e-9,
};
const PARTS_OF_POWER = /^power-share\..*Share$/u;

/** Anything the input may be, over ten decades, far beyond what is usual. */
function anything({
  whole,
  min,
  max,
  above,
}: CheckInput): fc.Arbitrary<{ value: number; plusMinus: number }> {
  const bottom = min ?? above ?? 0;
  const value = whole
    ? fc.integer({ min: Math.ceil(bottom), max: Math.min(max ?? 1000, 1000) })
    : fc.double({ min: -5, max: 5, noNaN: true }).map((decades) => {
        const one = (above ?? 0) + 10 ** decades;
        return Math.max(bottom, Math.min(max ?? Infinity, one));
      });
  return fc.tuple(value, fc.double({ min: 0, max: 0.9, noNaN: true })).map(([one, spread]) => ({
    value: one,
    plusMinus: whole ? 0 : spread * Math.abs(one),
  }));
}

describe('no figure lies beyond what can be', () => {
  test.each(Object.values(CHECKS))('$name', (check) => {
    const inputs = fc.record(Object.fromEntries(check.inputs.map((input) => [input.name, anything(input)])));
    let answered = 0;
    fc.assert(
      fc.property(inputs, (drawn) => {
        const given: CheckInputs = Object.fromEntries(
          check.inputs.map(({ name, unit }) => [name, { ...drawn[name], unit }]),
        );
        let values: ReturnType<typeof check.run>['values'];
        try {
          values = check.run(given).values;
        } catch (error) {
          // Refused: contradictory, beyond the formula, or without a finite value.
          expect(error).toBeInstanceOf(CheckInputError);
          return;
        }
        answered++;
        for (const [name, { value, low, high }] of Object.entries(values)) {
          const full = `${check.name}.${name}`;
          expect([low <= value, value <= high], full).toEqual([true, true]);
          if (!SIGNED.has(name) && !SIGNED.has(full)) expect(low, full).toBeGreaterThanOrEqual(-1e-9);
          const most = AT_MOST[full] ?? AT_MOST[name] ?? (PARTS_OF_POWER.test(full) ? 100 : Infinity);
          expect(high, full).toBeLessThanOrEqual(most * (1 + 1e-9));
        }
      }),
      { numRuns: 150 },
    );
    expect(answered).toBeGreaterThan(0);
  });
});
