import { expect, test } from 'vitest';
import {
  betaQuantile,
  binomialAtLeast,
  binomialAtMost,
  binomialProbability,
  gammaUpperQuantile,
  normalQuantile,
  normalTwoSided,
} from '../../src/statistics/distributions.ts';
import { differing, libraries } from './reference.ts';

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
