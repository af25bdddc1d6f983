import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { comparisonCells, comparisonTable, SECTIONS } from '../../src/compare/comparison-table.ts';
import { areaOf } from '../../src/compare/table/boards.ts';
import { largest, summed } from '../../src/compare/table/part-figures.ts';
import { seeds, viewOf, type Written, writtenDevice } from './dossiers.ts';

// Decisions have tests of their own; here they would only take time.
const COUNTED = SECTIONS.filter((key) => key !== 'decisions');
const tableOf = (view: ReturnType<typeof viewOf>, ids: readonly string[]) =>
  comparisonTable(view, ids, { sections: COUNTED });

async function cellsOf(more: Partial<Written>, keys: readonly string[]) {
  const view = viewOf([writtenDevice('device-0', 1, { identifications: [], connections: [], ...more })]);
  const cells = new Map(comparisonCells(view, 'device-0').map((cell) => [cell.key, cell]));
  return Object.fromEntries(keys.map((key) => [key, cells.get(key)]));
}

describe('properties of the table', () => {
  test('the order of devices changes no figure', () =>
    fc.assert(
      fc.asyncProperty(
        seeds(2, 4).chain((numbers) =>
          fc.tuple(
            fc.constant(numbers),
            fc.shuffledSubarray([...numbers.keys()], { minLength: numbers.length }),
          ),
        ),
        async ([numbers, shuffled]) => {
          const view = viewOf(numbers.map((seed, at) => writtenDevice(`device-${at}`, seed)));
          const straight = await tableOf(
            view,
            [...numbers.keys()].map((at) => `device-${at}`),
          );
          const mixed = await tableOf(
            view,
            shuffled.map((at) => `device-${at}`),
          );
          const reordered = straight.sections.map(({ rows, ...section }) => ({
            ...section,
            rows: rows.map(({ cells, ...row }) => ({ ...row, cells: shuffled.map((at) => cells[at]) })),
          }));
          expect(mixed.sections).toEqual(reordered);
        },
      ),
      { numRuns: 60 },
    ));

  test('certain and expected counts lie within what is possible, and a missing figure is never 0 of a quantity', () =>
    fc.assert(
      fc.asyncProperty(seeds(1), async ([seed]) => {
        const written = writtenDevice('device-0', seed);
        const view = viewOf([written]);
        const unlikely = 0.05 * (written.components?.length ?? 0);
        for (const { key, unit, certain, expected, possible, missing } of comparisonCells(view, 'device-0')) {
          if (missing === 'not-observed') expect([key, certain, expected]).toEqual([key, null, null]);
          if (missing === 'absent') expect([key, certain]).toEqual([key, unit === '1' ? 0 : null]);
          if (missing !== null || possible === null) continue;
          expect(certain).toBeLessThanOrEqual(possible);
          // Components less likely than 0.05 are expected a little and not possible.
          expect(expected).toBeLessThanOrEqual(possible + (unit === '%' ? 5 : unlikely) + 1e-9);
        }
      }),
      { numRuns: 100 },
    ));

  test('cells of one device are those of its column, wherever both have the row', async () => {
    const view = viewOf([writtenDevice('device-0', 3), writtenDevice('device-1', 4)]);
    const { sections } = await tableOf(view, ['device-1', 'device-0']);
    const column = new Map(sections.flatMap(({ rows }) => rows.map(({ key, cells }) => [key, cells[1]])));
    for (const { key, certain, expected, possible, missing } of comparisonCells(view, 'device-0'))
      expect(column.get(key)).toMatchObject({ certain, expected, possible, missing });
  });
});

