import fc from 'fast-check';
import { expect, test } from 'vitest';
import { comparisonChart } from '../../src/charts/comparison-chart.ts';
import { chartSvg } from '../../src/charts/render.ts';
import { comparisonTable, SECTIONS, type Section } from '../../src/compare/comparison-table.ts';
import type { Compared } from '../../src/compare/representative.ts';
import type { Cell } from '../../src/compare/table/cell.ts';
import { deviceIdOf } from '../../src/model/dossier.ts';
import { dossiers } from '../seed/seed.ts';
import { demoArchive } from '../trends/demo.ts';
import { LABELS } from './answers.ts';
import { expectCells, layersOf } from './cells.ts';
import { expectTextsApart, expectVegaLite } from './judges.ts';

const SOURCE = { on: '2026-03-01', invented: true };
const SIZES = ['page', 'column'] as const;

const archive = demoArchive();
async function chartsOf(ids: readonly string[], sections: readonly string[]) {
  const table = await comparisonTable((await archive).state('desk'), ids, { sections });
  return SIZES.map((size) => comparisonChart(table.columns, table.sections, SOURCE, size));
}

const THREE = ['tarn-sennit-1', 'tarn-sennit-4', 'tarn-sennit-6'];
test.each([
  ['sensors of three devices', THREE, ['sensors']],
  ['everything of two specimens of a device', ['tarn-sennit-3/a', 'tarn-sennit-3/b'], SECTIONS],
  ['one device', ['tarn-sennit-6'], ['power', 'memory']],
  ['decisions, none of them certain', THREE, ['decisions']],
  ['the same device twice', ['tarn-sennit-1', 'tarn-sennit-1'], ['device']],
])(
  '%s: the document fits the schema, texts lie apart and inside, bars, table and words agree',
  async (_, ids, sections) => {
    for (const chart of await chartsOf(ids, sections)) {
      expectVegaLite(chart.document);
      expectTextsApart(await chartSvg(chart.document));
      expectCells(chart, ['figure', 'device']);
    }
  },
);

test('a count is that of the dossier; what nobody looked for is not drawn as none', async () => {
  const dossier = dossiers.find((one) => deviceIdOf(one) === 'tarn-sennit-6');
  const electrodes = dossier?.components.filter(({ appears }) => appears === 'Electrode').length ?? 0;
  expect(electrodes).toBeGreaterThan(1);
  const [{ rows, document }] = await chartsOf(THREE, ['sensors']);
  const row = (device: string) => rows.find((one) => one.figure === 'Electrode' && one.device === device);
  expect(row('Tarn Sennit 6')?.certain).toBe(String(electrodes));
  expect(row('Tarn Sennit 4')?.expected).toBe('not observed');
  const drawn = layersOf(document).flatMap(({ data }) => data.values);
  expect(drawn.filter(({ column, row }) => column === 'Electrode' && row !== 'Tarn Sennit 6')).toEqual([]);
});

test('of more figures than have room, those that differ between the devices are drawn, others named', async () => {
  const all = ['tarn-sennit-3/a', 'tarn-sennit-3/b'];
  const [chart] = await chartsOf(all, SECTIONS);
  const figures = [...new Set(chart.rows.map(({ figure }) => figure))];
  const differing = figures.filter((figure) => {
    const [a, b] = chart.rows.filter((row) => row.figure === figure);
    return a.expected !== b.expected;
  });
  expect(figures.slice(0, differing.length)).toEqual(differing);
  expect(chart.description).toMatch(/Not drawn: .* and \d+ more/u);
});

/** Cells as comparisons make them: counts with certain ≤ possible, quantities, none, not observed. */
const cells: fc.Arbitrary<Cell> = fc.oneof(
  fc.constant<Cell>({ certain: null, expected: null, possible: null, missing: 'not-observed' }),
  fc.constant<Cell>({ certain: 0, expected: 0, possible: 0, missing: 'absent' }),
  fc
    .record({ a: fc.nat(9), b: fc.nat(9), share: fc.double({ min: 0, max: 1, noNaN: true }) })
    .map(({ a, b, share }) => ({ certain: a, expected: a + b * share, possible: a + b, missing: null })),
  fc
    .double({ min: 0.001, max: 5e6, noNaN: true })
    .map((value) => ({ certain: value, expected: value, possible: null, missing: null })),
  fc
    .double({ min: 0, max: 1e4, noNaN: true })
    .map((value) => ({ certain: null, expected: value, possible: null, missing: null })),
);

const comparisons = fc
  .record({
    devices: fc.integer({ min: 1, max: 50 }),
    figures: fc.integer({ min: 0, max: 40 }),
    units: fc.array(fc.constantFrom('1', '%', 'g', 'mA.h', 'EUR', 'KiBy'), { minLength: 7, maxLength: 7 }),
    drawn: fc.array(cells, { minLength: 60, maxLength: 60 }),
    labels: fc.shuffledSubarray([...LABELS], { minLength: LABELS.length }),
  })
  .map(({ devices, figures, units, drawn, labels }) => ({
    columns: Array.from({ length: devices }, (_, i) => ({
      device: { id: `d-${i}`, name: `${labels[i % labels.length]} ${i}` },
      specimen: { id: `d-${i}/a` },
      otherSpecimens: i % 3,
    })) as unknown as Compared[],
    sections: [
      {
        key: 'device',
        label: 'Device',
        rows: Array.from({ length: figures }, (_, i) => ({
          key: `device.${i}`,
          label: `${labels[(i + 5) % labels.length]} ${i}`,
          unit: units[i % units.length],
          is: '',
          presentIn: null,
          cells: Array.from({ length: devices }, (_, j) => drawn[(7 * i + 11 * j) % drawn.length]),
        })),
      },
    ] as Section[],
  }));

test('whatever is compared, the document fits the schema and bars, table and words agree', () => {
  fc.assert(
    fc.property(comparisons, fc.constantFrom(...SIZES), ({ columns, sections }, size) => {
      const chart = comparisonChart(columns, sections, SOURCE, size);
      expectVegaLite(chart.document);
      expectCells(chart, ['figure', 'device']);
    }),
    { numRuns: 20 },
  );
});

test('whatever is compared, texts lie apart and inside', async () => {
  await fc.assert(
    fc.asyncProperty(comparisons, fc.constantFrom(...SIZES), async ({ columns, sections }, size) => {
      expectTextsApart(await chartSvg(comparisonChart(columns, sections, SOURCE, size).document));
    }),
    { numRuns: 5 },
  );
});
