import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { armitageRange } from '../../src/statistics/armitage-range.ts';
import {
  clusteredMedian,
  clusteredRate,
  clusteredShare,
  effectiveSize,
} from '../../src/statistics/cluster-interval.ts';
import { leastClusterT } from '../../src/statistics/cluster-range.ts';
import { clusterSlope, slopeDesign } from '../../src/statistics/cluster-slope.ts';
import { kendallRange } from '../../src/statistics/kendall-range.ts';
import { mannKendall } from '../../src/statistics/mann-kendall.ts';
import { poissonInterval } from '../../src/statistics/poisson-interval.ts';
import { wilson } from '../../src/statistics/proportion.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { midRanks, rankRange } from '../../src/statistics/ranks.ts';
import { answered, differing } from './reference.ts';

/** Written by tests/reference/cluster-slope.py: dense matrices, and all ways enumerated. */
const reference = JSON.parse(
  readFileSync(new URL('../reference/cluster-slope.json', import.meta.url), 'utf8'),
);

test('slope, error, degrees of freedom and p are those of the matrices written out', () => {
  const found = differing(
    reference.slopes,
    ({ y, x, g, slope, error, freedom, p }) => {
      const one = answered(clusterSlope(y, x, g));
      return [
        [one.slope, slope],
        [one.standardError, error],
        [one.freedom, freedom],
        [one.p, p],
      ];
    },
    1e-6,
  );
  expect(found).toEqual([]);
});

test('the smallest and largest z and the smallest t over all ways are those enumerated', () => {
  for (const { y, x, g, z, t } of reference.ranges as Record<string, number[]>[]) {
    const groups = [...Map.groupBy(y.keys(), (at) => x[at])].map(([score, members]) => {
      const of = (value: number) => Array.from(members).filter((at) => y[at] === value).length;
      return { score, successes: of(1), failures: of(0), open: of(-1) };
    });
    const range = answered(armitageRange(groups));
    expect(range.low).toBeCloseTo(z[0], 9);
    expect(range.high).toBeCloseTo(z[1], 9);
    const design = answered(slopeDesign(x, g));
    const lows = y.map((one) => Math.max(0, one));
    const highs = y.map((one) => Math.abs(one));
    expect(leastClusterT(design, lows, highs, true)).toBeCloseTo(t as unknown as number, 6);
    // The bound, which takes any value between too, is never above it.
    expect(leastClusterT(design, lows, highs, false)).toBeLessThanOrEqual((t as unknown as number) + 1e-9);
  }
});

const ranged = fc.array(
  fc.record({
    time: fc.integer({ min: 2015, max: 2019 }),
    low: fc.integer({ min: 0, max: 3 }),
    more: fc.integer({ min: 0, max: 2 }),
  }),
  { minLength: 2, maxLength: 6 },
);

/** Every choice of whole values from the ranges. */
function choices(lows: readonly number[], highs: readonly number[]): readonly (readonly number[])[] {
  return lows.reduce<readonly (readonly number[])[]>(
    (all, low, at) =>
      all.flatMap((one) => Array.from({ length: highs[at] - low + 1 }, (_, step) => [...one, low + step])),
    [[]],
  );
}

test('S, its variance and ranks lie within their bounds for every choice of values; one open value is exact', () => {
  fc.assert(
    fc.property(ranged, (points) => {
      const times = points.map(({ time }) => time);
      const lows = points.map(({ low }) => low);
      const highs = points.map(({ low, more }) => low + more);
      const range = kendallRange(times, lows, highs);
      const ranks = rankRange(lows, highs);
      const all = choices(lows, highs);
      for (const values of all) {
        midRanks(values).forEach((rank, at) => {
          expect(rank).toBeGreaterThanOrEqual(ranks.low[at]);
          expect(rank).toBeLessThanOrEqual(ranks.high[at]);
        });
        const found = mannKendall(values, times);
        const [s, variance] = found.kind === 'no-data' ? [0, 0] : [found.s, found.variance];
        expect(s).toBeGreaterThanOrEqual(range.s.low);
        expect(s).toBeLessThanOrEqual(range.s.high);
        expect(variance).toBeLessThanOrEqual(range.variance + 1e-9);
      }
      if (points.filter(({ more }) => more > 0).length > 1) return;
      const found = all.map((values) => {
        const one = mannKendall(values, times);
        return one.kind === 'no-data' ? 0 : one.s;
      });
      // Between two whole values lies another order, without a tie.
      expect(range.s.low).toBeLessThanOrEqual(Math.min(...found));
      if (points.every(({ more }) => more === 0)) expect(range.s).toEqual({ low: found[0], high: found[0] });
    }),
    { numRuns: 150 },
  );
});