describe('not observed and absent are separate', () => {
  test('every board fully inventoried, everything known: what is not found is absent', async () => {
    const components = [{ id: 'C1', appears: 'Capacitor' }];
    expect(
      await cellsOf({ components }, ['sensors.Sensor', 'battery.capacity', 'processors.widest']),
    ).toMatchObject({
      'sensors.Sensor': { certain: 0, expected: 0, missing: 'absent' },
      'battery.capacity': { certain: null, missing: 'absent' },
      'processors.widest': { certain: null, missing: 'absent' },
    });
  });
  test('a board that is not fully inventoried may carry what was not found', async () => {
    const components = [{ id: 'C1', appears: 'Capacitor' }];
    const boards = [{ id: 'main', kind: 'rigid' as const }];
    expect(await cellsOf({ components, boards }, ['sensors.Sensor', 'battery.capacity'])).toMatchObject({
      'sensors.Sensor': {
        certain: null,
        expected: null,
        missing: 'not-observed',
        note: expect.stringContaining('not every board'),
      },
      'battery.capacity': { certain: null, missing: 'not-observed' },
    });
  });
  test('an unnamed chip counts as what such chips usually are: a sensor, not a cell', async () => {
    const components = [{ id: 'C1', appears: 'Capacitor' }, { id: 'U1' }];
    const cells = await cellsOf({ components }, ['sensors.Sensor', 'battery.capacity']);
    expect(cells).toMatchObject({
      'sensors.Sensor': { certain: 0, missing: null },
      'battery.capacity': { certain: null, missing: 'absent' },
    });
    expect(cells['sensors.Sensor']?.expected).toBeGreaterThanOrEqual(0.05);
    expect(cells['sensors.Sensor']?.expected).toBeLessThan(0.5);
  });
  test('a cell is there, and its capacity is not known', async () => {
    const components = [{ id: 'BT1', appears: 'PouchCell' }];
    expect(await cellsOf({ components }, ['battery.Battery', 'battery.capacity'])).toMatchObject({
      'battery.Battery': { certain: 1, missing: null },
      'battery.capacity': { certain: null, missing: 'not-observed' },
    });
  });
  test('no outline, no area; no board, no area either, but for another reason', async () => {
    const unmeasured = {
      boards: [{ id: 'main', kind: 'rigid' as const }],
      components: [{ id: 'C1', board: 'main' }],
    };
    expect(await cellsOf(unmeasured, ['boards.area', 'boards.density'])).toMatchObject({
      'boards.area': { certain: null, missing: 'not-observed' },
      'boards.density': { certain: null, missing: 'not-observed' },
    });
    expect(await cellsOf({ boards: [], components: [] }, ['boards.area'])).toMatchObject({
      'boards.area': { certain: null, missing: 'absent' },
    });
  });
});

