import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MAX_POINTS, theilSen } from '../../src/statistics/theil-sen.ts';
import { answered, differing, libraries, published } from './reference.ts';

test('the worked series (Sen 1968, computed with SciPy)', () => {
  const { x, y, theil_sen: expected } = published.mann_kendall_theil_sen;
  const line = answered(theilSen(y, x));
  expect(line.slope).toBeCloseTo(expected.slope, 6);
  expect(line.intercept).toBeCloseTo(expected.intercept, 6);
  expect(line.interval.low).toBeCloseTo(expected.low95, 12);
  expect(line.interval.high).toBeCloseTo(expected.high95, 12);
});

test('agrees with SciPy on random series with tied values', () => {
  const found = differing(
    libraries.theil_sen,
    ({ x, y, level, slope, intercept, low, high }) => {
      const line = answered(theilSen(y, x, { level }));
      return [
        [line.slope, slope],
        [line.intercept, intercept],
        [line.interval.low, low],
        [line.interval.high, high],
      ];
    },
    1e-10,
  );
  expect(found).toEqual([]);
});

const points = fc.array(
  fc.record({ x: fc.integer({ min: 0, max: 20 }), y: fc.integer({ min: -100, max: 100 }) }),
  { minLength: 2, maxLength: 40 },
);

test('properties: slope inside its interval; order, shift and scale behave; one wild value moves it little', () => {
  fc.assert(
    fc.property(points, (given) => {
      const line = (change: (point: (typeof given)[0]) => { x: number; y: number }, of = given) =>
        theilSen(
          of.map((point) => change(point).y),
          of.map((point) => change(point).x),
        );
      const found = line((point) => point);
      if (found.kind === 'no-data') {
        expect(new Set(given.map(({ x }) => x)).size).toBe(1);
        return;
      }
      const { slope, interval } = found;
      expect(interval.low).toBeLessThanOrEqual(slope);
      expect(interval.high).toBeGreaterThanOrEqual(slope);
      expect(line((point) => point, given.toReversed())).toEqual(found);
      const tilted = answered(line(({ x, y }) => ({ x, y: y + 3 * x })));
      expect(tilted.slope).toBeCloseTo(slope + 3, 9);
      expect(answered(line(({ x, y }) => ({ x: 2 * x + 7, y }))).slope).toBeCloseTo(slope / 2, 9);
      const fallen = answered(line(({ x, y }) => ({ x, y: -y })));
      expect(fallen.slope).toBeCloseTo(-slope, 9);
    }),
    { numRuns: 200 },
  );
  const straight = Array.from({ length: 11 }, (_, at) => 2 * at);
  expect(answered(theilSen(straight.with(10, 9999))).slope).toBe(2);
});

test('a single point in time gives a reason in words; too many points name the fix', () => {
  expect(theilSen([1, 2], [5, 5])).toMatchObject({ kind: 'no-data' });
  expect(theilSen([])).toMatchObject({ kind: 'no-data' });
  expect(() => theilSen(new Array(MAX_POINTS + 1).fill(1))).toThrow('median of each period');
});

test('values that are all equal, in tied years, end with a slope of 0; what would never end is refused', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 2015, max: 2021 }), { minLength: 2, maxLength: 30 }),
      fc.integer({ min: -5, max: 5 }),
      (years, value) => {
        const line = theilSen(
          years.map(() => value),
          years,
        );
        if (new Set(years).size === 1) expect(line.kind).toBe('no-data');
        else expect(line).toMatchObject({ slope: 0, interval: { low: 0, high: 0 }, intercept: value });
      },
    ),
  );
  // Two points, a point twice, two years.
  expect(theilSen([1, 5], [2019, 2020])).toMatchObject({ slope: 4, interval: { low: 4, high: 4 } });
  expect(theilSen([3, 3], [2019, 2020])).toMatchObject({ slope: 0, interval: { low: 0, high: 0 } });
  expect(theilSen([1, 5, 7], [1, 1, 2])).toMatchObject({ slope: 4, interval: { low: 2, high: 6 } });
  expect(() => theilSen([-1e308, 1e308, 0], [1, 2, 3])).toThrow('slopes[0] is Infinity');
});
