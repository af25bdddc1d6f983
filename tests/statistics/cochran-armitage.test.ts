import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cochranArmitage, cochranArmitageOf } from '../../src/statistics/cochran-armitage.ts';
import { answered, differing, libraries, published } from './reference.ts';

interface Case {
  readonly k: number[];
  readonly n: number[];
  readonly scores: number[];
  readonly chi_square: number;
  readonly p: number;
}

describe('the smokers of Fleiss 1981 p. 139 and a small series, as R prop.trend.test gives them', () => {
  test.each(published.cochran_armitage.cases as Case[])(
    '$k of $n at $scores',
    ({ k, n, scores, chi_square, p }) => {
      const found = answered(cochranArmitageOf(k, n, scores));
      expect(Math.abs(found.chiSquare / chi_square - 1)).toBeLessThan(1e-4);
      expect(Math.abs(found.p / p - 1)).toBeLessThan(1e-3);
      expect(found.direction).toBe(k[0] === 1 ? 'rising' : 'falling');
    },
  );
});

test('agrees with the linear-by-linear test of statsmodels, sign included, with years as scores', () => {
  const found = differing(
    libraries.cochran_armitage,
    ({ k, n, scores, z, p }) => {
      const trend = answered(cochranArmitageOf(k, n, scores));
      return [
        [trend.z, z],
        [trend.p, p],
      ];
    },
    1e-9,
  );
  expect(found).toEqual([]);
});

const groups = fc.array(
  fc.integer({ min: 1, max: 60 }).chain((trials) =>
    fc.record({
      trials: fc.constant(trials),
      successes: fc.integer({ min: 0, max: trials }),
      score: fc.integer({ min: 2000, max: 2030 }),
    }),
  ),
  { minLength: 2, maxLength: 8 },
);

test('properties: order and empty groups do not matter, axis may be moved and scaled, failures and time mirror', () => {
  fc.assert(
    fc.property(groups, (given) => {
      const found = cochranArmitage(given);
      const empty = { trials: 0, successes: 0, score: 2050 };
      const again = cochranArmitage([...given].reverse().concat(empty));
      if (found.kind === 'no-data' || again.kind === 'no-data') {
        expect(again).toEqual(found);
        return;
      }
      expect(again.z).toBeCloseTo(found.z, 9);
      const other = (change: (group: (typeof given)[0]) => (typeof given)[0]) =>
        answered(cochranArmitage(given.map(change)));
      expect(other((g) => ({ ...g, score: 12 * (g.score - 2000) })).z).toBeCloseTo(found.z, 9);
      expect(other((g) => ({ ...g, successes: g.trials - g.successes })).z).toBeCloseTo(-found.z, 9);
      expect(other((g) => ({ ...g, score: -g.score })).slope).toBeCloseTo(-found.slope, 9);
      expect(found.p).toBeGreaterThanOrEqual(0);
      expect(found.p).toBeLessThanOrEqual(1);
    }),
    { numRuns: 300 },
  );
});

test('what cannot show a trend gives a reason in words, never NaN', () => {
  expect(cochranArmitage([])).toEqual({ kind: 'no-data', reason: 'nothing was counted' });
  expect(cochranArmitageOf([1, 0], [4, 0])).toMatchObject({ kind: 'no-data' });
  expect(cochranArmitageOf([0, 0], [4, 5])).toMatchObject({ reason: 'no success in any group' });
  expect(cochranArmitageOf([4, 5], [4, 5])).toMatchObject({ reason: 'no failure in any group' });
  expect(() => cochranArmitageOf([5], [4])).toThrow('5 successes of 4');
  expect(() => cochranArmitageOf([1, 2], [4])).toThrow('2 and 1');
});

test('the minimum expected number warns of an inaccurate approximation', () => {
  expect(answered(cochranArmitageOf([1, 1], [10, 30])).smallestExpected).toBe(0.5);
});
