import fc from 'fast-check';
import { expect, test } from 'vitest';
import { benjaminiHochberg } from '../../src/statistics/benjamini-hochberg.ts';
import { differing, libraries, published } from './reference.ts';

test('the worked example of Benjamini & Hochberg 1995: 15 p-values, four findings at 5 %', () => {
  const { p, adjusted, rejected } = published.benjamini_hochberg;
  const found = benjaminiHochberg(p);
  found.forEach((value, at) => expect(value).toBeCloseTo(adjusted[at], 6));
  expect(found.filter((value) => value <= 0.05)).toHaveLength(rejected);
});

test('agrees with SciPy and statsmodels in the order given', () => {
  const found = differing(
    libraries.benjamini_hochberg,
    ({ p, adjusted, adjusted_statsmodels }) =>
      benjaminiHochberg(p).flatMap((value, at) => [
        [value, adjusted[at]] as const,
        [value, adjusted_statsmodels[at]] as const,
      ]),
    1e-12,
  );
  expect(found).toEqual([]);
});

test('properties: never below the p-value, never above 1, same ranking, the order given does not matter', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 30 }), (p) => {
      const found = benjaminiHochberg(p);
      found.forEach((value, at) => {
        expect(value).toBeGreaterThanOrEqual(p[at]);
        expect(value).toBeLessThanOrEqual(1);
        p.forEach((other, place) => {
          if (other <= p[at]) expect(found[place]).toBeLessThanOrEqual(value);
        });
      });
      expect(benjaminiHochberg(p.toReversed())).toEqual(found.toReversed());
    }),
    { numRuns: 200 },
  );
  expect(benjaminiHochberg([])).toEqual([]);
  expect(() => benjaminiHochberg([0.1, Number.NaN])).toThrow('p[1]');
});
