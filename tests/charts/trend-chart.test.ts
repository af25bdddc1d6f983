import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Chart } from '../../src/charts/chart.ts';
import { chartSvg } from '../../src/charts/render.ts';
import { trendChart } from '../../src/charts/trend-chart.ts';
import type { TrendAnswer, TrendQuestion } from '../../src/trends/answer.ts';
import { trend } from '../../src/trends/trends.ts';
import { demoArchive } from '../trends/demo.ts';
import { answerOf, LABELS, trendAnswers } from './answers.ts';
import { expectTextsApart, expectVegaLite, textsOf } from './judges.ts';

const SOURCE = { on: '2026-03-01', invented: true };
const SIZES = ['page', 'column'] as const;

const QUESTIONS: Readonly<Record<string, TrendQuestion>> = {
  'a share by half-years': { of: { share: { category: 'PressureSensor' } }, per: 'half-year' },
  'a quantity in g': { of: { quantity: { device: 'mass' } } },
  'a count by quarters': { of: { count: 'Sensor' }, per: 'quarter' },
  'a share by body site': { of: { share: { category: 'PressureSensor' } }, by: 'body-site' },
  'a quantity by price': { of: { quantity: { device: 'mass' } }, by: 'price-band' },
  'nothing at all': { of: { share: { category: 'PressureSensor' } }, where: { releasedFrom: '2090' } },
};

test.each(Object.entries(QUESTIONS))(
  'of the demo archive, %s: the document fits the schema, texts lie apart and inside, figures agree',
  async (_, question) => {
    const state = (await demoArchive()).state('desk');
    const answer = await trend(state, question);
    for (const size of SIZES) {
      const chart = trendChart(answer, SOURCE, size);
      expectVegaLite(chart.document);
      expectTextsApart(await chartSvg(chart.document));
      expectOneList(chart, answer);
    }
  },
);

test('whatever is answered, the document fits the schema and figure, table and words have the same numbers', () => {
  fc.assert(
    fc.property(trendAnswers, fc.constantFrom(...SIZES), (answer, size) => {
      const chart = trendChart(answer, SOURCE, size);
      expectVegaLite(chart.document);
      expectOneList(chart, answer);
    }),
    { numRuns: 30 },
  );
});

test('whatever is answered, the drawing is well-formed, runs nothing and points nowhere, and texts lie apart and inside', async () => {
  await fc.assert(
    fc.asyncProperty(trendAnswers, fc.constantFrom(...SIZES), async (answer, size) => {
      expectTextsApart(await chartSvg(trendChart(answer, SOURCE, size).document));
    }),
    { numRuns: 6 },
  );
});

const draws = Array.from({ length: 64 }, (_, i) => ((i * 37) % 64) / 64);
const FORM = { isShare: true, per: 'year', unit: '1', scale: 1, draws, enough: true } as const;

test('labels of any kind are written as they are, and change nothing else', async () => {
  const answer = answerOf({ ...FORM, periods: 8, groups: 8 });
  for (const label of LABELS) {
    const groups = [{ ...answer.groups[0], label }, answer.groups[1]];
    const svg = await chartSvg(trendChart({ ...answer, groups }, SOURCE).document);
    const expected = label.replaceAll('\u0007', '\u{FFFD}').replaceAll('\ud800', '\u{FFFD}');
    const texts = textsOf(svg).map(({ text }) => text);
    const start = [...expected].slice(0, 12).join('');
    expect(texts.filter((text) => text.startsWith(start)).length, label).toBeGreaterThan(0);
  }
});

test('more groups than eight: those with the most devices are drawn, the others named', () => {
  const answer = answerOf({ ...FORM, periods: 5, groups: 12 });
  const chart = trendChart(answer, SOURCE);
  const drawn = new Set(chart.rows.map((row) => row.maker));
  expect(drawn.size).toBe(8);
  const least = Math.min(
    ...answer.groups.filter(({ label }) => drawn.has(label)).map(({ total }) => total.n),
  );
  for (const { label, total } of answer.groups.filter((one) => !drawn.has(one.label))) {
    expect(total.n).toBeLessThanOrEqual(least);
    expect(chart.description).toContain(label);
  }
});

