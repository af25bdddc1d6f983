import fc from 'fast-check';
import { expect, test } from 'vitest';
import { medianInterval } from '../../src/statistics/median-interval.ts';
import { published } from './reference.ts';

test('the worked case (order-statistic interval after Conover, computed with SciPy)', () => {
  const { data, median, level_at_least, rank_low, rank_high, coverage, low, high } =
    published.median_interval;
  const found = medianInterval(data, level_at_least);
  expect(found).toMatchObject({
    kind: 'median',
    median,
    rankLow: rank_low,
    rankHigh: rank_high,
    low,
    high,
    n: data.length,
  });
  expect(found.kind === 'median' && found.coverage).toBeCloseTo(coverage, 6);
});

test('five values are too few for 95 %, six are enough: 1 - 2 · (1/2)⁶ = 96.9 %', () => {
  expect(medianInterval([5, 1, 4, 2, 3])).toEqual({ kind: 'median-only', n: 5, median: 3, needed: 6 });
  expect(medianInterval([5, 1, 4, 2, 3, 6])).toMatchObject({ low: 1, high: 6, coverage: 0.96875 });
});

test('no value at all gives a reason in words', () => {
  expect(medianInterval([])).toEqual({ kind: 'no-data', reason: 'there is no value to take a median of' });
  expect(() => medianInterval([1, Number.POSITIVE_INFINITY])).toThrow('values[1] is Infinity');
});

test('properties: holds the median at the level asked or more, moves with the data, mirrors with its sign', () => {
  const data = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 6, maxLength: 200 });
  fc.assert(
    fc.property(data, (values) => {
      const found = medianInterval(values);
      if (found.kind !== 'median') throw new Error(found.kind);
      expect(found.low).toBeLessThanOrEqual(found.median);
      expect(found.high).toBeGreaterThanOrEqual(found.median);
      expect(found.coverage).toBeGreaterThanOrEqual(0.95);
      expect(found.rankLow + found.rankHigh).toBe(values.length + 1);
      expect(medianInterval(values.map((value) => 10 - value))).toMatchObject({
        median: 10 - found.median,
        low: 10 - found.high,
        high: 10 - found.low,
      });
    }),
    { numRuns: 200 },
  );
});
