import { beforeEach, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { decisionById } from '../../src/decisions/decisions.ts';
import { identificationSchema, observationSchema } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { archiveFrom } from '../evidence/archive.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, SMALL_CATALOGUE } from '../state/archive-of.ts';

const SPECIMEN = `${DEVICE.id}/a`;
const JOINED = `${DEVICE.id}:joined`;

const seen = (id: string, about: string[]) => ({ id, about, kind: 'marking' as const, text: 'seen' });
const MADE: readonly Change[] = [
  ...SMALL_CATALOGUE,
  ...catalogueChanges({
    patterns: [
      {
        id: 'joined',
        name: 'Joined',
        idea: 'The sensor talks to the processor.',
        text: 'MATCH (s:Accelerometer)~[:CONNECTS]~(p:Microcontroller) RETURN s, p',
        reasons: ['It has to.'],
        strength: 1,
      },
    ],
  }),
  dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    components: [{ id: 'U1' }, { id: 'U2' }],
    observations: [
      seen('m1', ['U1']),
      seen('m2', ['U1']),
      seen('t1', ['U1', 'U2']),
      seen('t2', ['U1', 'U2']),
    ],
    connections: [{ between: ['U1', 'U2'], medium: 'trace', basis: ['t1', 't2'] }],
    identifications: [
      {
        component: 'U1',
        candidates: [{ part: 'quistle/QWR4T10', probability: 0.9 }],
        basis: ['m1', 'm2'],
      },
      { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 1 }] },
    ],
  }),
];

let archive: Archive;
/** Since the first of January. */
let minutes = 0;
beforeEach(async () => {
  minutes = 0;
  ({ archive } = await archiveFrom(MADE, () => new Date(Date.UTC(2026, 0, 1, 0, minutes))));
});

const view = () => archive.state('desk');
const withdraw = (id: string) => archive.withdrawObservation(SPECIMEN, id, BY, 'desk');
const shape = async () => (await decisionById(view(), JOINED))?.shape;
const matches = async () => {
  const { devices } = await findPattern(view(), { text: view().pattern('joined')?.text as string });
  return devices.map(({ probability }) => probability);
};
const says = async () => ({
  label: view().specimen(SPECIMEN)?.named.get('U1')?.get('Accelerometer') ?? 0,
  holders: view().holdersOf('quistle/QWR4T10').length,
  decision: (await shape()) ?? 0,
  matches: await matches(),
});

const WHOLE = { label: 0.9, holders: 1, decision: 0.9, matches: [0.9] };

/** What is told of a chip that nobody ever identified: it counts as what such chips usually are. */
async function unidentified() {
  const last = MADE.at(-1) as Extract<Change, { kind: 'dossier-put' }>;
  const identifications = last.payload.identifications.filter(({ component }) => component !== 'U1');
  const without = [...MADE.slice(0, -1), { ...last, payload: { ...last.payload, identifications } }];
  const kept = archive;
  ({ archive } = await archiveFrom(without));
  const told = await says();
  await archive.close();
  archive = kept;
  expect(told).toMatchObject({ label: 0, holders: 0 });
  expect(told.decision).toBeLessThan(0.1);
  return told;
}

describe('an identification whose observations were withdrawn', () => {
  test('counts as long as one of them is left, then not at all: labels, holders, patterns, decisions', async () => {
    expect(await says()).toEqual(WHOLE);
    await withdraw('m1');
    expect(await says()).toEqual(WHOLE);
    await withdraw('m2');
    expect(await says()).toEqual(await unidentified());
    // It stays on record, and so does what it rested on.
    const dossier = view().specimen(SPECIMEN)?.dossier;
    expect(dossier?.identifications).toHaveLength(2);
    expect(dossier?.observations.filter(({ withdrawn }) => withdrawn)).toHaveLength(2);
  });

  test('comes back only with a new identification, not with later observations, files or folds', async () => {
    await withdraw('m1');
    await withdraw('m2');
    await archive.recordObservation(
      SPECIMEN,
      observationSchema.parse({ ...seen('m3', ['U1']), corrects: 'm1' }),
      BY,
      'desk',
    );
    expect(await says()).toEqual(await unidentified());
    const filed = MADE.at(-1) as Extract<Change, { kind: 'dossier-put' }>;
    const file = { file: 'again', locate: () => ({ line: 1, column: 1 }) };
    const dossier = { ...filed.payload, note: 'filed again by whoever knew of nothing' };
    await archive.importDocuments([{ ...file, kind: 'dossier', dossier }], BY);
    expect(await says()).toEqual(await unidentified());
    await archive.setIdentification(
      SPECIMEN,
      identificationSchema.parse({
        component: 'U1',
        candidates: [{ part: 'quistle/QWR4T10', probability: 0.8 }],
        basis: ['m3'],
      }),
      BY,
      'desk',
    );
    expect(await says()).toEqual({ label: 0.8, holders: 1, decision: 0.8, matches: [0.8] });
  });

  test('gives way to the identification before it, which still has evidence', async () => {
    await archive.setIdentification(
      SPECIMEN,
      identificationSchema.parse({
        component: 'U1',
        candidates: [{ category: 'Display', probability: 1 }],
        basis: ['t1'],
      }),
      BY,
      'desk',
    );
    expect((await says()).label).toBe(0);
    await withdraw('t1');
    expect(await says()).toEqual(WHOLE);
  });
});

describe('a connection whose observations were withdrawn', () => {
  test('no longer connects anything; history still shows it', async () => {
    await withdraw('t1');
    expect(await says()).toEqual(WHOLE);
    minutes = 10;
    await withdraw('t2');
    expect(await says()).toEqual({ ...WHOLE, decision: 0, matches: [] });
    expect(view().specimen(SPECIMEN)?.connections.get('U1') ?? []).toEqual([]);
    expect(view().specimen(SPECIMEN)?.dossier.connections).toHaveLength(1);
    const then = await archive.asOf('2026-01-01T00:05:00.000Z', 'desk');
    expect((await decisionById(then, JOINED))?.shape).toBe(0.9);
    expect(then.specimen(SPECIMEN)?.joined).toHaveLength(1);
  });
});
