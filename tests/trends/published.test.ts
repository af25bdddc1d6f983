import { describe, expect, test } from 'vitest';
import type { TrendQuestion } from '../../src/trends/answer.ts';
import { measured } from '../../src/trends/trend.ts';
import { trend } from '../../src/trends/trends.ts';
import { judge } from '../../src/trends/verdict.ts';
import { published, trendStatistics } from '../statistics/reference.ts';
import { chip, type Made, many, viewOf } from './made.ts';

// Published examples asked of whole archives whose counts equal them; sources stand in the reference file.

const HEARING: TrendQuestion = { of: { share: { category: 'Microphone' } } };

/** Devices of a year, so many of them with a microphone. */
function year(released: string, having: number, of: number): Made[] {
  return [
    ...many(having, { released, chips: [chip('Microphone')] }, `${released}-with`),
    ...many(of - having, { released }, `${released}-without`),
  ];
}

describe('Cochran–Armitage (Armitage 1955; the smokers of Fleiss 1981 p. 139, as R prop.trend.test gives them)', () => {
  const cases = published.cochran_armitage.cases.filter(
    ({ scores }: { scores: number[] }) => scores[1] === 2,
  );
  test.each(cases as { k: number[]; n: number[]; chi_square: number; p: number }[])(
    '$k of $n devices in four years',
    async ({ k, n, chi_square, p }) => {
      const devices = k.flatMap((having, at) => year(String(2016 + at), having, n[at]));
      const { total } = await trend(viewOf(devices), HEARING);
      expect(Math.abs((total.test?.z ?? 0) ** 2 / chi_square - 1)).toBeLessThan(1e-4);
      expect(Math.abs((total.test?.p ?? 0) / p - 1)).toBeLessThan(1e-3);
      expect(total.test).toMatchObject({ name: 'Cochran–Armitage', holdsUnderDoubt: true, periods: 4 });
      expect(total.verdict.direction).toBe(k[0] === 1 ? 'rising' : 'falling');
      expect(total.verdict.sentence).toMatch(k[0] === 1 ? /^Rising trend: \+/u : /^Falling trend: −/u);
      expect(total.total).toMatchObject({
        n: n.reduce((a, b) => a + b),
        certain: k.reduce((a, b) => a + b),
        notObserved: 0,
      });
    },
  );
});

test('the slope of shares has the interval of its test: the smokers of Fleiss 1981 p. 139, worked by hand', async () => {
  // N = 397, Σnt = 1008, Σnt² = 2994, Σk = 372, Σkt = 930: Sxx = 434.630, slope = −14.524 / 434.630 = −0.033417;
  // standard error √(0.937028 × 0.062972 / 434.630) = 0.011652; 1.959964 of these are 0.022837.
  const [k, n] = [
    [83, 90, 129, 70],
    [86, 93, 136, 82],
  ];
  const { total } = await trend(
    viewOf(k.flatMap((having, at) => year(String(2016 + at), having, n[at]))),
    HEARING,
  );
  expect(total.test?.slope).toBeCloseTo(-0.033417, 5);
  expect(total.test?.slopeInterval?.low).toBeCloseTo(-0.056254, 5);
  expect(total.test?.slopeInterval?.high).toBeCloseTo(-0.01058, 5);
  expect(total.verdict.sentence).toContain('−3.3 percentage points a year (95 % −5.6 to −1.1)');
});

test('Wilson limits (Newcombe, Statistics in Medicine 17, 1998, table I and others), a case a year', async () => {
  const cases = published.wilson.cases as { k: number; n: number; low: number; high: number }[];
  const devices = cases.flatMap(({ k, n }, at) => year(String(2001 + at), k, n));
  const { total } = await trend(viewOf(devices), HEARING);
  const limits = (low: number, high: number) => ({
    low: expect.closeTo(low, 6),
    high: expect.closeTo(high, 6),
  });
  expect(total.periods).toMatchObject(
    cases.map(({ k, n, low, high }, at) => ({
      period: String(2001 + at),
      n,
      certain: k,
      value: expect.closeTo(k / n, 9),
      interval: limits(low, high),
      band: { low: k / n, high: k / n },
    })),
  );
});

