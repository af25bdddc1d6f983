import { expect, test } from 'vitest';
import { groupedThreshold, groupsNeeded } from '../../src/statistics/conformal.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { testSeed } from '../random.ts';

test('of groups with one score each it is the score of rank ⌈(n + 1) coverage⌉ (Angelopoulos & Bates 2023, section 1.1)', () => {
  const random = seededRandom(testSeed());
  for (const n of [9, 10, 19, 50, 137]) {
    const scores = Array.from({ length: n }, () => random.uniform());
    for (const coverage of [0.5, 0.8, 0.9]) {
      // The rank from whole numbers, apart from the code's sums of weights.
      const rank = Math.ceil(Math.round((n + 1) * coverage * 1e6) / 1e6);
      expect(
        groupedThreshold(
          scores.map((score) => [score]),
          coverage,
        ),
      ).toBe([...scores].sort((a, b) => a - b)[rank - 1]);
    }
  }
});

test('too few groups bear out no threshold: 9 for 0.9, 19 for 0.95, 99 for 0.99 (the n of ⌈(n + 1)(1 - α)⌉ <= n)', () => {
  for (const [coverage, needed] of [
    [0.5, 1],
    [0.8, 4],
    [0.9, 9],
    [0.95, 19],
    [0.99, 99],
  ] as const) {
    expect(groupsNeeded(coverage)).toBe(needed);
    const groups = (count: number) => Array.from({ length: count }, (_, at) => [at, at + 0.5]);
    expect(groupedThreshold(groups(needed), coverage)).toBeDefined();
    expect(groupedThreshold(groups(needed - 1), coverage)).toBeUndefined();
  }
  expect(groupedThreshold([], 0.5)).toBeUndefined();
  expect(() => groupedThreshold([[1]], 1)).toThrow(RangeError);
  expect(() => groupsNeeded(0)).toThrow(RangeError);
});

test('every group counts once, however many scores it has; one without a score not at all', () => {
  const groups = [Array(1_000).fill(5), [1], [2], [3]];
  // Weights: three of four groups lie at 3 or below, of five places one is at infinity: 3 / 5.
  expect(groupedThreshold(groups, 0.6)).toBe(3);
  expect(groupedThreshold([...groups, [], []], 0.6)).toBe(3);
  expect(groupedThreshold(groups, 0.61)).toBe(5);
});

test('by enumeration the coverage holds exactly: every group in turn is the new one, every one of its scores the one asked about', () => {
  // Exchangeable groups, whatever they are: the mean over all choices of the new group and of its score is the coverage that
  // is guaranteed, and Lee, Barber & Willett's bound from above is 2 / (K + 1) beyond it for scores without ties.
  const random = seededRandom(testSeed());
  for (let round = 0; round < 40; round++) {
    const count = random.integer(12, 40);
    const groups = Array.from({ length: count }, () => {
      // Groups unlike each other, and alike inside.
      const middle = random.normal(0, 2);
      return Array.from({ length: random.integer(1, 12) }, () => middle + random.normal(0, 0.3));
    });
    for (const coverage of [0.5, 0.8, 0.9]) {
      let held = 0;
      for (const [at, own] of groups.entries()) {
        const limit = groupedThreshold(
          groups.filter((_, other) => other !== at),
          coverage,
        );
        if (limit === undefined) throw new Error('too few groups');
        held += own.filter((score) => score <= limit).length / own.length / count;
      }
      expect(held).toBeGreaterThanOrEqual(coverage - 1e-9);
      expect(held).toBeLessThanOrEqual(coverage + 2 / count);
    }
  }
});

test('over many draws of calibration scores the coverage is spread as the beta distribution says (Vovk 2012; Angelopoulos & Bates 2023, section 3.2)', () => {
  // With n independent uniform scores the threshold is the coverage itself: Beta(r, n + 1 - r), r = ⌈(n + 1) coverage⌉.
  const random = seededRandom(testSeed());
  const [n, coverage] = [50, 0.9];
  const rank = 46;
  const [a, b] = [rank, n + 1 - rank];
  const draws = Array.from(
    { length: 4_000 },
    () =>
      groupedThreshold(
        Array.from({ length: n }, () => [random.uniform()]),
        coverage,
      ) as number,
  );
  const mean = draws.reduce((sum, one) => sum + one, 0) / draws.length;
  const variance = draws.reduce((sum, one) => sum + (one - mean) ** 2, 0) / draws.length;
  const exact = (a * b) / ((a + b) ** 2 * (a + b + 1));
  // Five standard errors of the mean; of a variance, about sqrt(2 / 4000).
  expect(Math.abs(mean - a / (a + b))).toBeLessThan(5 * Math.sqrt(exact / draws.length));
  expect(Math.abs(variance / exact - 1)).toBeLessThan(0.15);
});
