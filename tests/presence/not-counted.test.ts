import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { alignDevices } from '../../src/compare/alignment.ts';
import { circuitDistance } from '../../src/compare/circuit-distance.ts';
import { comparisonCells } from '../../src/compare/comparison-table.ts';
import { countSubsystems } from '../../src/compare/counts.ts';
import { integrationOf } from '../../src/compare/line/integration.ts';
import { comparedOf } from '../../src/compare/representative.ts';
import { similarDevices } from '../../src/compare/similarity.ts';
import { figuresOfBoard, figuresOfSpecimen } from '../../src/decisions/check-figures.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import { candidatesOf, nextObservationsOf } from '../../src/identification/questions.ts';
import { type Component, componentSchema, type Dossier } from '../../src/model/dossier.ts';
import type { Net } from '../../src/model/net.ts';
import { isUnder, TERMS } from '../../src/model/taxonomy.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { presenceOf } from '../../src/presence/presence.ts';
import { summaryOf } from '../../src/questions/summary.ts';
import type { OpenedSpecimen } from '../../src/state/specimen.ts';
import type { State } from '../../src/state/state.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { trend } from '../../src/trends/trends.ts';
import { type Served, serve } from '../service/serving.ts';
import { generatedFiles, imported } from './archives.ts';

// Places where nothing is fitted and what a board itself has count as no component: an archive with such places, among the
// components of every dossier, answers every question about components as the archive without them.

const EMPTY = [
  // Empty places that would count for a lot if something were there.
  { id: 'U9001', fitted: false, package: 'LGA-14', marking: 'AB12' },
  { id: 'U9002', fitted: false, appears: 'Accelerometer', body: { length: 90, width: 90 } },
  { id: 'MK9003', fitted: false, appears: 'Microphone' },
] as const;
const FEATURES = [
  { id: 'MH9101', appears: 'MountingHole', body: { length: 20, width: 20 } },
  { id: 'TP9102', appears: 'TestPad' },
  { id: 'FD9103', appears: 'Fiducial' },
  { id: 'SB9104', appears: 'SolderBridge' },
] as const;

/** The dossier with nets among its first components: a supply, a bus and two signals. */
function withNets(dossier: Dossier): Dossier {
  const ids = dossier.components.map(({ id }) => id);
  const net = (id: string, from: number, to: number, more: Partial<Net> = {}): Net => ({
    id,
    kind: 'signal',
    pins: ids.slice(from, to).map((one, i) => `${one}.${i + 1}`),
    basis: [],
    ...more,
  });
  const nets = [
    net('n-supply', 0, 6, { kind: 'power', voltage: { value: 1.8, unit: 'V' } }),
    net('n-sda', 2, 6, { bus: 'I2C' }),
    net('n-one', 6, 8),
    net('n-two', 8, 11),
  ];
  return { ...dossier, nets: nets.filter(({ pins }) => pins.length > 1) };
}

/** The dossier with such places between its components, connected, identified, and named as unidentified ones would be. */
function withPlaces(dossier: Dossier): Dossier {
  const [first] = dossier.components;
  const [board] = dossier.boards;
  const [subsystem] = dossier.subsystems;
  const more = [...EMPTY, ...FEATURES].map(
    (one): Component =>
      componentSchema.parse({
        ...one,
        ...(board ? { board: board.id, side: board.sides[0] } : {}),
        ...(subsystem ? { subsystem: subsystem.id } : {}),
      }),
  );
  const part = dossier.identifications.flatMap(({ candidates }) =>
    candidates.flatMap((one) => one.part ?? []),
  )[0];
  return {
    ...dossier,
    components: [
      ...more.slice(0, 2),
      ...dossier.components.slice(0, 1),
      ...more.slice(2),
      ...dossier.components.slice(1),
    ],
    connections: [
      ...dossier.connections,
      ...(first
        ? [{ between: [first.id, 'U9001'] as [string, string], medium: 'trace' as const, basis: [] }]
        : []),
    ],
    nets: dossier.nets?.map((net, i) => ({
      ...net,
      pins: [`U9001.${i + 20}`, ...net.pins, `TP9102.${i + 1}`, `U9002.VDD${i}`],
    })),
    identifications: [
      ...dossier.identifications,
      {
        component: 'U9001',
        candidates: [part ? { part, probability: 0.9 } : { category: 'Radio', probability: 0.9 }],
        state: 'settled',
        basis: [],
      },
    ],
  };
}