test('exact Poisson limits (Garwood, Biometrika 28, 1936), a count a year in one device each', async () => {
  const cases = published.poisson_exact.cases as { count: number; low: number; high: number }[];
  const devices = cases.map(
    ({ count }, at): Made => ({
      id: `d${at}`,
      released: String(2001 + at),
      chips: Array.from({ length: count }, () => chip('Microphone')),
    }),
  );
  const { total } = await trend(viewOf(devices), { of: { count: 'Microphone' } });
  expect(total.periods).toMatchObject(
    cases.map(({ count, low, high }) => ({
      value: count,
      interval: { low: expect.closeTo(low, 4), high: expect.closeTo(high, 4) },
    })),
  );
  // Ten devices with 27 between them: 2.7 a device, limits a tenth of Garwood's for 27.
  const ten = many(10, { released: '2020', chips: [chip('Microphone'), chip('Microphone')] }, 'two').map(
    (one, at) => (at < 7 ? { ...one, chips: [...(one.chips ?? []), chip('Microphone')] } : one),
  );
  const of27 = cases.find(({ count }) => count === 27) as { low: number; high: number };
  const rate = (await trend(viewOf(ten), { of: { count: 'Microphone' } })).total.total;
  expect(rate.value).toBe(2.7);
  expect(rate.interval?.low).toBeCloseTo(of27.low / 10, 5);
  expect(rate.interval?.high).toBeCloseTo(of27.high / 10, 5);
});

test('Mann–Kendall and Theil–Sen (Sen, JASA 63, 1968), a mass a year', async () => {
  const { x, y, var_S, z_continuity_corrected, theil_sen } = published.mann_kendall_theil_sen;
  const devices = (x as number[]).map(
    (at, place): Made => ({
      id: `d${at}`,
      released: String(2000 + at),
      more: { mass: { value: y[place], unit: 'g' } },
    }),
  );
  const answer = await measured(viewOf(devices), { of: { quantity: { device: 'mass' } } });
  // With ten devices p is exact: all orders of these values were enumerated (tests/reference/trend-statistics.py).
  const exact = (trendStatistics.kendall_ties_exact as { y: number[]; p: number }[]).find(
    (one) => one.y.join() === y.join(),
  );
  expect(var_S).toBe(123);
  expect(answer.series[0].tested.test).toMatchObject({
    name: 'Mann–Kendall',
    z: expect.closeTo(z_continuity_corrected, 6),
    p: expect.closeTo(exact?.p as number, 12),
    slope: expect.closeTo(theil_sen.slope, 6),
    slopeInterval: { low: expect.closeTo(theil_sen.low95, 6), high: expect.closeTo(theil_sen.high95, 6) },
    direction: 'rising',
  });
});

test('median and its order-statistic interval (Conover), of masses in one year, in mixed units', async () => {
  const { data, median, low, high } = published.median_interval;
  const devices = (data as number[]).map(
    (value, at): Made => ({
      id: `d${at}`,
      released: '2019',
      more: { mass: at % 2 === 0 ? { value, unit: 'g' } : { value: value / 1000, unit: 'kg' } },
    }),
  );
  const { total, unit } = await trend(viewOf(devices), { of: { quantity: { device: 'mass' } } });
  expect(unit).toBe('g');
  expect(total.total).toMatchObject({ n: 11, value: median, interval: { low, high }, certain: 11 });
  expect(total.total.distribution).toMatchObject({ minimum: 12, maximum: 44 });
});

test('fifteen series tested together (Benjamini & Hochberg, JRSS B 57, 1995, the worked example)', () => {
  const { p, adjusted, rejected } = published.benjamini_hochberg;
  const verdicts = judge(
    (p as number[]).map((one) => ({
      n: 40,
      periods: 8,
      unit: 'g',
      test: {
        name: 'Mann–Kendall',
        n: 40,
        periods: 8,
        z: 1,
        p: one,
        slope: 1,
        slopeInterval: null,
        direction: 'rising',
        byProductLine: null,
        basis: 'devices',
        careful: one,
        atMost: one,
        rough: false,
      },
    })),
  );
  verdicts.forEach(({ test }, at) => expect(test?.q).toBeCloseTo(adjusted[at], 6));
  expect(verdicts.filter(({ verdict }) => verdict.direction === 'rising')).toHaveLength(rejected);
});
