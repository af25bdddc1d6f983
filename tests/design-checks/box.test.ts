import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allCorners, cornersThatMatter, overTheBox } from '../../src/design-checks/box.ts';

const OUTPUTS = ['total', 'share', 'time'].map((name) => ({ name, unit: '1' }));

/** Loads against a store: each output always moves the same way with each input. */
const reckon = ({ a, b, c, d, store }: Record<string, number>) => {
  const total = a * b + c * d;
  return { total, share: total === 0 ? 0 : (a * b) / total, time: store / total };
};

test('two corners an output give the same extremes as all corners, wherever each input moves outputs one way', () => {
  const value = fc
    .tuple(fc.double({ min: 0.001, max: 10, noNaN: true }), fc.double({ min: 0, max: 5, noNaN: true }))
    .map(([middle, spread]) => ({
      value: middle,
      unit: '1',
      low: Math.max(0.001, middle - spread),
      high: middle + spread,
    }));
  fc.assert(
    fc.property(fc.record({ a: value, b: value, c: value, d: value, store: value }), (given) => {
      const all = overTheBox(OUTPUTS, given, reckon, (box) => allCorners(box));
      const few = overTheBox(OUTPUTS, given, reckon, cornersThatMatter);
      for (const { name } of OUTPUTS) {
        expect(few[name].low).toBeCloseTo(all[name].low, 9);
        expect(few[name].high).toBeCloseTo(all[name].high, 9);
      }
    }),
    { numRuns: 200 },
  );
});

test('the middle may be 0 where the range is not: the direction of an input is still found', () => {
  const one = { value: 1, unit: '1', low: 1, high: 1 };
  const given = {
    a: { value: 0, unit: '1', low: 0, high: 2 },
    b: { ...one, low: 1, high: 3 },
    c: one,
    d: one,
    store: one,
  };
  expect(overTheBox(OUTPUTS, given, reckon, cornersThatMatter).total).toEqual({
    value: 1,
    unit: '1',
    low: 1,
    high: 7,
  });
});

test('the work grows with the inputs, not with the corners of their box', () => {
  const inputs = Array.from({ length: 40 }, (_, at) => `input${at}`);
  let calls = 0;
  const sum = (numbers: Record<string, number>) => {
    calls++;
    return { total: inputs.reduce((all, name) => all + numbers[name], 0) };
  };
  const given = Object.fromEntries(inputs.map((name) => [name, { value: 2, unit: '1', low: 1, high: 3 }]));
  expect(overTheBox([OUTPUTS[0]], given, sum, cornersThatMatter).total).toMatchObject({ low: 40, high: 120 });
  // From three places up and down for each input; then the stated values and two corners.
  expect(calls).toBeLessThanOrEqual(6 * inputs.length + 3);
});
