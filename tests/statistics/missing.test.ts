import { expect, test } from 'vitest';
import { ABSENT, known, NOT_OBSERVED, type Reading, sift } from '../../src/statistics/missing.ts';

test('not observed, absent and a measured zero stay three different values', () => {
  const readings: Reading[] = [known(0), ABSENT, NOT_OBSERVED, known(4), NOT_OBSERVED];
  expect(sift(readings)).toEqual({ values: [0, 4], absent: 1, notObserved: 2 });
});

test('NaN and infinities never become a reading', () => {
  expect(() => known(Number.NaN)).toThrow('NaN is not a valid reading');
  expect(() => known(Number.NEGATIVE_INFINITY)).toThrow(RangeError);
});
