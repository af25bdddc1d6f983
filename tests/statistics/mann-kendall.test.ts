import fc from 'fast-check';
import { expect, test } from 'vitest';
import { kendallTau } from '../../src/statistics/kendall-tau.ts';
import { mannKendall } from '../../src/statistics/mann-kendall.ts';
import { answered, differing, libraries, published, trendStatistics } from './reference.ts';

test('the worked series: S, tie-corrected variance, z, p and tau-b (Mann 1945, Kendall 1975)', () => {
  const { x, y, S, var_S, z_continuity_corrected, p_two_sided, kendall_tau_b } =
    published.mann_kendall_theil_sen;
  for (const found of [answered(mannKendall(y)), answered(mannKendall(y, x))]) {
    expect(found.s).toBe(S);
    expect(found.variance).toBe(var_S);
    expect(found.z).toBeCloseTo(z_continuity_corrected, 6);
    expect(found.p).toBeCloseTo(p_two_sided, 8);
    expect(found.tau).toBeCloseTo(kendall_tau_b, 6);
    expect(found.direction).toBe('rising');
  }
});

test('tau-b agrees with SciPy, ties in either variable', () => {
  const found = differing(
    libraries.kendall,
    ({ x, y, tau }) => [[answered(kendallTau(x, y)).tau, tau]],
    1e-12,
  );
  expect(found).toEqual([]);
});

test('the exact p-value of series without ties agrees with SciPy', () => {
  const found = differing(
    libraries.kendall_exact,
    ({ y, p_value }) => [[answered(mannKendall(y)).exactP ?? Number.NaN, p_value]],
    1e-11,
  );
  expect(found).toEqual([]);
});

test('the exact p-value with ties in either or both agrees with all orders enumerated in Python', () => {
  const found = differing(
    trendStatistics.kendall_ties_exact,
    ({ x, y, s, p }) => {
      const test = answered(mannKendall(y, x));
      return [
        [test.s, s],
        [test.exactP ?? Number.NaN, p],
      ];
    },
    1e-12,
  );
  expect(found).toEqual([]);
});

test('the exact p-value agrees with all n! orders, whatever is tied, down to two values', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 })), {
        minLength: 2,
        maxLength: 6,
      }),
      (points) => {
        const [times, values] = [points.map(([time]) => time), points.map(([, value]) => value)];
        const found = mannKendall(values, times);
        if (found.kind === 'no-data') return;
        const all = ordersOf(values).map((order) => Math.abs(sOf(times, order)));
        const beyond = all.filter((s) => s >= Math.abs(found.s)).length;
        expect(found.exactP).toBeCloseTo(beyond / all.length, 12);
      },
    ),
  );
});

// Kendall, Rank Correlation Methods, appendix table 1 (Gilbert 1987 reprints it as table A18); the figures from memory.
test.each([
  [4, 4, 0.167],
  [5, 6, 0.117],
  [5, 8, 0.042],
  [6, 9, 0.068],
  [7, 13, 0.035],
  [8, 16, 0.031],
  [8, 18, 0.016],
])('the published table of S: n = %i, P(S >= %i) = %f', (n, s, tail) => {
  const order = ordersWithS(n, s);
  expect((answered(mannKendall(order)).exactP as number) / 2).toBeCloseTo(tail, 3);
});

test('beyond fifty values, and where ties in both leave too much to sum, there is no exact p', () => {
  const values = Array.from({ length: 51 }, (_, at) => (at * 7) % 51);
  expect(answered(mannKendall(values)).exactP).toBeNull();
  const tied = Array.from({ length: 50 }, (_, at) => ((at * 13) % 17) % 9);
  const years = tied.map((_, at) => 2010 + (at % 12));
  expect(answered(mannKendall(tied, years)).exactP).toBeNull();
  // Two values only: the tables are few whatever n is.
  const two = tied.map((value) => Number(value > 3));
  const found = answered(mannKendall(two, years));
  expect(Math.abs((found.exactP as number) - found.p)).toBeLessThan(0.01);
});

function sOf(x: readonly number[], y: readonly number[]): number {
  let s = 0;
  for (let a = 0; a < x.length; a++)
    for (let b = a + 1; b < x.length; b++) s += Math.sign(x[b] - x[a]) * Math.sign(y[b] - y[a]);
  return s;
}

function ordersOf(values: readonly number[]): readonly (readonly number[])[] {
  if (values.length < 2) return [values];
  return values.flatMap((value, at) => ordersOf(values.toSpliced(at, 1)).map((order) => [value, ...order]));
}

/** An order of 1 to n with a given S: from the rising one, neighbours exchanged until enough pairs fall. */
function ordersWithS(n: number, s: number): readonly number[] {
  const order = Array.from({ length: n }, (_, at) => at);
  let exchanges = ((n * (n - 1)) / 2 - s) / 2;
  for (let end = n - 1; exchanges > 0; end--)
    for (let at = 0; at < end && exchanges > 0; at++, exchanges--)
      [order[at], order[at + 1]] = [order[at + 1], order[at]];
  return order;
}

test('four values that rise throughout: the exact p is 2 of 24 orders', () => {
  expect(answered(mannKendall([1, 2, 3, 4])).exactP).toBeCloseTo(2 / 24, 15);
});

test('properties: backwards or upside down falls, any rising change of scale keeps S, exact and normal p are near', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 40 }), (values) => {
      const found = mannKendall(values);
      if (found.kind === 'no-data') {
        expect(new Set(values).size).toBe(1);
        return;
      }
      expect(answered(mannKendall(values.toReversed())).s + found.s).toBe(0);
      expect(answered(mannKendall(values.map((value) => -value))).z).toBeCloseTo(-found.z, 12);
      expect(answered(mannKendall(values.map((value) => value ** 3)))).toEqual(found);
      expect(Math.abs(found.tau)).toBeLessThanOrEqual(1 + 1e-12);
      expect(found.p).toBeLessThanOrEqual(1);
      if (found.exactP !== null && found.n >= 8) expect(Math.abs(found.exactP - found.p)).toBeLessThan(0.03);
    }),
    { numRuns: 300 },
  );
});

test('what cannot show a trend gives a reason in words', () => {
  expect(mannKendall([])).toEqual({ kind: 'no-data', reason: 'a trend takes two values or more' });
  expect(mannKendall([3])).toMatchObject({ kind: 'no-data' });
  expect(mannKendall([3, 3, 3])).toMatchObject({ reason: 'all values are equal' });
  expect(mannKendall([1, 2], [2020, 2020])).toMatchObject({ reason: 'all times are equal' });
  expect(kendallTau([1], [1])).toMatchObject({ kind: 'no-data' });
  expect(kendallTau([1, 2], [1, 1])).toMatchObject({ kind: 'no-data' });
  expect(() => mannKendall([1, Number.NaN])).toThrow('is NaN');
});

test('devices of seven years, many to a year: the count of pairs is that of looking at each', () => {
  const values = Array.from({ length: 2000 }, (_, at) => (at * 7919) % 1009);
  const times = values.map((_, at) => (at * 31) % 7);
  let s = 0;
  values.forEach((value, at) => {
    for (let other = at + 1; other < values.length; other++) {
      s += Math.sign(times[other] - times[at]) * Math.sign(values[other] - value);
    }
  });
  expect(answered(mannKendall(values, times)).s).toBe(s);
});