describe('figures', () => {
  const one = (component: string, part: string, probability: number) => ({
    component,
    candidates: [{ part, probability }],
  });

  test('battery: the catalogue, and what the bench measured before it', async () => {
    const components = [{ id: 'BT1', appears: 'PouchCell' }];
    const identifications = [one('BT1', 'quistle/B1', 0.96)];
    const keys = ['battery.capacity', 'battery.energy'];
    // 90 mA·h at 3.7 V are 0.09 · 3.7 = 0.333 W·h: energy is charge times voltage.
    expect(await cellsOf({ components, identifications }, keys)).toMatchObject({
      'battery.capacity': { unit: 'mA.h', certain: 90, expected: 90 },
      'battery.energy': { unit: 'W.h', certain: 0.333, expected: 0.333 },
    });
    const observations = [
      { id: 'o1', about: ['BT1'], kind: 'marking' as const, value: '80 mAh' },
      { id: 'o2', about: ['BT1'], kind: 'marking' as const, value: '85 mAh', corrects: 'o1' },
    ];
    expect(await cellsOf({ components, identifications, observations }, keys)).toMatchObject({
      'battery.capacity': { certain: 85, expected: 85, note: 'observed: 85 mA.h' },
    });
    const withdrawn = { by: 'I. Example', on: '2026-01-01T00:00:00Z', reason: 'slip' };
    expect(
      await cellsOf(
        { components, identifications, observations: observations.map((seen) => ({ ...seen, withdrawn })) },
        keys,
      ),
    ).toMatchObject({ 'battery.capacity': { certain: 90 } });
  });

  test('processors: word widths, with doubt', async () => {
    const components = [{ id: 'U1' }, { id: 'U2' }];
    const identifications = [one('U1', 'ostrel/M1', 0.6), one('U2', 'quistle/M2', 0.98)];
    const keys = ['processors.Processor', 'processors.width.32', 'processors.widest'];
    expect(await cellsOf({ components, identifications }, keys)).toMatchObject({
      'processors.Processor': { certain: 1, expected: 1.58, possible: 2 },
      'processors.width.32': { certain: 0, expected: 0.6, possible: 1 },
      // Of both, at least one stated: 1 - 0.4 · 0.02 = 0.992; the widest is 32 bit with 0.6, else 8 bit.
      'processors.widest': {
        unit: 'bit',
        certain: 8,
        expected: expect.closeTo((32 * 0.6 + 8 * 0.4 * 0.98) / 0.992, 8),
      },
    });
  });

  test('power rails: different voltages and the number of sources of each', async () => {
    const components = [{ id: 'U1' }, { id: 'U2' }, { id: 'U3' }];
    const identifications = [
      one('U1', 'ostrel/R1', 0.98),
      one('U2', 'ostrel/R1', 0.5),
      one('U3', 'ostrel/R2', 0.9),
    ];
    expect(
      await cellsOf({ components, identifications }, ['power.rails', 'power.rail.1.8', 'power.rail.3']),
    ).toMatchObject({
      'power.rails': { certain: 1, expected: expect.closeTo(1 - 0.02 * 0.5 + 0.9, 9), possible: 2 },
      'power.rail.1.8': { certain: 1, expected: 1.48 },
      'power.rail.3': { certain: 0, expected: 0.9 },
    });
  });

  test('supply voltages of rails on record, without that of the cell', async () => {
    const components = [
      { id: 'U1' },
      { id: 'BT1', appears: 'PouchCell' },
      { id: 'C1', appears: 'Capacitor' },
    ];
    const rail = (id: string, value: number, ...pins: string[]) => ({
      ...{ id, kind: 'power' as const, voltage: { value, unit: 'V' }, pins },
      basis: [],
    });
    const nets = [
      rail('cell', 3.7, 'BT1.1', 'U1.1'),
      rail('1v2', 1.2, 'U1.2', 'C1.1'),
      rail('2v8', 2.8, 'U1.3'),
    ];
    const keys = ['power.rails', 'power.rail.1.2', 'power.rail.3.7'];
    expect(await cellsOf({ components, nets }, keys)).toMatchObject({
      'power.rails': { certain: 2, expected: 2, possible: 2 },
      'power.rail.1.2': { certain: 1, expected: 1 },
    });
  });

  test('makers: shares of the components with a named maker', async () => {
    const components = [{ id: 'U1' }, { id: 'U2' }, { id: 'U3' }, { id: 'C1', appears: 'Capacitor' }];
    const identifications = [
      one('U1', 'ostrel/R1', 0.98),
      one('U2', 'quistle/A1', 0.98),
      {
        component: 'U3',
        candidates: [
          { part: 'ostrel/A3', probability: 0.5 },
          { part: 'quistle/A1', probability: 0.5 },
        ],
      },
    ];
    const share = (all: number) => expect.closeTo((100 * all) / 3, 6);
    expect(await cellsOf({ components, identifications }, ['makers.named', 'makers.ostrel'])).toMatchObject({
      'makers.named': { possible: 3 },
      'makers.ostrel': {
        label: 'Ostrel',
        unit: '%',
        certain: share(1),
        expected: share(1.48),
        possible: share(2),
      },
    });
  });

  test('boards: area by the shoelace rule, components an area', async () => {
    // A right triangle of legs 3 and 4 has area 6 (Euclid, Elements I.41); a unit square less a corner of half legs 7/8.
    expect(
      areaOf({
        outline: {
          points: [
            [0, 0],
            [4, 0],
            [0, 3],
          ],
        },
      }),
    ).toBe(6);
    expect(
      areaOf({
        outline: {
          points: [
            [0, 0],
            [1, 0],
            [1, 0.5],
            [0.5, 1],
            [0, 1],
          ],
        },
      }),
    ).toBe(0.875);
    const boards = [{ id: 'main', kind: 'rigid' as const, outline: { length: 20, width: 10 }, layers: 6 }];
    const components = [{ id: 'C1', board: 'main' }, { id: 'C2', board: 'main' }, { id: 'C3' }];
    expect(
      await cellsOf({ boards, components }, ['boards.area', 'boards.density', 'boards.layers']),
    ).toMatchObject({
      'boards.area': { unit: 'cm2', certain: 2 },
      'boards.density': { unit: '/cm2', certain: 1 },
      'boards.layers': { certain: 6 },
    });
  });

  test('sums and maxima of doubtful parts', () => {
    const doubtful = [
      { value: 8, probability: 0.5 },
      { value: 4, probability: 0.5 },
    ];
    expect(summed([doubtful, [{ value: 2, probability: 0.96 }]], 'a size')).toMatchObject({
      certain: 2,
      expected: 7.92,
    });
    expect(summed([[{ value: 100, probability: 0.8 }]], 'a size', [1])).toMatchObject({
      certain: 0,
      expected: 100,
    });
    expect(largest([doubtful, doubtful], 'a size')).toMatchObject({ certain: null, expected: 7 });
    expect(summed([[]], 'a size')).toMatchObject({ certain: null, missing: 'not-observed' });
  });
});

