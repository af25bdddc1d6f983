import { beforeAll, expect, test } from 'vitest';
import { adoptersChart } from '../../src/charts/adopters-chart.ts';
import type { Chart } from '../../src/charts/chart.ts';
import { type AlignedLineStep, lineChart, stepsChart } from '../../src/charts/generations-chart.ts';
import type { ChartSize } from '../../src/charts/house-style.ts';
import { chartSvg } from '../../src/charts/render.ts';
import { sightingsChart } from '../../src/charts/sightings-chart.ts';
import { CHANGES } from '../../src/compare/align/changes.ts';
import { tableOf } from '../../src/compare/comparison-table.ts';
import { type Generations, generations } from '../../src/compare/generations.ts';
import { sightings } from '../../src/compare/line/sightings.ts';
import { lineSteps, stepAlignment } from '../../src/compare/line/steps.ts';
import { partsAndMakers } from '../../src/presence/presence.ts';
import type { State } from '../../src/state/state.ts';
import type { TrendAnswer } from '../../src/trends/answer.ts';
import { trend } from '../../src/trends/trends.ts';
import { demoArchive } from '../trends/demo.ts';
import { LABELS } from './answers.ts';
import { expectCells, layersOf } from './cells.ts';
import { expectTextsApart, expectVegaLite, textsOf } from './judges.ts';

// Charts of product lines and of first adopters. Dates after ISO 8601 at the precision known.

const SOURCE = { on: '2026-03-01', invented: true };
const SIZES: readonly ChartSize[] = ['page', 'column'];

let state: State;
let line: Generations;
let steps: AlignedLineStep[];
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
  line = generations(state, 'tarn-sennit');
  steps = [];
  for (const step of lineSteps(line.generations))
    steps.push({ ...step, alignment: await stepAlignment(state, step) });
});

async function expectDrawn(chartOf: (size: ChartSize) => Chart): Promise<Chart> {
  for (const size of SIZES) {
    const chart = chartOf(size);
    expectVegaLite(chart.document);
    expectTextsApart(await chartSvg(chart.document));
  }
  return chartOf('page');
}

test('steps: a row each, with the tallies of its alignment', async () => {
  const chart = await expectDrawn((size) => stepsChart(line, steps, SOURCE, size));
  expectCells(chart, ['components', 'step']);
  // No kind of change is left out for want of room.
  expect(stepsChart(line, steps, SOURCE, 'column').rows.length).toBe(CHANGES.length * steps.length);
  for (const { to, alignment } of steps)
    for (const { change, certain, expected } of alignment.steps[0].tallies) {
      const row = chart.rows.find(
        (one) => one.step === to.name && one.components === change.replace('-', ' '),
      );
      expect([Number(row?.certain), Number(row?.expected)]).toEqual([
        certain,
        Number(expected.toPrecision(3)),
      ]);
    }
});

test('of a line with one device opened there is no step, and the chart says so', async () => {
  const alone = { ...line, generations: line.generations.slice(0, 1) };
  const chart = await expectDrawn((size) => stepsChart(alone, [], SOURCE, size));
  expect(chart.subtitle).toContain('No two devices');
  expect(chart.rows).toEqual([]);
});

test('figures: what is the same in all devices is not drawn but named', async () => {
  const { sections } = await tableOf(state, line.comparison.columns, { sections: ['device', 'battery'] });
  const chart = await expectDrawn((size) => lineChart(line, sections, SOURCE, size));
  expectCells(chart, ['figure', 'device']);
  expect(chart.description).toContain('The same in all: Battery cells.');
  const masses = chart.rows
    .filter(({ figure }) => figure === 'Mass, g')
    .map(({ expected }) => Number(expected));
  expect(masses).toEqual(line.generations.map(({ device }) => device.mass?.value));
});

function seenOf(of: 'parts' | 'makers', name = (id: string) => id) {
  const held = line.generations.map(({ device }) => partsAndMakers(state, device));
  return sightings(line.generations, held, (one) => one[of]).map((sighting) => ({
    name: name(sighting.id),
    sighting,
    chances: held.map((one) => one[of].get(sighting.id) ?? 0),
  }));
}

test.each(['parts', 'makers'] as const)(
  '%s: a mark where there is a probability, joined by nothing',
  async (of) => {
    const seen = seenOf(of);
    const chart = await expectDrawn((size) => sightingsChart(line, seen, of, SOURCE, size));
    const layers = layersOf(chart.document);
    const marks = layers.filter(({ mark }) => mark.type === 'point');
    expect(marks.flatMap(({ data }) => data.values).length).toBe(chart.rows.length);
    expect(layers.some(({ mark }) => mark.type === 'line')).toBe(false);
    for (const { mark, data } of marks)
      for (const { row, device, probability } of data.values) {
        const at = line.generations.findIndex((one) => one.device.name === device);
        expect(seen.find(({ name }) => name === row)?.chances[at]).toBe(probability);
        const fill =
          Number(probability) >= 0.95 ? '#000000' : Number(probability) >= 0.5 ? '#9a9a9a' : '#ffffff';
        expect(mark.fill).toBe(fill);
      }
  },
);

