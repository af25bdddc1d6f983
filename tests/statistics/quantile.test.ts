import { expect, test } from 'vitest';
import { fiveNumbers, median, quantile } from '../../src/statistics/quantile.ts';
import { differing, libraries } from './reference.ts';

test('quantiles agree with NumPy', () => {
  const found = differing(
    libraries.quantile,
    ({ values, at, quantiles }) =>
      at.map((p: number, i: number) => [quantile(values, p), quantiles[i]] as const),
    1e-14,
  );
  expect(found).toEqual([]);
});

test('five numbers sketch a distribution; the order of values does not matter and stays as it was', () => {
  const values = [9, 1, 5, 3, 7];
  expect(fiveNumbers(values)).toEqual({
    minimum: 1,
    lowerQuartile: 3,
    median: 5,
    upperQuartile: 7,
    maximum: 9,
  });
  expect(values).toEqual([9, 1, 5, 3, 7]);
});

test('no value, NaN and infinity are refused, with the place named', () => {
  expect(() => median([])).toThrow('no value');
  expect(() => median([1, Number.NaN])).toThrow('values[1] is NaN');
  expect(() => quantile([1], 1.1)).toThrow('it is 1.1');
});