test('values that nothing bounds may undo any order', () => {
  const times = [1, 2, 3, 4];
  const open = kendallRange(times, [-Infinity, 2, 3, 4], [Infinity, 2, 3, 4]);
  // The first value above all others: three pairs fall, three rise.
  expect(open.s).toEqual({ low: 0, high: 6 });
});

test('intervals are those of independent values where each is a cluster, and of one cluster as of one value', () => {
  const values = [0, 1, 1, 0, 1, 1, 1, 0];
  const each = effectiveSize(values, [1, 2, 3, 4, 5, 6, 7, 8], 0.25);
  expect(each).toEqual({ size: 8, clusters: 8 });
  expect(clusteredShare(5 / 8, each.size)).toEqual(wilson(5, 8));
  const counts = clusteredRate(27 / 9, 9);
  expect(counts.low * 9).toBeCloseTo(poissonInterval(27).low, 9);
  expect(counts.high * 9).toBeCloseTo(poissonInterval(27).high, 9);
  const alike = values.map(() => 1);
  expect(effectiveSize(values, alike, 0.25)).toEqual({ size: 1, clusters: 1 });
  expect(effectiveSize(alike, [1, 1, 2, 2, 3, 3, 3, 3], 0)).toEqual({ size: 3, clusters: 3 });
  // Eleven values as in Conover's example (statistics.json): ranks 2 and 10.
  const data = [12, 15, 15, 17, 18, 21, 22, 25, 30, 41, 44];
  expect(clusteredMedian(data, 11)).toEqual({ low: 15, high: 41 });
  expect(clusteredMedian(data, 3)).toBeNull();
});

test('clusters whose members are all alike count about as many values as there are clusters', () => {
  const random = seededRandom('alike');
  const sizes = Array.from({ length: 200 }, () => {
    const lines = Array.from({ length: 20 }, () => Number(random.chance(0.5)));
    const values = lines.flatMap((value) => [value, value, value]);
    const mean = values.reduce((sum, one) => sum + one, 0) / 60;
    return effectiveSize(
      values,
      lines.flatMap((_, at) => [at, at, at]),
      mean * (1 - mean),
    ).size;
  });
  // 20, times the square of the ratio of the t quantiles of 59 and 19 degrees of freedom: 18.3.
  expect(sizes.reduce((sum, one) => sum + one, 0) / 200).toBeCloseTo(18, -0.5);
});

// Product lines of one to five devices over eight years; what a line has it mostly keeps. Nothing rises or falls.
test('with alike members the test by clusters holds its level where the plain one does not', () => {
  const random = seededRandom('level of the test by product line');
  const rounds = 600;
  let [plain, byCluster, covered] = [0, 0, 0];
  for (let round = 0; round < rounds; round++) {
    const x: number[] = [];
    const y: number[] = [];
    const g: number[] = [];
    for (let line = 0; line < 14; line++) {
      const start = random.integer(2013, 2019);
      const level = random.normal(0, 1);
      for (let at = random.integer(1, 5); at > 0; at--) {
        x.push(start + random.integer(0, 2));
        y.push(level + random.normal(0, 0.5));
        g.push(line);
      }
    }
    const one = clusterSlope(y, x, g);
    if (one.kind === 'no-data') continue;
    const alone = clusterSlope(
      y,
      x,
      g.map((_, at) => at),
    );
    if (one.p <= 0.05) byCluster++;
    if (alone.kind === 'cluster-slope' && alone.p <= 0.05) plain++;
    if (one.interval.low <= 0 && one.interval.high >= 0) covered++;
  }
  expect(plain / rounds).toBeGreaterThan(0.1);
  // Binomial error of 600 rounds at 0.05: 0.009; three of these.
  expect(Math.abs(byCluster / rounds - 0.05)).toBeLessThan(0.027);
  expect(Math.abs(covered / rounds - 0.95)).toBeLessThan(0.027);
});
