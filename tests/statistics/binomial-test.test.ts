import fc from 'fast-check';
import { expect, test } from 'vitest';
import { clopperPearson } from '../../src/statistics/proportion.ts';
import { binomialTest } from './binomial-test.ts';
import { differing, libraries, published } from './reference.ts';

test('the Mendel data of Conover 1971 p. 97, as R binom.test gives them', () => {
  const { k, n, p0, p_value } = published.exact_binomial;
  expect(binomialTest(k, n, p0)).toBeCloseTo(p_value, 6);
});

test('agrees with SciPy for all three alternatives, at certain probabilities too', () => {
  const found = differing(
    libraries.binomial_test,
    ({ k, n, p, alternative, p_value }) => [[binomialTest(k, n, p, alternative), p_value]],
    1e-8,
  );
  expect(found).toEqual([]);
});

test('properties: a p-value is in (0, 1], failures mirror successes, one-sided tests match the exact interval', () => {
  const cases = fc
    .integer({ min: 1, max: 120 })
    .chain((n) =>
      fc.tuple(
        fc.constant(n),
        fc.integer({ min: 0, max: n }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
      ),
    );
  fc.assert(
    fc.property(cases, ([n, k, p]) => {
      const value = binomialTest(k, n, p);
      expect(value).toBeGreaterThan(0);
      expect(value).toBeLessThanOrEqual(1);
      expect(binomialTest(n - k, n, 1 - p)).toBeCloseTo(value, 9);
      const { low, high } = clopperPearson(k, n);
      // The exact interval holds what neither one-sided test rejects at half the level (Clopper & Pearson 1934).
      const kept = binomialTest(k, n, p, 'greater') >= 0.025 && binomialTest(k, n, p, 'less') >= 0.025;
      if (Math.min(Math.abs(p - low), Math.abs(p - high)) > 1e-9) expect(p >= low && p <= high).toBe(kept);
    }),
    { numRuns: 300 },
  );
});

test('no trials or more successes than trials are refused', () => {
  expect(() => binomialTest(0, 0, 0.5)).toThrow('0 of 0 cannot be tested');
  expect(() => binomialTest(3, 2, 0.5)).toThrow('3 of 2 cannot be tested');
  expect(() => binomialTest(1, 2, 1.5)).toThrow('it is 1.5');
});
