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

test('a product line and first adopters have charts', async () => {
  const size = 'size: COLUMN';
  const { generations, trend, counted } = await reader.ask(`{
    generations(productLine: "tarn-sennit") { steps { to { name } } parts { part { id } }
      steps_: chart(${size}) { rows vegaLite } figures: chart(of: FIGURES, ${size}) { columns vegaLite }
      parts_: chart(of: PARTS, ${size}) { rows vegaLite } makers_: chart(of: MAKERS, ${size}) { columns vegaLite } }
    trend(of: { share: { category: "Accelerometer" } }) {
      firstAdopters { device { name } } adoptersChart(${size}) { rows vegaLite } }
    counted: trend(of: { count: "Sensor" }) { adoptersChart { title } } }`);
  const { steps_, figures, parts_, makers_ } = generations;
  for (const one of [steps_, figures, parts_, makers_, trend.adoptersChart]) expectVegaLite(one.vegaLite);
  const named = (rows: readonly (readonly string[])[], column: number) =>
    new Set(rows.map((row) => row[column]).filter((name) => name !== ''));
  expect(named(steps_.rows, 1)).toEqual(new Set(generations.steps.map((one: Step) => one.to.name)));
  const ids = generations.parts.map((one: { part: { id: string } }) => one.part.id);
  expect(ids).toEqual(expect.arrayContaining([...named(parts_.rows, 0)]));
  expect(figures.columns[0]).toBe('figure');
  expect(makers_.columns).toEqual(['maker', 'device', 'probability']);
  const first = trend.firstAdopters.map(({ device }: { device: { name: string } }) => device.name);
  expect(named(trend.adoptersChart.rows, 1)).toEqual(new Set(first));
  expect(counted.adoptersChart).toBeNull();
});

interface Step {
  readonly to: { readonly name: string };
}