test('parts reused across the set', async () => {
  const device = (id: string, ...parts: string[]) =>
    writtenDevice(id, 1, {
      connections: [],
      components: parts.map((_, at) => ({ id: `U${at + 1}` })),
      identifications: parts.map((part, at) => ({
        component: `U${at + 1}`,
        candidates: [{ part, probability: 0.96 }],
      })),
    });
  const view = viewOf([
    device('d-0', 'quistle/A1', 'ostrel/R1', 'ostrel/R1'),
    device('d-1', 'ostrel/R1', 'quistle/P1'),
    device('d-2', 'quistle/P1'),
  ]);
  const { sections } = await tableOf(view, ['d-0', 'd-1', 'd-2']);
  const rows = new Map(sections.flatMap((section) => section.rows.map((row) => [row.key, row])));
  const certain = (key: string) => rows.get(key)?.cells.map((cell) => cell.certain);
  expect(certain('parts.distinct')).toEqual([2, 2, 1]);
  expect(certain('reuse.shared')).toEqual([1, 2, 1]);
  expect(certain('reuse.part.ostrel/R1')).toEqual([2, 1, 0]);
  expect(rows.get('reuse.part.ostrel/R1')?.presentIn).toBe(2);
  expect(rows.has('reuse.part.quistle/A1')).toBe(false);
});

test('an unknown section is refused with a near name', async () => {
  const view = viewOf([writtenDevice('device-0', 1)]);
  await expect(comparisonTable(view, ['device-0'], { sections: ['sensor'] })).rejects.toThrow(
    /did you mean "sensors"/u,
  );
});

test('decisions are listed side by side, without hidden devices', async () => {
  const pattern = {
    id: 'chips-joined',
    name: 'Chips joined',
    idea: 'Two chips are joined.',
    text: 'MATCH (a:Accelerometer)~[:CONNECTS]~(b:Microcontroller) RETURN a, b',
    reasons: ['Short paths.'],
    strength: 1,
  };
  const joined: Partial<Written> = {
    components: [{ id: 'U1' }, { id: 'U2' }],
    connections: [{ between: ['U1', 'U2'], medium: 'trace' }],
    identifications: [
      { component: 'U1', candidates: [{ part: 'quistle/A1', probability: 1 }] },
      { component: 'U2', candidates: [{ part: 'quistle/M2', probability: 0.9 }] },
    ],
  };
  const view = viewOf(
    [writtenDevice('d-0', 1, joined), writtenDevice('d-1', 1, { ...joined, connections: [] })],
    'reader',
    [pattern],
  );
  const { sections } = await comparisonTable(view, ['d-0', 'd-1'], { sections: ['decisions'] });
  expect(sections[0].rows).toMatchObject([
    {
      key: 'decisions.chips-joined',
      cells: [
        { certain: 0, expected: 0.9, missing: null },
        { certain: 0, expected: 0, missing: 'absent' },
      ],
      presentIn: 1,
    },
  ]);
});
