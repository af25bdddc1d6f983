import { beforeAll, describe, expect, test } from 'vitest';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { isOffBoard, isUnder, lineage, TERMS } from '../../src/model/taxonomy.ts';
import { patternPresence, patternVerdicts } from '../../src/patterns/verdict.ts';
import { presenceAnswer } from '../../src/questions/presence.ts';
import type { State } from '../../src/state/state.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { deviceWeights } from '../../src/trends/subject.ts';
import { caseback, Folder } from '../cli/running.ts';
import { demo } from '../presence/archives.ts';
import { testSeed } from '../random.ts';

import { referenceChanges, type referenceDossier } from '../reference-boards.ts';
import { serve } from '../service/serving.ts';
import { BY, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

const NOW = '2026-06-01T00:00:00Z';
type Written = Parameters<typeof dossierChange>[0] & { readonly teardown?: Partial<Dossier['teardown']> };

/** An archive with one specimen of an invented device. */
function one(written: Omit<Written, 'device' | 'specimen'>): State {
  const { teardown, ...rest } = written;
  const change = dossierChange({ device: DEVICE, specimen: { id: 'a' }, ...rest });
  const dossier = change.payload as Dossier;
  const payload = { ...dossier, teardown: { ...dossier.teardown, ...teardown } };
  return liveOf([...SMALL_CATALOGUE, { ...change, payload } as Change]).state('desk', NOW);
}

const told = (state: State, text: string, scope?: 'archive') =>
  patternPresence(state, { text, scope }, DEVICE.id);

const BOARD = { id: 'main', kind: 'rigid', fullyInventoried: true } as const;
const FILES = { recordedFrom: 'design-files' } as const;
const seen = (id: string, appears: string) => ({ id, board: 'main', appears });
const REGULATOR_AND_SENSOR = [
  { ...seen('U1', 'LinearRegulator'), pins: 3 },
  { ...seen('U2', 'PressureSensor'), pins: 2 },
];
const FEEDS = 'MATCH (r:Regulator)-[:FEEDS]->(s:Sensor) RETURN r, s';

describe('absent needs that it was looked for', () => {
  test('of boards alone the record of boards, and no inventory of what lies on them', async () => {
    const FLEX = { id: 'tail', kind: 'flex', fullyInventoried: false } as const;
    const boards = [{ ...BOARD, fullyInventoried: false }, FLEX];
    const single = `MATCH (s:Specimen)-[:HAS_BOARD]->(b:Board)
      WHERE NOT EXISTS { MATCH (s)-[:HAS_BOARD]->(other:Board) WHERE other.id <> b.id } RETURN b`;
    expect(await told(one({ boards, components: REGULATOR_AND_SENSOR }), single)).toMatchObject({
      verdict: 'ABSENT',
      why: 'nothing matches, and it asks of boards alone: 2 are recorded',
    });
    const lone = one({ boards: [boards[0]], components: REGULATOR_AND_SENSOR });
    expect(await told(lone, single)).toMatchObject({ verdict: 'CERTAIN' });
    expect(
      await told(one({ components: REGULATOR_AND_SENSOR.map(({ board: _, ...rest }) => rest) }), single),
    ).toMatchObject({
      verdict: 'NOT_OBSERVED',
    });
    // What lies on them is another question.
    const text = 'MATCH (b:Board)<-[:ON]-(m:Microphone) RETURN b';
    expect(await told(one({ boards, components: REGULATOR_AND_SENSOR }), text)).toMatchObject({
      verdict: 'NOT_OBSERVED',
    });
  });

  test('beside what is recorded there may be more: that is said, and not that there is no other', async () => {
    const sensors = [
      seen('U1', 'PressureSensor'),
      seen('U2', 'Accelerometer'),
      seen('U9', 'IntegratedCircuit'),
    ];
    const other = "MATCH (a:PressureSensor) WHERE a.designator <> 'U1' AND a.designator <> 'U9' RETURN a";
    expect(await told(one({ boards: [BOARD], components: sensors }), other)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'there may be a further pressure sensor beside what is recorded: not every component that it may be is identified',
    });
  });

  test('boards that are not inventoried', async () => {
    const state = one({ boards: [{ ...BOARD, fullyInventoried: false }], components: REGULATOR_AND_SENSOR });
    expect(await told(state, 'MATCH (m:Microphone) RETURN m')).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'nothing matches, and not every board is recorded as fully inventoried',
    });
  });

  test('what lies off the boards, in a record from design files', async () => {
    const text = 'MATCH (b:OpticalBarrier)-[:ON]->(x:Board) RETURN b, x';
    const bench = one({ boards: [BOARD], components: REGULATOR_AND_SENSOR });
    expect(await told(bench, text)).toMatchObject({
      verdict: 'ABSENT',
      why: 'no optical barrier is recorded, and every board is fully inventoried',
    });
    const files = one({ boards: [BOARD], components: REGULATOR_AND_SENSOR, teardown: FILES });
    expect(await told(files, text)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'no optical barrier is recorded, and the enclosure and what lies off the boards were not looked at',
    });
    expect(await told(files, 'MATCH (m:Microphone)-[:ON]->(b:Board) RETURN m, b')).toMatchObject({
      verdict: 'ABSENT',
    });
  });

  test('terms by themselves go by the same rule', async () => {
    const state = one({ boards: [BOARD], components: REGULATOR_AND_SENSOR, teardown: FILES });
    for (const term of ['OpticalBarrier', 'PouchCell', 'OledDisplay', 'HapticActuator', 'StructuralAntenna'])
      expect([term, (await presenceAnswer(state, DEVICE.id, { category: term })).verdict]).toEqual([
        term,
        term === 'StructuralAntenna' ? 'ABSENT' : 'NOT_OBSERVED',
      ]);
    expect(await presenceAnswer(state, DEVICE.id, { category: 'Window' })).toMatchObject({
      why: 'no window is recorded, and the enclosure and what lies off the boards were not looked at',
    });
    expect(await presenceAnswer(state, DEVICE.id, { category: 'IndicatorDisplay' })).toMatchObject({
      verdict: 'ABSENT',
      why: 'no indicator display is recorded, and every board is fully inventoried',
    });
  });

  test('an antenna where there is a radio, at the bench too', async () => {
    const text = 'MATCH (a:ChipAntenna)-[:ON]->(b:Board) RETURN a, b';
    const radio = one({ boards: [BOARD], components: [seen('U1', 'BluetoothRadio')] });
    expect(await told(radio, text)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'no chip antenna is recorded, and where there is a radio there is one somewhere',
    });
    const printed = one({
      boards: [BOARD],
      components: [seen('U1', 'BluetoothRadio'), seen('E1', 'PrintedAntenna')],
    });
    expect(await told(printed, text)).toMatchObject({ verdict: 'ABSENT' });
    expect(await told(one({ boards: [BOARD], components: REGULATOR_AND_SENSOR }), text)).toMatchObject({
      verdict: 'ABSENT',
    });
  });

  test('links: where connections were not traced to the end', async () => {
    expect(await told(one({ boards: [BOARD], components: REGULATOR_AND_SENSOR }), FEEDS)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'no link -[:FEEDS]-> is recorded, and not every connection is traced to its end',
    });
    const traced = one({ boards: [{ ...BOARD, fullyTraced: true }], components: REGULATOR_AND_SENSOR });
    expect(await told(traced, FEEDS)).toMatchObject({ verdict: 'ABSENT' });
  });

  test('links: complete nets for every pin do as well', async () => {
    const net = (id: string, pins: string[], complete = true) => ({
      id,
      kind: 'signal' as const,
      pins,
      complete,
    });
    const nets = [net('n1', ['U1.1']), net('n2', ['U1.2', 'U2.1']), net('n3', ['U1.3']), net('n4', ['U2.2'])];
    const asked = async (some: typeof nets) =>
      (await told(one({ boards: [BOARD], components: REGULATOR_AND_SENSOR, nets: some }), FEEDS)).verdict;
    expect(await asked(nets)).toBe('ABSENT');
    expect(await asked(nets.slice(0, 3))).toBe('NOT_OBSERVED');
    expect(await asked([...nets.slice(0, 3), net('n4', ['U2.2'], false)])).toBe('NOT_OBSERVED');
  });

  test('how boards lie on each other, in a record from design files', async () => {
    const boards = [BOARD, { ...BOARD, id: 'top' }];
    const text = 'MATCH (a:Board)-[:STACKED_ON]->(b:Board) RETURN a, b';
    const components = REGULATOR_AND_SENSOR;
    expect(await told(one({ boards, components }), text)).toMatchObject({ verdict: 'ABSENT' });
    expect(await told(one({ boards, components, teardown: FILES }), text)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'no link -[:STACKED_ON]-> is recorded, and how the boards lie on each other was not looked at',
    });
    // One board lies on no other.
    expect(await told(one({ boards: [BOARD], components, teardown: FILES }), text)).toMatchObject({
      verdict: 'ABSENT',
    });
  });

  test('places and bodies that are missing', async () => {
    const text = `MATCH (a:Regulator)-[:ON]->(b:Board)<-[:ON]-(s:Sensor) WHERE GAP_MM(a, s) <= 6 RETURN a, b, s`;
    const placed = (x: number) =>
      REGULATOR_AND_SENSOR.map((component, i) => ({
        ...component,
        side: 'top' as const,
        at: { x: i * x, y: 0 },
      }));
    expect(await told(one({ boards: [BOARD], components: placed(3) }), text)).toMatchObject({
      verdict: 'CERTAIN',
    });
    expect(await told(one({ boards: [BOARD], components: placed(30) }), text)).toMatchObject({
      verdict: 'ABSENT',
    });
    expect(await told(one({ boards: [BOARD], components: REGULATOR_AND_SENSOR }), text)).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: 'it cannot be told whether GAP_MM(a, s) <= 6: a place, an outline or a figure is not recorded',
    });
  });

  test('devices of other makers, for a pattern that spans the archive', async () => {
    const state = one({ boards: [BOARD], components: REGULATOR_AND_SENSOR });
    const text =
      'MATCH (a:Device)-[:MADE_BY]->(m:Maker), (b:Device)-[:MADE_BY]->(n:Maker) WHERE m.id < n.id RETURN a, b';
    expect(await told(state, text, 'archive')).toMatchObject({
      verdict: 'NOT_OBSERVED',
      why: "nothing matches, and the archive has only one maker's devices to match it with",
    });
  });
});