test('names of any kind and length, and fifty devices, collide with nothing', async () => {
  const many = {
    ...line,
    generations: Array.from({ length: 50 }, (_, i) => {
      const one = line.generations[i % line.generations.length];
      return { ...one, device: { ...one.device, id: `d-${i}`, name: `${LABELS[i % LABELS.length]} ${i}` } };
    }),
  };
  const seen = seenOf('parts', (id) => `${LABELS[id.length % LABELS.length]} ${id}`).map((one) => ({
    ...one,
    chances: Array.from({ length: 50 }, (_, i) => one.chances[i % one.chances.length]),
  }));
  await expectDrawn((size) => sightingsChart(many, seen, 'parts', SOURCE, size));
  await expectDrawn((size) => sightingsChart(many, [], 'parts', SOURCE, size));
});

const share = (over: object = {}) => trend(state, { of: { share: { category: 'PressureSensor' } }, ...over });

test('first adopters: a date stands where it lies, and the bars are the devices opened of each period', async () => {
  const answer = await share();
  const chart = await expectDrawn((size) => adoptersChart(answer, SOURCE, size));
  const [first] = answer.firstAdopters;
  const values = layersOf(chart.document).flatMap(({ data }) => data.values);
  const drawn = values.find(({ device }) => device === first.device.name);
  expect(first.device.released).toBe('2014-03');
  // March 2014: days 59 to 90 of 365.
  expect(drawn?.from).toBeCloseTo(2014 + 59 / 365, 6);
  expect(drawn?.to).toBeCloseTo(2014 + 90 / 365, 6);
  for (const { period, n, notObserved } of answer.total.periods) {
    const row = chart.rows.find(({ released, device }) => released === period && device === '');
    expect([row?.['looked at'], row?.['not observed']]).toEqual([String(n), String(notObserved)]);
    const bars = values.filter((one) => one.period === period);
    const top = Math.max(0, ...bars.map(({ to }) => Number(to)));
    expect(top).toBe(n + notObserved);
  }
  const earlier = answer.total.periods.filter(({ start }) => start < 2014);
  expect(chart.subtitle).toContain(`${earlier.reduce((sum, { n }) => sum + n, 0)} device looked at`);
  expect(chart.subtitle).toContain('not first made');
});

test('first adopters in doubt, dated to the year alone, with long names, or none at all', async () => {
  const answer = await share();
  const [first] = answer.firstAdopters;
  const vague: TrendAnswer = {
    ...answer,
    firstAdopters: Array.from({ length: 30 }, (_, i) => ({
      ...first,
      device: {
        ...first.device,
        name: `${LABELS[i % LABELS.length]} ${i}`,
        released: String(2012 + (i % 9)),
      },
      certain: i % 2 === 0,
      probability: 0.4,
      probabilityFirst: i === 0 ? 0.4 : 0.001,
    })),
  };
  const chart = await expectDrawn((size) => adoptersChart(vague, SOURCE, size));
  const spans = layersOf(chart.document).filter(({ mark }) => mark.type === 'rule' && mark.strokeWidth === 9);
  expect(spans.flatMap(({ data }) => data.values).length).toBe(20);
  expect(chart.description).toContain('10 more');
  expect(chart.rows.filter((row) => row['is first'] === '<0.01').length).toBe(19);
  const none = await expectDrawn((size) => adoptersChart({ ...answer, firstAdopters: [] }, SOURCE, size));
  expect(none.subtitle).toContain('No device that was opened has it');
  const empty = await share({ where: { releasedFrom: '2090' } });
  await expectDrawn((size) => adoptersChart(empty, SOURCE, size));
});

test('marks are told apart without colour: black, grey, white', async () => {
  const svg = await chartSvg(sightingsChart(line, seenOf('parts'), 'parts', SOURCE).document);
  const fills = new Set([...svg.matchAll(/fill="(#[0-9a-f]{6}|black|white)"/gu)].map(([, fill]) => fill));
  for (const fill of fills) {
    const [r, g, b] = [1, 3, 5].map((at) => fill.slice(at, at + 2));
    if (fill.startsWith('#')) expect([g, b]).toEqual([r, r]);
  }
  expect(textsOf(svg).length).toBeGreaterThan(40);
});
