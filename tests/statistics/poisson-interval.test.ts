import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { poissonInterval, poissonRate } from '../../src/statistics/poisson-interval.ts';
import { published } from './reference.ts';

describe('exact limits of a count (Garwood 1936, computed with SciPy)', () => {
  test.each(published.poisson_exact.cases as { count: number; level: number; low: number; high: number }[])(
    '$count',
    ({ count, level, low, high }) => {
      const interval = poissonInterval(count, level);
      expect(interval.low).toBeCloseTo(low, 5);
      expect(interval.high).toBeCloseTo(high, 5);
    },
  );
});

test('counts at which the limits once could not be calculated', () => {
  // The limits are defined by these tails of a Poisson count (Garwood 1936); near it, the count ± 1.96 of its root.
  for (const count of [7484, 7485, 7659, 7805, 7806, 12_345, 400_000]) {
    const { low, high } = poissonInterval(count);
    expect(Math.abs((low - count) / Math.sqrt(count) + 1.96)).toBeLessThan(0.02);
    expect(Math.abs((high - count) / Math.sqrt(count) - 1.96)).toBeLessThan(0.03);
  }
});

test('a rate on the data of Fleiss 1981, as R poisson.test gives it', () => {
  const { count, exposure, rate_95: expected } = published.poisson_rate;
  const { rate, low, high } = poissonRate(count, exposure);
  expect(rate).toBeCloseTo(count / exposure, 12);
  expect(low).toBeCloseTo(expected[0], 6);
  expect(high).toBeCloseTo(expected[1], 6);
});

test('properties: the count lies inside, limits rise with it, a rate scales with its exposure', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 5000 }),
      fc.double({ min: 0.01, max: 100, noNaN: true }),
      (count, exposure) => {
        const { low, high } = poissonInterval(count);
        expect(low).toBeLessThanOrEqual(count);
        expect(high).toBeGreaterThan(count);
        const next = poissonInterval(count + 1);
        expect(next.low).toBeGreaterThan(low);
        expect(next.high).toBeGreaterThan(high);
        expect(poissonRate(count, exposure).high * exposure).toBeCloseTo(high, 8);
      },
    ),
    { numRuns: 200 },
  );
});

test('no exposure and negative counts are refused', () => {
  expect(() => poissonRate(3, 0)).toThrow('exposure');
  expect(() => poissonInterval(-1)).toThrow('it is -1');
});