test('a line joins only values of five devices or more in periods side by side, and none where the verdict has too few', () => {
  fc.assert(
    fc.property(trendAnswers, (answer) => {
      const lines = layersOf(trendChart(answer, SOURCE).document).filter(({ mark }) => mark.type === 'line');
      const series = answer.groups.length > 0 ? answer.groups : [answer.total];
      if (!answer.total.verdict.enough) expect(lines).toEqual([]);
      for (const { data } of lines)
        for (const { period, value } of data.values) {
          if (value === null) continue;
          const from = series.flatMap(({ periods }) => periods).filter((one) => one.period === period);
          expect(from.some((one) => one.n >= 5 && one.value === value)).toBe(true);
        }
    }),
  );
});

test('equal answers give equal pictures, byte for byte', async () => {
  const draw = () => chartSvg(trendChart(answerOf({ ...FORM, periods: 12, groups: 2 }), SOURCE).document);
  expect(await draw()).toBe(await draw());
});

test('the source line has n, the day of the state, and says that demo data are none', async () => {
  const answer = answerOf({ ...FORM, periods: 6, groups: 0 });
  const said = async (invented: boolean) =>
    textsOf(await chartSvg(trendChart(answer, { on: '2026-03-01', invented }).document))
      .map(({ text }) => text)
      .join(' ');
  const n = answer.total.total.devices;
  expect(await said(true)).toContain(`n: ${n} devices. Source: Caseback archive, state of 2026-03-01.`);
  expect(await said(true)).toContain('no such devices exist');
  expect(await said(false)).not.toContain('no such devices exist');
});

interface Drawn {
  readonly mark: { readonly type: string };
  readonly data: { readonly values: readonly Readonly<Record<string, string | number | null>>[] };
}

function layersOf(document: object): readonly Drawn[] {
  const { concat, layer } = document as { concat?: readonly { layer: Drawn[] }[]; layer?: Drawn[] };
  return (concat ?? [{ layer }]).flatMap((panel) => panel.layer ?? []);
}

/** Holds drawing, table and words of a chart against each other: each has the numbers of the others and no more. */
function expectOneList({ document, rows, description }: Chart, { unit, per, by }: TrendAnswer): void {
  const percent = (value: number) => {
    if (value > 1e-9 && value < 0.005) return '<1 %';
    return value >= 0.995 && value < 1 - 1e-9 ? '>99 %' : `${(value * 100).toFixed(0)} %`;
  };
  const write = (value: number) => (unit === '1' ? percent(value) : String(Number(value.toPrecision(3))));
  const drawn = new Set<string>();
  const { concat = [document] } = document as { concat?: object[] };
  for (const [at, panel] of concat.entries()) {
    for (const { data } of layersOf(panel)) {
      for (const { period, low, high, value, n, notObserved } of data.values) {
        const name = `${at} ${period}`;
        if (typeof value === 'number') drawn.add(`${name} value ${write(value)}`);
        if (typeof low === 'number' && typeof high === 'number')
          drawn.add(`${name} range ${write(low)} to ${write(high)}`);
        if (typeof n === 'number') drawn.add(`${name} n ${n}`);
        if (typeof notObserved === 'number') drawn.add(`${name} notObserved ${notObserved}`);
      }
    }
  }
  const labels = [...new Set(rows.map((row) => (by ? row[by] : '')))];
  const listed = new Set<string>();
  for (const row of rows) {
    const name = `${labels.indexOf(by ? row[by] : '')} ${row[per]}`;
    for (const [column, cell] of Object.entries(row)) {
      if (column === by || column === per || cell === '–') continue;
      if (column === 'n') listed.add(`${name} n ${cell}`);
      else if (column === 'not observed') listed.add(`${name} notObserved ${cell}`);
      else listed.add(`${name} ${cell.includes(' to ') ? 'range' : 'value'} ${cell}`);
    }
  }
  const shownUnder = (all: ReadonlySet<string>) =>
    [...all].filter((one) => !/ n | notObserved /u.test(one)).sort();
  expect(shownUnder(drawn)).toEqual(shownUnder(listed));
  // Under an axis there is not always room for all; what is there is of the table.
  expect([...drawn].filter((one) => !listed.has(one))).toEqual([]);
  const words = description.slice(description.indexOf(rows.length > 0 ? `${rows[0][per]}: ` : '.'));
  for (const row of rows) {
    const at = words.indexOf(`${row[per]}: `);
    expect(at).toBeGreaterThanOrEqual(0);
    for (const [column, cell] of Object.entries(row))
      if (cell !== '–' && column !== 'not observed') expect(words).toContain(cell);
  }
}
