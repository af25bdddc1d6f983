import fc from 'fast-check';
import { expect, test } from 'vitest';
import { binomialProbability } from '../../src/statistics/distributions.ts';
import { chanceOf, countInterval, poissonBinomial } from '../../src/statistics/poisson-binomial.ts';
import { libraries } from './reference.ts';

test('agrees with SciPy', () => {
  for (const { p, chances, mean, variance } of libraries.poisson_binomial) {
    const found = poissonBinomial(p);
    expect(found.expectation).toBeCloseTo(mean, 10);
    expect(found.variance).toBeCloseTo(variance, 10);
    chances.forEach((chance: number, k: number) => expect(chanceOf(found, k)).toBeCloseTo(chance, 13));
  }
});

test('equal probabilities give the binomial distribution, also for ten thousand trials', () => {
  for (const [n, p] of [
    [12, 0.3],
    [10_000, 0.02],
  ]) {
    const found = poissonBinomial(new Array(n).fill(p));
    for (const k of [0, 1, 5, Math.round(n * p), n]) {
      expect(chanceOf(found, k)).toBeCloseTo(binomialProbability(k, n, p), 11);
    }
  }
});

test('none, certain and impossible members', () => {
  expect(poissonBinomial([])).toMatchObject({ n: 0, expectation: 0, lowest: 0 });
  expect(countInterval(poissonBinomial([]))).toEqual({ low: 0, high: 0 });
  expect(countInterval(poissonBinomial([1, 1, 0]))).toEqual({ low: 2, high: 2 });
  expect(() => poissonBinomial([0.5, Number.NaN])).toThrow('probabilities[1]');
});

test('properties: sums to one, mean and variance match, order does not matter, interval holds its level and the mean', () => {
  const many = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 60 });
  fc.assert(
    fc.property(many, (p) => {
      const found = poissonBinomial(p);
      const ks = p.map((_, k) => k).concat(p.length);
      const moment = (of: (k: number) => number) =>
        ks.reduce((sum, k) => sum + of(k) * chanceOf(found, k), 0);
      expect(moment(() => 1)).toBeCloseTo(1, 12);
      expect(moment((k) => k)).toBeCloseTo(found.expectation, 10);
      expect(moment((k) => (k - found.expectation) ** 2)).toBeCloseTo(found.variance, 9);
      const again = poissonBinomial(p.toReversed());
      for (const k of ks) expect(chanceOf(again, k)).toBeCloseTo(chanceOf(found, k), 12);
      const { low, high } = countInterval(found);
      expect(moment((k) => Number(k >= low && k <= high))).toBeGreaterThanOrEqual(0.95 - 1e-12);
      expect(low).toBeLessThanOrEqual(Math.ceil(found.expectation));
      expect(high).toBeGreaterThanOrEqual(Math.floor(found.expectation));
    }),
    { numRuns: 200 },
  );
});
