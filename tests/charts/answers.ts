import fc from 'fast-check';
import type { TrendAnswer, TrendPeriod, TrendSeries } from '../../src/trends/answer.ts';
import type { PeriodLength } from '../../src/trends/asked.ts';

/** Labels that break what is careless: markup, quotes, both directions of writing, marks, length, control characters. */
export const LABELS = [
  'wrist',
  'a < b & c > d',
  '"quoted" and \'quoted\'',
  '</text><script>alert(1)</script>',
  'שעון יד חכם',
  'ساعة ذكية',
  'e\u0301\u0323 combining',
  'one very long label of a group, '.repeat(6),
  'onewordwithoutanyspacetobreakit'.repeat(5),
  'bell \u0007 and half a pair \ud800',
  'datum.value + signal',
  '=SUM(A:A)',
] as const;

const UNITS = ['g', 'mA.h', 'EUR', 'components a device', 'cm2', '%'] as const;

interface Form {
  readonly isShare: boolean;
  readonly per: PeriodLength;
  readonly periods: number;
  readonly groups: number;
  readonly unit: string;
  readonly scale: number;
  readonly draws: readonly number[];
  readonly enough: boolean;
}

/** Answers of every form: shares and amounts, no period to forty, no group to twelve, with and without doubt. */
export const trendAnswers: fc.Arbitrary<TrendAnswer> = fc
  .record({
    isShare: fc.boolean(),
    per: fc.constantFrom<PeriodLength>('year', 'half-year', 'quarter'),
    periods: fc.integer({ min: 0, max: 40 }),
    groups: fc.constantFrom(0, 0, 1, 2, 5, 8, 12),
    unit: fc.constantFrom(...UNITS),
    scale: fc.constantFrom(0.001, 1, 300, 5e6),
    draws: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 64, maxLength: 64 }),
    enough: fc.boolean(),
  })
  .map(answerOf);

/** An answer of a form. */
export function answerOf(form: Form): TrendAnswer {
  const { isShare, per, groups, unit } = form;
  const total = seriesOf(form, null, 'all', 0);
  return {
    of: isShare ? 'share of devices with something' : 'median of something a device',
    unit: isShare ? '1' : unit,
    per,
    by: groups > 0 ? 'maker' : null,
    only: groups > 3 ? `made by ${LABELS.join(' or ')}` : null,
    total,
    groups: Array.from({ length: groups }, (_, i) => seriesOf(form, `g-${i}`, LABELS[i], i + 1)),
    firstAdopters: [],
    cautions: [],
  };
}

function seriesOf(form: Form, group: string | null, label: string, seed: number): TrendSeries {
  const periods = Array.from({ length: form.periods }, (_, i) => periodOf(form, i, seed));
  const n = periods.reduce((sum, one) => sum + one.n, 0);
  return {
    group,
    label,
    total: { ...periodOf(form, 0, seed), n, devices: n },
    undated: 0,
    periods,
    test: null,
    verdict: { enough: form.enough, direction: null, sentence: 'What may be said of it.' },
  };
}

function periodOf({ isShare, per, scale, draws }: Form, at: number, seed: number): TrendPeriod {
  const draw = (i: number) => draws[(7 * at + 13 * seed + i) % draws.length];
  const n = draw(0) < 0.3 ? 0 : Math.ceil(draw(1) ** 2 * 120);
  const notObserved = draw(2) < 0.6 ? 0 : Math.ceil(draw(3) * 9);
  const size = isShare ? 1 : scale;
  const value = n === 0 ? null : draw(4) * size;
  const around = (width: number) =>
    value === null
      ? null
      : {
          low: Math.max(0, value - width * draw(5) * size),
          high: Math.min(isShare ? 1 : Number.POSITIVE_INFINITY, value + width * draw(6) * size),
        };
  const inYear = { year: 1, 'half-year': 2, quarter: 4 }[per];
  const year = 2011 + Math.floor(at / inYear);
  const part = { year: '', 'half-year': '-H', quarter: '-Q' }[per];
  return {
    period: part === '' ? String(year) : `${year}${part}${1 + (at % inYear)}`,
    start: year + (at % inYear) / inYear,
    devices: n + notObserved,
    n,
    notObserved,
    absent: 0,
    value,
    interval: draw(7) < 0.1 ? null : around(0.3),
    productLines: n,
    productLineInterval: draw(8) < 0.5 ? around(0.3) : around(0.5),
    band: draw(9) < 0.5 ? (value === null ? null : { low: value, high: value }) : around(0.4),
    outer: isShare ? around(0.6) : null,
    certain: 0,
    likely: isShare ? 0 : null,
    expected: isShare ? 0 : null,
    possible: null,
    distribution: null,
    median: null,
    certainMedian: null,
  };
}
