/** Aggregates (20.9): worked by hand. */
import { describe, expect, test } from 'vitest';
import { accumulatorFor } from '../../../src/gql/expression/aggregate.ts';
import type { Value } from '../../../src/gql/expression/value.ts';
import type { Aggregate, AggregateName } from '../../../src/gql/language/ast.ts';

const span = { start: 0, end: 0 };
function over(
  values: readonly Value[],
  name: AggregateName,
  { distinct = false, star = false, fraction = null as Value } = {},
): Value {
  const argument = star ? undefined : ({ kind: 'null', span } as const);
  const node: Aggregate = { kind: 'aggregate', name, distinct, argument, fraction: undefined, span };
  const accumulator = accumulatorFor(node, fraction);
  for (const value of values) accumulator.add(value);
  return accumulator.result();
}

test('nulls count for COUNT(*) only', () => {
  expect(over([1, null, 1], 'COUNT', { star: true })).toBe(3);
  expect(over([1, null, 1], 'COUNT')).toBe(2);
  expect(over([1, null, 1], 'COUNT', { distinct: true })).toBe(1);
  expect(over([1, null, 3], 'AVG')).toBe(2);
  expect(over([1, null, 3], 'COLLECT_LIST')).toEqual([1, 3]);
});

test('of nothing: COUNT 0, a list empty, the others null', () => {
  expect(over([], 'COUNT')).toBe(0);
  expect(over([null], 'COLLECT_LIST')).toEqual([]);
  for (const name of ['SUM', 'AVG', 'MIN', 'MAX', 'STDDEV_POP', 'STDDEV_SAMP'] as const) {
    expect(over([null], name)).toBeNull();
  }
});

test('sums do not lose small numbers among large ones', () => {
  expect(over([1, 1e100, 1, -1e100], 'SUM')).toBe(2);
});

test('MIN and MAX over numbers, texts, and values of several types', () => {
  expect(over([3, 1, 2], 'MIN')).toBe(1);
  expect(over(['b', 'a'], 'MAX')).toBe('b');
  expect(over(['a', 1], 'MIN')).toBe(1);
  expect(over([true, 1], 'MAX')).toBe(1);
});

test('SUM over durations of one unit; over mixed values null', () => {
  const months = (amount: number): Value => ({ kind: 'duration', unit: 'month', amount });
  expect(over([months(3), months(4)], 'SUM')).toEqual(months(7));
  expect(over([months(3), 1], 'SUM')).toBeNull();
  expect(over([1, 'a'], 'SUM')).toBeNull();
});

test('DISTINCT keeps one of equal values', () => {
  expect(over([1, 1, 2], 'SUM', { distinct: true })).toBe(3);
  expect(over([[1], [1], [2]], 'COUNT', { distinct: true })).toBe(2);
});

describe('spread and percentiles of 2, 4, 4, 4, 5, 5, 7, 9 (mean 5, squares of distances 32)', () => {
  const values = [2, 4, 4, 4, 5, 5, 7, 9];
  test('standard deviations', () => {
    expect(over(values, 'STDDEV_POP')).toBeCloseTo(2, 12);
    expect(over(values, 'STDDEV_SAMP')).toBeCloseTo(Math.sqrt(32 / 7), 12);
    expect(over([5], 'STDDEV_SAMP')).toBeNull();
  });

  test.each([
    [0, 2, 2],
    [0.5, 4.5, 4],
    [0.9, 7.6, 9],
    [1, 9, 9],
  ])('percentile %d', (fraction, continuous, discrete) => {
    expect(over(values, 'PERCENTILE_CONT', { fraction })).toBeCloseTo(continuous, 12);
    expect(over(values, 'PERCENTILE_DISC', { fraction })).toBe(discrete);
  });

  test('a fraction outside 0 to 1 has no percentile', () => {
    expect(over(values, 'PERCENTILE_CONT', { fraction: 1.5 })).toBeNull();
  });
});
