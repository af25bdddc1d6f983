import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type CheckInput,
  CheckInputError,
  type CheckInputs,
  type CheckResult,
  type DesignCheck,
} from '../../src/design-checks/check.ts';
import { CHECKS } from '../../src/design-checks/table.ts';

interface Drawn {
  readonly value: number;
  readonly plusMinus: number;
  /** A value inside the uncertainty. */
  readonly inside: number;
}

/** A value in the typical range, or anywhere near the lower end of what the input allows. */
function drawn({ whole, typical, min, max, above }: CheckInput): fc.Arbitrary<Drawn> {
  const low = typical?.low ?? min ?? (above === undefined ? 1 : above + 1);
  const high = typical?.high ?? Math.min(max ?? Infinity, low + 20);
  if (whole) {
    return fc
      .integer({ min: Math.ceil(low), max: Math.floor(high) })
      .map((value) => ({ value, plusMinus: 0, inside: value }));
  }
  const unitInterval = fc.double({ min: 0, max: 1, noNaN: true });
  return fc.tuple(unitInterval, unitInterval, unitInterval).map(([at, spread, place]) => {
    const value = low + at * (high - low);
    const plusMinus = 0.4 * spread * Math.abs(value);
    const inside = Math.min(max ?? Infinity, Math.max(min ?? -Infinity, value + (2 * place - 1) * plusMinus));
    return { value, plusMinus, inside };
  });
}

/** The result, or nothing tested where inputs contradict one another or lie beyond the formula. */
function runOrSkip(check: DesignCheck, given: CheckInputs): CheckResult {
  try {
    return check.run(given);
  } catch (error) {
    if (!(error instanceof CheckInputError)) throw error;
    fc.pre(!/is above|must be/u.test(error.message));
    throw error;
  }
}

describe('the interval of every result', () => {
  // The frame looks at the corners of the inputs only, which is right as long as each formula is monotone in each
  // input; a formula that is not falls through here.
  test.each(Object.values(CHECKS))('of $name holds what any inputs inside theirs give', (check) => {
    const inputs = fc.record(Object.fromEntries(check.inputs.map((input) => [input.name, drawn(input)])));
    fc.assert(
      fc.property(inputs, (draws) => {
        const given = (pick: (draw: Drawn) => { value: number; plusMinus?: number }): CheckInputs =>
          Object.fromEntries(check.inputs.map(({ name, unit }) => [name, { ...pick(draws[name]), unit }]));
        const { values: wide } = runOrSkip(
          check,
          given(({ value, plusMinus }) => ({ value, plusMinus })),
        );
        const { values: one } = runOrSkip(
          check,
          given(({ inside }) => ({ value: inside })),
        );
        expect(Object.keys(one)).toEqual(Object.keys(wide));
        for (const [name, { value }] of Object.entries(one)) {
          const dust = 1e-9 * Math.max(1, Math.abs(value));
          expect(value, name).toBeGreaterThanOrEqual(wide[name].low - dust);
          expect(value, name).toBeLessThanOrEqual(wide[name].high + dust);
        }
      }),
      { numRuns: 30 },
    );
  });
});