const changedIn = (files: readonly ReadDocument[], change: (dossier: Dossier) => Dossier) =>
  files.map((file) => (file.kind === 'dossier' ? { ...file, dossier: change(file.dossier) } : file));

describe('an archive with places that count as no component', () => {
  let archives: readonly Archive[];
  let bare: State;
  let full: State;
  let served: Served;
  beforeAll(async () => {
    const files = changedIn(generatedFiles(3, 24), withNets);
    archives = [await imported(files), await imported(changedIn(files, withPlaces))];
    [bare, full] = archives.map((archive) => archive.state('reader'));
    served = await serve({}, archives[1]);
  });
  afterAll(async () => {
    await archives[0].close();
    await served.close();
  });

  /** Asks both archives and compares. */
  async function same<T>(ask: (state: State) => T | Promise<T>): Promise<T> {
    const [one, other] = [await ask(bare), await ask(full)];
    expect(other).toEqual(one);
    return one;
  }
  const specimens = (state: State) =>
    [...state.specimenRows()]
      .map(({ id }) => id)
      .sort()
      .map((id) => state.specimen(id) as OpenedSpecimen);
  const components = TERMS.filter((term) => !isUnder(term, 'BoardFeature'));

  test('has the same of every term, part and maker', async () => {
    await same(async (state) => {
      const presence = await presenceOf(state);
      return components.map((term) => [term, [...presence.of(term)].sort()]);
    });
    const presence = await presenceOf(full);
    for (const term of ['BoardFeature', 'MountingHole', 'TestPad', 'Fiducial', 'SolderBridge'])
      expect(
        [...presence.of(term).values()].every(({ verdict, likely }) => verdict === 'CERTAIN' && likely >= 1),
      ).toBe(true);
    expect([...presence.of('Connector').values()].map(({ expected }) => expected)).toEqual(
      [...(await presenceOf(bare)).of('Connector').values()].map(({ expected }) => expected),
    );
  });

  test('matches patterns the same, of terms, parts, connections and places', async () => {
    const found = new Map<string, number>();
    for (const text of [
      'MATCH (x:Component) RETURN x',
      'MATCH (x:Component)-[:CONNECTS]-(y:Component) RETURN x, y',
      'MATCH (x:Accelerometer)-[:ON]->(b:Board) RETURN x, b',
      'MATCH (x)-[:IDENTIFIED_AS]->(p:Part) RETURN x, p',
      'MATCH (x:Microphone) RETURN x',
      'MATCH (x:Component)-[:SHARES_NET]-(y:Component) RETURN x, y',
      'MATCH (x:Component)-[:FEEDS]->(y:Component) RETURN x, y',
      'MATCH (x:Component)-[:SIGNAL_PATH]-(y:Component) RETURN x, y',
      'MATCH (x:Component)-[:SHARES_BUS]-(y:Component) RETURN x, y',
    ])
      found.set(
        text,
        (
          await same(async (state) =>
            (
              await findPattern(state, { text })
            ).devices.map(({ deviceId, probability, matches }) => [deviceId, probability, matches.length]),
          )
        ).length,
      );
    expect([...found].filter(([, devices]) => devices === 0)).toEqual([]);
    const pads = await findPattern(full, { text: 'MATCH (x:TestPad) RETURN x' });
    expect(pads.devices.length).toBe(full.devices().length);
  });

  test('counts the same: archive, trends, subsystems, figures for design checks', async () => {
    await same(summaryOf);
    for (const category of ['Component', 'Accelerometer', 'Microphone', 'Connector']) {
      await same((state) => trend(state, { of: { count: category } }));
      await same((state) => trend(state, { of: { share: { category } } }));
    }
    await same((state) =>
      specimens(state).map((one) => [
        countSubsystems(one),
        figuresOfSpecimen(one),
        one.dossier.boards.map((board) => figuresOfBoard(board, one)),
      ]),
    );
    await same((state) => specimens(state).map(({ id }) => integrationOf(state, comparedOf(state, id))));
  });

  test('compares, aligns and finds alike the same', async () => {
    const ids = bare.devices().map(({ id }) => id);
    await same((state) => ids.map((id) => comparisonCells(state, id)));
    for (const [a, b] of [ids.slice(0, 2), ids.slice(2, 4)]) {
      await same(async (state) => {
        const { rows, steps } = await alignDevices(state, [a, b]);
        return { rows, steps };
      });
      await same(async (state) => {
        const { from: _, to: __, ...distance } = await circuitDistance(state, [a, b]);
        return distance;
      });
      await same(async (state) =>
        (await similarDevices(state, a)).devices.map(({ device, similarity }) => [device.id, similarity]),
      );
    }
    await same(async (state) => (await findStructures(state, { minSupport: 4, maxSize: 3 })).structures);
  });

  test('learns and asks the same of identifications; nothing is asked of an empty place', async () => {
    const [one] = specimens(bare);
    const local = one.counted.map(({ id }) => `${one.id}/${id}`);
    for (const id of local.slice(0, 5))
      await same(async (state) => {
        const { odds, state: how } = await candidatesOf(state, id);
        return { ...odds, evidenceFor: undefined, how };
      });
    await same(async (state) =>
      (await nextObservationsOf(state, one.id)).map(({ placed: _, ...next }) => next),
    );
    await expect(candidatesOf(full, `${one.id}/U9001`)).rejects.toThrow(/Nothing is fitted at .*U9001/u);
    await expect(nextObservationsOf(full, `${one.id}/U9001`)).rejects.toThrow(/No component is under/u);
  });

  test('lists them all the same, with what they are', async () => {
    const [one] = specimens(full);
    const ask = (filter: object) =>
      served.ask(
        'query ($filter: ComponentFilter) { components(first: 200, filter: $filter) { totalCount nodes { designator fitted counted category { term } } } }',
        { filter: { devices: [one.dossier.device], ...filter } },
      );
    const all = (await ask({})).components;
    const counted = (await ask({ counted: true })).components;
    const rest = (await ask({ counted: false })).components;
    const placed = EMPTY.length + FEATURES.length;
    expect([all.totalCount, rest.totalCount % placed, counted.totalCount]).toEqual([
      counted.totalCount + rest.totalCount,
      0,
      all.totalCount - rest.totalCount,
    ]);
    expect(rest.nodes.slice(0, placed)).toEqual([
      { designator: 'FD9103', fitted: true, counted: false, category: { term: 'Fiducial' } },
      { designator: 'MH9101', fitted: true, counted: false, category: { term: 'MountingHole' } },
      { designator: 'MK9003', fitted: false, counted: false, category: null },
      { designator: 'SB9104', fitted: true, counted: false, category: { term: 'SolderBridge' } },
      { designator: 'TP9102', fitted: true, counted: false, category: { term: 'TestPad' } },
      { designator: 'U9001', fitted: false, counted: false, category: null },
      { designator: 'U9002', fitted: false, counted: false, category: null },
    ]);
    // Neither identified nor to be identified.
    for (const identified of [true, false])
      expect(
        (await ask({ identified })).components.nodes.every((one: { counted: boolean }) => one.counted),
      ).toBe(true);
  });
});