// Outside check: a record in which a pattern is found, with something taken away that its fields then say was not looked at.
// Nothing of the module under test is used to take it away. Whatever is asked, it may not be called absent.

/** Ways to look at less. */
const LESS: Readonly<Record<string, (dossier: Dossier, random: Random) => Dossier>> = {
  'some nets and connections were not traced': (dossier, random) => ({
    ...dossier,
    boards: dossier.boards.map(({ fullyTraced: _, ...board }) => board),
    nets: dossier.nets?.filter(() => random.chance(0.5)).map((net) => ({ ...net, complete: undefined })),
    connections: dossier.connections.filter(() => random.chance(0.5)),
  }),
  'no places or bodies were measured': (dossier) => ({
    ...dossier,
    boards: dossier.boards.map(({ outline: _, ...board }) => board),
    components: dossier.components.map(({ at: _, body: __, rotation: ___, ...component }) => component),
  }),
  'design files alone were read': (dossier) => {
    // Not sensors: electrodes lie off the boards, but a broad term such as Sensor goes by what stands on boards (looked-at.ts).
    const isGone = (term: string) => isOffBoard(term) && !isUnder(term, 'Sensor');
    const off = new Set(
      dossier.components.filter(({ appears }) => appears && isGone(appears)).map(({ id }) => id),
    );
    const lies = (id: string) => !off.has(id);
    return {
      ...dossier,
      teardown: { ...dossier.teardown, recordedFrom: 'design-files' },
      boards: dossier.boards.map(({ stackedOn: _, fullyTraced: __, ...board }) => board),
      nets: dossier.nets?.map((net) => ({ ...net, complete: undefined })),
      components: dossier.components.filter(({ id }) => lies(id)),
      identifications: dossier.identifications.filter(({ component }) => lies(component)),
      connections: dossier.connections.filter(({ between }) => between.every(lies)),
      observations: dossier.observations.filter(({ about }) => about.every(lies)),
    };
  },
};

