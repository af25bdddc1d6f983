import { describe, expect, test } from 'vitest';
import { changed } from '../../src/compare/alignment.ts';
import { generations } from '../../src/compare/generations.ts';
import { integrationOf } from '../../src/compare/line/integration.ts';
import { revisionsOf } from '../../src/compare/line/revisions.ts';
import { keptParts, sightings } from '../../src/compare/line/sightings.ts';
import { changesBetween, lineSteps, stepAlignment } from '../../src/compare/line/steps.ts';
import { comparedOf } from '../../src/compare/representative.ts';
import type { Device } from '../../src/model/dossier.ts';
import { type PartsAndMakers, partsAndMakers } from '../../src/presence/presence.ts';
import type { State } from '../../src/state/state.ts';
import { viewOf, type Written, writtenDevice } from './dossiers.ts';

/** A device of the line with one chip for each part, each 0.98 sure unless said otherwise. */
function device(
  id: string,
  released: string,
  parts: Readonly<Record<string, number>>,
  succeeds: readonly string[] = [],
  more: Partial<Written> = {},
): Written {
  const ids = Object.keys(parts).map((_, at) => `U${at + 1}`);
  return writtenDevice(id, 1, {
    device: {
      id,
      name: id,
      maker: 'tarn',
      productLine: 'tarn-sennit',
      released,
      bodySite: 'wrist',
      succeeds: [...succeeds],
    },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: ids.map((component) => ({ id: component, board: 'main', side: 'top' as const })),
    connections: [],
    identifications: Object.entries(parts).map(([part, probability], at) => ({
      component: ids[at],
      candidates: [{ part, probability }],
    })),
    ...more,
  });
}

/** A line that splits after its first device and merges again. */
const LINE = [
  device('loop-1', '2014', { 'quistle/A1': 0.98, 'ostrel/R1': 0.98, 'quistle/M2': 0.98 }),
  device('loop-2', '2016', { 'quistle/A1': 0.98, 'ostrel/M1': 0.98 }, ['loop-1']),
  device('loop-slim', '2017', { 'ostrel/R1': 0.98, 'quistle/M2': 0.4 }, ['loop-1']),
  device('loop-3', '2018', { 'quistle/A1': 0.98, 'ostrel/R1': 0.6, 'ostrel/M1': 0.98 }, [
    'loop-2',
    'loop-slim',
  ]),
];
const lineOf = (view: State) => generations(view, 'tarn-sennit').generations;
const held = (view: State) => lineOf(view).map(({ device: one }) => partsAndMakers(view, one));

describe('a line with branches', () => {
  test('a step for every succession, split and merged alike', () => {
    const steps = lineSteps(lineOf(viewOf(LINE)));
    expect(steps.map(({ from, to }) => `${from.id} > ${to.id}`)).toEqual([
      'loop-1 > loop-2',
      'loop-1 > loop-slim',
      'loop-2 > loop-3',
      'loop-slim > loop-3',
    ]);
  });

  test('changes of the components in a step', async () => {
    const view = viewOf(LINE);
    const alignment = await stepAlignment(view, lineSteps(lineOf(view))[0]);
    const rows = Object.fromEntries(
      (['kept', 'replaced', 'moved', 'added', 'removed', 'not-observed'] as const).map((kind) => [
        kind,
        changed(alignment, 0, kind).rows,
      ]),
    );
    // No board of the later one is recorded as fully inventoried.
    expect(rows).toEqual({ kept: 1, replaced: 1, moved: 0, added: 0, removed: 0, 'not-observed': 1 });
  });

  test('first and last device of a part and of a maker', () => {
    const view = viewOf(LINE);
    const found = new Map(
      sightings(lineOf(view), held(view), ({ parts }) => parts).map((one) => [one.id, one] as const),
    );
    expect(found.get('quistle/A1')).toMatchObject({
      first: { id: 'loop-1' },
      last: { id: 'loop-3' },
      certain: 3,
      current: true,
    });
    expect(found.get('quistle/M2')).toMatchObject({
      first: { id: 'loop-1' },
      last: { id: 'loop-1' },
      maybeUntil: { id: 'loop-slim' },
      certain: 1,
      expected: 1.38,
      possible: 2,
      current: false,
    });
    const makers = sightings(lineOf(view), held(view), (one) => one.makers);
    expect(makers.map(({ id, first }) => [id, first.id])).toEqual([
      ['ostrel', 'loop-1'],
      ['quistle', 'loop-1'],
    ]);
  });

  test('how long a part was kept, along the older branch where two merge', () => {
    const view = viewOf(LINE);
    const kept = keptParts(lineOf(view), held(view));
    expect(
      kept.map(({ device: one, parts }) => [
        one.id,
        parts.map(({ part, since }) => `${part} since ${since.id}`),
      ]),
    ).toEqual([
      ['loop-1', ['ostrel/R1 since loop-1', 'quistle/A1 since loop-1', 'quistle/M2 since loop-1']],
      ['loop-2', ['quistle/A1 since loop-1', 'ostrel/M1 since loop-2']],
      ['loop-slim', ['ostrel/R1 since loop-1']],
      ['loop-3', ['ostrel/R1 since loop-1', 'quistle/A1 since loop-1', 'ostrel/M1 since loop-2']],
    ]);
  });

  test('hidden devices leave no trace', () => {
    const draft = device('loop-0', '2012', { 'quistle/A1': 0.98, 'quistle/P1': 0.98 }, [], {
      visibility: 'draft',
    });
    const view = viewOf([
      draft,
      { ...LINE[0], device: { ...(LINE[0].device as Device), succeeds: ['loop-0'] } },
      ...LINE.slice(1),
    ]);
    expect(lineSteps(lineOf(view)).map(({ from }) => from.id)).not.toContain('loop-0');
    expect(sightings(lineOf(view), held(view), ({ parts }) => parts).map(({ id }) => id)).not.toContain(
      'quistle/P1',
    );
  });
});

