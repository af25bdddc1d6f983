import { afterAll, beforeAll, expect, test } from 'vitest';
import { archiveOf, type Served, serve } from '../service/serving.ts';
import { expectVegaLite, textsOf } from './judges.ts';

let reader: Served;
beforeAll(async () => {
  reader = await serve({ audience: 'reader' }, await archiveOf());
});
afterAll(() => reader.app.close());

test('a trend has a chart: document, table, words, and the drawing where it is asked for', async () => {
  const { trend } = await reader.ask(`{ trend(of: { share: { category: "Accelerometer" } }) {
    cautions total { periods { period n } }
    chart(size: COLUMN) { title subtitle n description columns rows cautions vegaLite svg } } }`);
  const { chart } = trend;
  expectVegaLite(chart.vegaLite);
  expect(chart.cautions).toEqual(trend.cautions);
  expect(chart.description).toContain(chart.title);
  expect(chart.columns.slice(0, 2)).toEqual(['year', 'n']);
  expect(chart.rows.map((row: readonly string[]) => [row[0], Number(row[1])])).toEqual(
    trend.total.periods.map(({ period, n }: { period: string; n: number }) => [period, n]),
  );
  const today = new Date().toISOString().slice(0, 10);
  expect(
    textsOf(chart.svg)
      .map(({ text }) => text)
      .join(' '),
  ).toContain(`${chart.n}. Source: Caseback`);
  expect(
    textsOf(chart.svg)
      .map(({ text }) => text)
      .join(' '),
  ).toContain(today.slice(0, 4));
});

test('devices side by side have a chart of the sections asked for', async () => {
  const { compareDevices } = await reader.ask(`{ compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-3"]) {
    sections(keys: [DEVICE]) { rows { label cells { expected } } }
    chart(sections: [DEVICE], size: COLUMN) { title n columns rows vegaLite svg } } }`);
  const { chart, sections } = compareDevices;
  expectVegaLite(chart.vegaLite);
  expect(chart.n).toBe('2 devices, 2 specimens');
  expect(chart.columns).toEqual(['figure', 'device', 'certain', 'expected', 'possible']);
  const length = sections[0].rows.find(({ label }: { label: string }) => label === 'Length');
  const drawn = chart.rows.filter(([figure]: readonly string[]) => figure === 'Length, mm');
  expect(drawn.map((row: readonly string[]) => Number(row[3]))).toEqual(
    length.cells.map(({ expected }: { expected: number }) => expected),
  );
  expect(textsOf(chart.svg).map(({ text }) => text)).toContain('Tarn Sennit 1');
});