describe.each(Object.keys(LESS))('what is there is not called absent where %s', (way) => {
  const less = LESS[way] as (typeof LESS)[string];

  async function check(before: State, changes: readonly Change[]) {
    const after = liveOf(changes).state('desk', NOW);
    const wrong: string[] = [];
    let tried = 0;
    for (const { id, text, scope } of before.patterns()) {
      const { verdicts } = await patternVerdicts(before, { text, scope });
      const { verdicts: now } = await patternVerdicts(after, { text, scope });
      for (const [device, { verdict }] of verdicts) {
        if (verdict !== 'CERTAIN') continue;
        tried++;
        if (now.get(device)?.verdict === 'ABSENT') wrong.push(`${device}: ${id}`);
      }
    }
    expect(wrong).toEqual([]);
    return tried;
  }

  const libraryOf = (state: State): Change[] =>
    COLLECTIONS.flatMap((collection) =>
      [...state.facts.records[collection].values()].map(
        (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as Change,
      ),
    );

  test('in the demo archive', async () => {
    const random = seededRandom(testSeed());
    const state = (await demo()).state('desk');
    const dossiers = state.specimenRows().map((row) => state.peek(row).dossier);
    const devices = state.devices().map((device) => ({ collection: 'devices', record: device }) as const);
    expect(devices.length).toBeGreaterThan(40);
    const changes = dossiers.map(
      (dossier) => ({ ...BY, kind: 'dossier-put', payload: less(dossier, random) }) as Change,
    );
    expect(await check(state, [...libraryOf(state), ...changes])).toBeGreaterThan(200);
  });

  test('in the reference boards', async () => {
    const random = seededRandom(testSeed());
    const patterns = libraryOf((await demo()).state('desk')).filter(
      ({ kind, payload }) => kind === 'record-put' && payload.collection === 'patterns',
    );
    const changes = [...patterns, ...referenceChanges()];
    const poorer = changes.map((change) =>
      change.kind === 'dossier-put'
        ? ({
            ...change,
            payload: less(change.payload as ReturnType<typeof referenceDossier>, random),
          } as Change)
        : change,
    );
    expect(await check(liveOf(changes).state('desk', NOW), poorer)).toBeGreaterThan(20);
  });
});

describe('surfaces', () => {
  let state: State;
  let patterns: readonly string[];
  beforeAll(async () => {
    state = (await demo()).state('reader');
    patterns = state.patterns().map(({ id }) => id);
  });

  test('trends count by the same verdicts', async () => {
    for (const id of patterns) {
      const { text, scope } = state.pattern(id) as { text: string; scope?: 'archive' };
      const { verdicts } = await patternVerdicts(state, { text, scope });
      const weights = await deviceWeights(state, { pattern: id });
      for (const [device, { verdict }] of verdicts)
        expect([id, device, weights.get(device)?.verdict ?? 'NOT_OBSERVED']).toEqual([id, device, verdict]);
    }
  });

  test('one device, a few devices and all devices are told the same', async () => {
    const ids = state.devices().map(({ id }) => id);
    for (const id of patterns.slice(0, 12)) {
      const { text, scope } = state.pattern(id) as { text: string; scope?: 'archive' };
      const { verdicts } = await patternVerdicts(state, { text, scope });
      const some = ids.filter((_, at) => at % 5 === 0);
      const few = await patternVerdicts(state, { text, scope }, some);
      for (const device of some) {
        const { verdict, why } = await patternPresence(state, { text, scope }, device);
        const all = verdicts.get(device)?.verdict;
        expect([id, device, verdict, few.verdicts.get(device)?.verdict]).toEqual([id, device, all, all]);
        expect(why).toMatch(/^\S.*[^.]$/u);
      }
    }
  });

  test('GraphQL and the command line', async () => {
    const archive = await demo();
    const served = await serve({}, archive);
    const { device } = await served.ask(
      `{ device(id: "tarn-sennit-3") {
        presence(of: {pattern: "always-on-domain"}) { verdict probability why specimens { specimen verdict } }
        specimens { presence(of: {pattern: "always-on-domain"}) { verdict } teardown { recordedFrom } boards { fullyTraced } }
      } }`,
    );
    const { text } = state.pattern('always-on-domain') as { text: string };
    const { verdict, probability, why, specimens } = await patternPresence(state, { text }, 'tarn-sennit-3');
    expect(device.presence).toMatchObject({ verdict, probability, why });
    expect(device.specimens.map((one: { presence: object }) => one.presence)).toEqual(
      specimens.map((one) => ({ verdict: one.verdict })),
    );
    expect(device.specimens[0]).toMatchObject({ teardown: { recordedFrom: 'BENCH' } });
    await served.close();

    const folder = new Folder();
    const run = (...args: string[]) => caseback([...args, '--data', folder.path], { cwd: folder.path });
    await run('import', `${import.meta.dirname}/../../seed-data`, '--actor', 'bench', '--reason', 'test');
    const { out } = await run('presence', 'tarn-sennit-3', '--patterns', '--format', 'json');
    const rows = JSON.parse(out) as readonly { of: string; verdict: string; why: string }[];
    expect(rows.map(({ of }) => of)).toEqual([...patterns].sort());
    expect(rows.find(({ of }) => of === 'always-on-domain')).toMatchObject({ verdict, why });
    const both = await run('presence', 'tarn-sennit-3', '--patterns', '--of', 'Charger');
    expect([both.code, both.err]).toEqual([2, expect.stringContaining('exclude each other')]);
    folder.remove();
  });
});

test('terms that lie off the boards are told by the taxonomy', () => {
  const off = TERMS.filter(isOffBoard);
  expect(off).toContain('ButtonCell');
  expect(off).not.toContain('AddressableLed');
  // Common practice, no source: what is soldered to a board is in its files.
  for (const term of ['Processor', 'Radio', 'Regulator', 'Memory', 'Passive', 'Connector'])
    expect(off.filter((one) => lineage(one).includes(term))).toEqual([]);
});