test('decisions adopted and dropped; rejected decisions count as absent', () => {
  const decided = (patternId: string, probability: number, standing = 'proposed' as const) => ({
    id: `d:${patternId}`,
    deviceId: 'd',
    patternId,
    name: patternId,
    probability,
    standing,
  });
  const before = [
    decided('kept', 0.8),
    decided('dropped', 0.9),
    decided('rare', 0.2),
    { ...decided('denied', 0.9), standing: 'rejected' as const },
  ];
  const after = [decided('kept', 0.7), decided('new', 0.8), decided('denied', 0.9)];
  expect(changesBetween(before, after)).toMatchObject([
    { patternId: 'denied', change: 'adopted', before: 0, after: 0.9, probability: 0.9 },
    { patternId: 'dropped', change: 'dropped', before: 0.9, after: 0, probability: 0.9 },
    { patternId: 'new', change: 'adopted', probability: 0.8 },
  ]);
  const mirror = { adopted: 'dropped', dropped: 'adopted' } as const;
  expect(
    changesBetween(after, before)
      .map(({ patternId, change }) => [patternId, mirror[change]])
      .sort(),
  ).toEqual(
    changesBetween(before, after)
      .map(({ patternId, change }) => [patternId, change])
      .sort(),
  );
});

describe('integration', () => {
  test('functions of a chip: the most specific kinds of each, without passives and batteries', () => {
    const view = viewOf([
      device('loop-1', '2014', { 'ostrel/M1': 0.98, 'quistle/A1': 0.6 }, [], {}),
      device('loop-2', '2015', { 'quistle/B1': 1 }),
    ]);
    expect(integrationOf(view, comparedOf(view, 'loop-1'))).toMatchObject({
      chips: { certain: 1, expected: 1.58 },
      // M1 is microcontroller and radio.
      functions: { certain: 2, expected: 2.56 },
      functionsAChip: { certain: 2, expected: expect.closeTo(2.56 / 1.58, 9) },
    });
    expect(integrationOf(view, comparedOf(view, 'loop-2'))).toMatchObject({
      chips: { certain: 0, expected: 0 },
      functionsAChip: { certain: null, expected: null },
    });
  });
  test('an unidentified chip counts as unnamed', () => {
    const view = viewOf([
      device('loop-1', '2014', {}, [], { components: [{ id: 'U1' }, { id: 'C1', appears: 'Capacitor' }] }),
    ]);
    expect(integrationOf(view, comparedOf(view, 'loop-1')).unnamed).toBe(1);
  });
});

test('hardware revisions: the specimens of one device, aligned in order of revision', async () => {
  const again: Written = {
    ...device('loop-1', '2014', { 'ostrel/A3': 0.98, 'ostrel/R1': 0.98, 'quistle/M2': 0.98 }),
    device: 'loop-1',
    specimen: { id: 'b', revision: 'C0' },
  };
  const view = viewOf([{ ...LINE[0], specimen: { id: 'a', revision: 'B1' } }, again, ...LINE.slice(1)]);
  const [first, ...more] = await revisionsOf(view, view.device('loop-1') as Device);
  expect(more).toEqual([]);
  expect(first).toMatchObject({
    differs: true,
    from: { specimen: { id: 'loop-1/a' } },
    to: { specimen: { id: 'loop-1/b' } },
  });
  expect([changed(first.alignment, 0, 'kept').rows, changed(first.alignment, 0, 'replaced').rows]).toEqual([
    2, 1,
  ]);
  expect(await revisionsOf(view, view.device('loop-2') as Device)).toEqual([]);
});

test('several specimens of a device make nothing likelier: the maximum counts', () => {
  const second: Written = {
    ...device('loop-1', '2014', { 'quistle/A1': 0.5 }),
    device: 'loop-1',
    specimen: { id: 'b' },
  };
  const view = viewOf([device('loop-1', '2014', { 'quistle/A1': 0.6 }), second]);
  const { parts }: PartsAndMakers = partsAndMakers(view, view.device('loop-1') as Device);
  expect(parts.get('quistle/A1')).toBe(0.6);
});
