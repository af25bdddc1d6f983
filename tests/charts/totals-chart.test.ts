import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Chart } from '../../src/charts/chart.ts';
import { chartSvg } from '../../src/charts/render.ts';
import { totalsChart } from '../../src/charts/totals-chart.ts';
import { trend } from '../../src/trends/trends.ts';
import { demoArchive } from '../trends/demo.ts';
import { trendAnswers } from './answers.ts';
import { expectTextsApart, expectVegaLite, textsOf } from './judges.ts';

const SOURCE = { on: '2026-03-01', invented: true };

test('shares by body site: rows fall by value below all devices, texts lie apart, figures agree', async () => {
  const state = (await demoArchive()).state('desk');
  const answer = await trend(state, { of: { share: { category: 'PressureSensor' } }, by: 'body-site' });
  for (const size of ['page', 'column'] as const) {
    const chart = totalsChart(answer, SOURCE, size);
    expectVegaLite(chart.document);
    const svg = await chartSvg(chart.document);
    expectTextsApart(svg);
    expectNumbers(chart, true);
    const texts = textsOf(svg).map(({ text }) => text);
    for (const { group, label } of answer.groups) expect(texts, group ?? '').toContain(label);
    const shares = chart.rows.slice(1).map(({ share }) => Number.parseInt(share, 10));
    expect(shares).toEqual(shares.toSorted((a, b) => b - a));
    expect(chart.rows[0]['body-site']).toBe('all devices');
  }
});

test('whatever is answered, the document fits the schema and figures agree', () => {
  fc.assert(
    fc.property(trendAnswers, (answer) => {
      const chart = totalsChart(answer, SOURCE);
      expectVegaLite(chart.document);
      expectNumbers(chart, answer.unit === '1');
    }),
    { numRuns: 15 },
  );
});

interface Drawn {
  readonly data: { readonly values: readonly Readonly<Record<string, unknown>>[] };
}

/** Holds the values and ranges drawn to those of the table and of the words. */
function expectNumbers({ document, rows, description }: Chart, isShare: boolean): void {
  const write = (value: unknown) =>
    isShare ? `${(Number(value) * 100).toFixed(0)} %` : String(Number(Number(value).toPrecision(3)));
  const drawn = (document as { layer: readonly Drawn[] }).layer.flatMap(({ data }) =>
    data.values.flatMap(({ value, low, high }) => [
      ...(value === undefined ? [] : [write(value)]),
      ...(low === undefined ? [] : [`${write(low)} to ${write(high)}`]),
    ]),
  );
  const [name] = Object.keys(rows[0]);
  const listed = rows.flatMap((row) =>
    Object.entries(row).flatMap(([column, cell]) =>
      [name, 'n', 'not observed'].includes(column) || cell === '–' ? [] : [cell],
    ),
  );
  expect(drawn.toSorted()).toEqual(listed.toSorted());
  for (const cell of listed) expect(description).toContain(cell);
}
