import { expect, test } from 'vitest';
import {
  betaQuantile,
  binomialAtLeast,
  binomialAtMost,
  binomialProbability,
  gammaUpperQuantile,
  normalQuantile,
  normalTwoSided,
  studentQuantile,
  studentTwoSided,
} from '../../src/statistics/distributions.ts';
import { differing, libraries, trendStatistics } from './reference.ts';

// The beta and binomial functions of SciPy are Boost's; normal and gamma are checked against mpmath, since SciPy's own
// descend from Cephes and would be an echo.

test('normal quantiles and tails agree with mpmath out to where doubles end', () => {
  expect(differing(libraries.normal_quantile, ([p, z]) => [[normalQuantile(p), z]], 1e-14)).toEqual([]);
  // Beyond z = 37.5 the tail is smaller than a normal double and comes out as 0.
  const inside = libraries.normal_two_sided.filter(([z]: number[]) => z < 37);
  expect(differing(inside, ([z, p]: number[]) => [[normalTwoSided(z), p]], 1e-13)).toEqual([]);
  expect(normalTwoSided(40)).toBe(0);
});

test('beta quantiles agree with SciPy up to 100,000 trials', () => {
  const found = differing(libraries.beta_quantile, ([p, a, b, x]) => [[betaQuantile(p, a, b), x]], 1e-9);
  expect(found).toEqual([]);
});

test('gamma quantiles agree with Poisson sums of mpmath up to ten thousand events', () => {
  const found = differing(
    libraries.gamma_upper_quantile,
    ([tail, shape, x]) => [[gammaUpperQuantile(tail, shape), x]],
    1e-11,
  );
  expect(found).toEqual([]);
});

test('gamma quantiles agree with mpmath where the inverse of Cephes gives up, and up to a quarter of a million events', () => {
  const found = differing(
    trendStatistics.gamma_upper_quantile,
    ([tail, shape, x]) => [[gammaUpperQuantile(tail, shape), x]],
    1e-11,
  );
  expect(found).toEqual([]);
});

test('no shape is left out: quantiles rise with it, near where Wilson and Hilferty put them', () => {
  const wrong: number[] = [];
  for (const z of [-2.5758, -1.96, 1.96, 2.5758]) {
    const tail = z > 0 ? normalTwoSided(z) / 2 : 1 - normalTwoSided(z) / 2;
    let before = 0;
    // Every third shape meets a twentieth of all that failed, some hundred of them, and keeps the test short.
    for (let shape = 7000; shape <= 12_000; shape += 3) {
      const x = gammaUpperQuantile(tail, shape);
      const cube = shape * (1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape))) ** 3;
      if (!(x > before && Math.abs(x / cube - 1) < 1e-5)) wrong.push(shape);
      before = x;
    }
  }
  expect(wrong).toEqual([]);
});

test('beta quantiles and binomial tails exist for every count of up to 400 and a scan of larger ones', () => {
  const wrong: string[] = [];
  for (const n of [...Array.from({ length: 100 }, (_, at) => 4 * at + 4), 7485, 30_011, 999_983]) {
    for (let k = 1; k < n; k += Math.max(1, Math.floor(n / 60))) {
      const low = betaQuantile(0.025, k, n - k + 1);
      const high = betaQuantile(0.975, k + 1, n - k);
      // By definition, whatever gave the quantile: the limits of Clopper & Pearson leave a tail of 0.025 each.
      const tails = [binomialAtLeast(k, n, low), binomialAtMost(k, n, high)];
      if (!tails.every((tail) => Math.abs(tail - 0.025) < 1e-7)) wrong.push(`${k} of ${n}: ${tails}`);
    }
  }
  expect(wrong).toEqual([]);
});

test("Student's t agrees with mpmath, for degrees of freedom that are not whole too", () => {
  const found = differing(
    trendStatistics.student,
    ([freedom, p, t]) => [
      [studentQuantile(p, freedom), t],
      [studentTwoSided(t, freedom), 2 * (1 - p)],
    ],
    1e-7,
  );
  expect(found).toEqual([]);
  // Student, Biometrika 6, 1908 and every table since: 12.706 with one degree of freedom, 2.776 with four.
  expect(studentQuantile(0.975, 1)).toBeCloseTo(12.706, 3);
  expect(studentQuantile(0.975, 4)).toBeCloseTo(2.776, 3);
  expect(studentTwoSided(Number.POSITIVE_INFINITY, 3)).toBe(0);
});

test('binomial probabilities and tails agree with SciPy, vanishing ones included', () => {
  const wrong = (libraries.binomial as Record<string, number>[]).filter(
    ({ k, n, p, exactly, at_most, at_least }) => {
      const found = [binomialProbability(k, n, p), binomialAtMost(k, n, p), binomialAtLeast(k, n, p)];
      return [exactly, at_most, at_least].some(
        (expected, at) => !(Math.abs(found[at] - expected) <= 1e-9 * expected + 1e-250),
      );
    },
  );
  expect(wrong).toEqual([]);
  expect([binomialAtMost(-1, 5, 0.5), binomialAtMost(7, 5, 0.5)]).toEqual([0, 1]);
  expect([binomialAtLeast(-1, 5, 0.5), binomialAtLeast(7, 5, 0.5)]).toEqual([1, 0]);
});
