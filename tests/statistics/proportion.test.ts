import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { clopperPearson, wilson } from '../../src/statistics/proportion.ts';

const REFERENCE = JSON.parse(readFileSync('tests/reference/statistics.json', 'utf8'));

describe('Wilson interval (Wilson 1927; cases of Newcombe 1998 and statsmodels)', () => {
  test.each(REFERENCE.wilson.cases as { k: number; n: number; low: number; high: number }[])(
    '$k of $n',
    ({ k, n, low, high }) => {
      const interval = wilson(k, n);
      expect(interval.low).toBeCloseTo(low, 5);
      expect(interval.high).toBeCloseTo(high, 5);
    },
  );
});

test('Clopper-Pearson on the Mendel data of Conover 1971 p. 97, as R binom.test gives it', () => {
  const { k, n, clopper_pearson_95: expected } = REFERENCE.exact_binomial;
  const { low, high } = clopperPearson(k, n);
  expect(low).toBeCloseTo(expected[0], 6);
  expect(high).toBeCloseTo(expected[1], 6);
});

test('none and all: the interval reaches the end; no trials is an error', () => {
  expect(clopperPearson(0, 20).low).toBe(0);
  expect(clopperPearson(20, 20).high).toBe(1);
  // The rule of three: with none of n seen, about 3/n is the 95 % one-sided limit (Hanley & Lippman-Hand 1983).
  expect(clopperPearson(0, 300, 0.9).high).toBeCloseTo(3 / 300, 3);
  expect(() => wilson(0, 0)).toThrow(RangeError);
  expect(() => clopperPearson(3, 2)).toThrow(RangeError);
});
