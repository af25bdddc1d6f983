import fc from 'fast-check';
import { expect, test } from 'vitest';
import { kendallTau } from '../../src/statistics/kendall-tau.ts';
import { mannKendall } from '../../src/statistics/mann-kendall.ts';
import { answered, differing, libraries, published } from './reference.ts';

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
    expect(found.exactP).toBeNull();
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
