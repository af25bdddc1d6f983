import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clopperPearson, wilson } from '../../src/statistics/proportion.ts';
import { differing, libraries, published } from './reference.ts';

describe('Wilson interval (Wilson 1927; cases of Newcombe 1998 and statsmodels)', () => {
  test.each(published.wilson.cases as { k: number; n: number; level: number; low: number; high: number }[])(
    '$k of $n',
    ({ k, n, level, low, high }) => {
      const interval = wilson(k, n, level);
      expect(interval.low).toBeCloseTo(low, 6);
      expect(interval.high).toBeCloseTo(high, 6);
    },
  );
});

test('Clopper-Pearson on the Mendel data of Conover 1971 p. 97, as R binom.test gives it', () => {
  const { k, n, clopper_pearson_95: expected } = published.exact_binomial;
  const { low, high } = clopperPearson(k, n);
  expect(low).toBeCloseTo(expected[0], 7);
  expect(high).toBeCloseTo(expected[1], 7);
});

test('Wilson agrees with statsmodels at three levels', () => {
  // At none and all statsmodels leaves rounding dust where the limit is exactly 0 or 1.
  const dust = (value: number) => (Math.abs(value) < 1e-15 ? 0 : value);
  const found = differing(
    libraries.proportion,
    ({ k, n, level, wilson: [low, high] }) => {
      const interval = wilson(k, n, level);
      return [
        [interval.low, dust(low)],
        [interval.high, high],
      ];
    },
    1e-12,
  );
  expect(found).toEqual([]);
});

test('Clopper-Pearson agrees with SciPy at three levels', () => {
  const found = differing(
    libraries.proportion,
    ({ k, n, level, exact: [low, high] }) => {
      const interval = clopperPearson(k, n, level);
      return [
        [interval.low, low],
        [interval.high, high],
      ];
    },
    // SciPy searches for these limits and stops near 1e-12 absolute.
    1e-7,
  );
  expect(found).toEqual([]);
});

test('none and all: the interval reaches the end', () => {
  expect(clopperPearson(0, 20).low).toBe(0);
  expect(clopperPearson(20, 20).high).toBe(1);
  expect(wilson(0, 20).low).toBe(0);
  expect(wilson(20, 20).high).toBe(1);
  // The rule of three: with none of n seen, about 3/n is the 95 % one-sided limit (Hanley & Lippman-Hand 1983).
  expect(clopperPearson(0, 300, 0.9).high).toBeCloseTo(3 / 300, 3);
});

test('no trials, more successes than trials, parts of a trial and odd levels are refused with the value shown', () => {
  expect(() => wilson(0, 0)).toThrow('0 of 0 is not a valid proportion');
  expect(() => clopperPearson(3, 2)).toThrow('3 of 2 is not a valid proportion');
  expect(() => clopperPearson(1.5, 2)).toThrow('it is 1.5');
  expect(() => wilson(Number.NaN, 2)).toThrow(RangeError);
  expect(() => wilson(1, 2, 95)).toThrow('it is 95');
});

const counts = fc
  .integer({ min: 1, max: 500 })
  .chain((n) => fc.record({ n: fc.constant(n), k: fc.integer({ min: 0, max: n }) }));

test('properties: the share lies inside, failures mirror successes, more certainty is wider, more data narrower', () => {
  for (const interval of [wilson, clopperPearson]) {
    fc.assert(
      fc.property(counts, ({ k, n }) => {
        const { low, high } = interval(k, n);
        expect(low).toBeLessThanOrEqual(k / n);
        expect(high).toBeGreaterThanOrEqual(k / n);
        const mirrored = interval(n - k, n);
        expect(mirrored.low).toBeCloseTo(1 - high, 10);
        expect(mirrored.high).toBeCloseTo(1 - low, 10);
        const sure = interval(k, n, 0.99);
        expect(sure.low).toBeLessThanOrEqual(low);
        expect(sure.high).toBeGreaterThanOrEqual(high);
        const more = interval(4 * k, 4 * n);
        expect(more.high - more.low).toBeLessThan(high - low);
      }),
      { numRuns: 200 },
    );
  }
});
