import fc from 'fast-check';
import { expect, test } from 'vitest';
import { smoothed, smoothedTable } from '../../src/statistics/smoothing.ts';

test('rule of succession (Laplace 1774): s successes of n give (s + 1) / (n + 2)', () => {
  expect(smoothed([7, 3])).toEqual([8 / 12, 4 / 12]);
  expect(smoothed([0, 0])).toEqual([0.5, 0.5]);
});

test("half a pseudo-observation a category is Jeffreys' rule (Krichevsky & Trofimov 1981): (s + 1/2) / (n + 1)", () => {
  expect(smoothed([7, 3], { strength: 1 })).toEqual([7.5 / 11, 3.5 / 11]);
});

test('a row without observations answers what holds for all rows together', () => {
  const [many, none] = smoothedTable([
    [80, 20],
    [0, 0],
  ]);
  expect(none).toEqual([81 / 102, 21 / 102]);
  expect(many[0]).toBeCloseTo((80 + 2 * (81 / 102)) / 102, 12);
  expect(smoothedTable([])).toEqual([]);
});

test('properties: sums to one, nothing is impossible, lies between frequency and prior, fades as counts grow', () => {
  const counts = fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 12 });
  fc.assert(
    fc.property(counts, fc.double({ min: 0.1, max: 20, noNaN: true }), (given, strength) => {
      const found = smoothed(given, { strength });
      expect(found.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
      const total = given.reduce((sum, count) => sum + count, 0);
      found.forEach((p, at) => {
        expect(p).toBeGreaterThan(0);
        if (total === 0) return;
        const [low, high] = [given[at] / total, 1 / given.length].sort((a, b) => a - b);
        expect(p).toBeGreaterThanOrEqual(low - 1e-12);
        expect(p).toBeLessThanOrEqual(high + 1e-12);
        const more = smoothed(
          given.map((count) => count * 1e6),
          { strength },
        );
        expect(more[at]).toBeCloseTo(given[at] / total, 4);
      });
    }),
    { numRuns: 200 },
  );
});

test('no category, negative counts and nothing at all to go by are refused', () => {
  expect(() => smoothed([])).toThrow('no category');
  expect(() => smoothed([1, -1])).toThrow('counts[1]');
  expect(() => smoothed([0, 0], { strength: 0 })).toThrow('strength must be above 0');
  expect(() => smoothed([1, 1], { prior: [0.5, 0.4] })).toThrow('sum to 1');
  expect(() => smoothedTable([[1, 2], [1]])).toThrow('2 and 1');
});
