import { beforeAll, describe, expect, test } from 'vitest';
import { impactOf } from '../../src/evidence/impact-of.ts';
import type { State } from '../../src/state/state.ts';
import { documents } from '../seed/seed.ts';
import { archiveWith, dossierFile, publicationsFile } from './archive.ts';

const PUBLICATION = {
  id: 'what-two-sensors-tell',
  kind: 'article',
  title: 'What two sensors tell',
  claims: [
    {
      id: 'c1',
      sentence: 'The Calcar 2 doubles its accelerometer on purpose.',
      supportedBy: ['thovane-calcar-2:duplicated-sensors'],
    },
    { id: 'c2', sentence: 'So it can tell a turn from a shake.', supportedBy: ['what-two-sensors-tell/c1'] },
    {
      id: 'c3',
      sentence: 'At least three wrist devices double a sensor.',
      supportedBy: ['two-sensor-rate-paper'],
      figures: [{ count: { pattern: 'duplicated-sensors' }, where: { bodySite: 'wrist' }, atLeast: 3 }],
    },
  ],
} as const;

let desk: State;
let reader: State;
beforeAll(async () => {
  const made = {
    caseback: 'dossier/1',
    visibility: 'draft',
    device: { id: 'nolvey-withheld', name: 'Secret', maker: 'nolvey', released: '2025', bodySite: 'finger' },
    specimen: { id: 'a' },
    teardown: { on: '2026-01-02', by: 'I. Example' },
    components: [{ id: 'U1' }],
    observations: [
      { id: 'o1', about: ['U1'], kind: 'marking', marking: '4T10', cites: ['pulse-front-end-sheet'] },
    ],
    identifications: [{ component: 'U1', candidates: [{ part: 'quistle/QWR4T10', probability: 0.9 }] }],
  } as const;
  const publications = publicationsFile([structuredClone(PUBLICATION) as never]);
  const { archive } = await archiveWith([
    ...documents,
    publications,
    dossierFile(structuredClone(made) as never),
  ]);
  [desk, reader] = [archive.state('desk'), archive.state('reader')];
});

async function impactedBy(id: string, view = desk) {
  const { impacted } = await impactOf(view, id);
  return new Map(impacted.map((one) => [one.id, one]));
}

describe('what a thing of the demo archive supports', () => {
  test('on an observation: the component it identifies, the decision, the sentence, the publication', async () => {
    const impacted = await impactedBy('thovane-calcar-2/a/o1');
    expect(impacted.get('thovane-calcar-2/a/U2')).toMatchObject({
      kind: 'Component',
      generation: 1,
      how: ['is identified by it'],
    });
    expect(impacted.get('thovane-calcar-2:duplicated-sensors')?.generation).toBe(1);
    expect(impacted.get('what-two-sensors-tell/c1')).toMatchObject({
      kind: 'Claim',
      generation: 2,
      path: ['thovane-calcar-2/a/o1', 'thovane-calcar-2:duplicated-sensors', 'what-two-sensors-tell/c1'],
      how: ['is supported by what it shows', 'is supported by it'],
    });
    expect(impacted.get('what-two-sensors-tell/c2')?.generation).toBe(3);
    expect(impacted.get('what-two-sensors-tell')).toMatchObject({ kind: 'Publication', generation: 3 });
    // Sentences that name it themselves are as near as can be.
    expect(impacted.get('two-ends-of-a-board/c2')?.generation).toBe(1);
  });

  test('on a component: the decisions made of it, its unit, the device', async () => {
    const impacted = await impactedBy('thovane-calcar-2/a/U2');
    expect(impacted.get('thovane-calcar-2:duplicated-sensors')?.how).toEqual(['is made of it']);
    expect(impacted.get('thovane-calcar-2')?.path).toEqual([
      'thovane-calcar-2/a/U2',
      'thovane-calcar-2/a',
      'thovane-calcar-2',
    ]);
  });

  test('on a photo: the observations made on it, and what they carry', async () => {
    const specimen = desk.specimen('thovane-calcar-2/a');
    const shown = specimen?.dossier.observations.find(({ photo }) => photo !== undefined);
    const impacted = await impactedBy(`thovane-calcar-2/a/${shown?.photo}`);
    expect(impacted.get(`thovane-calcar-2/a/${shown?.id}`)?.how).toEqual(['is seen on it']);
    for (const about of shown?.about ?? [])
      expect(impacted.get(`thovane-calcar-2/a/${about}`)?.generation).toBe(2);
  });

  test('on a part: every component that may be it, what it is sold as elsewhere, and sentences about it', async () => {
    const impacted = await impactedBy('dremond/DHQS32');
    const may = [...desk.specimenRows()].flatMap(({ id }) =>
      [...(desk.specimen(id)?.identified ?? [])].flatMap(([local, { candidates }]) =>
        candidates.some(({ part }) => part === 'dremond/DHQS32') ? [`${id}/${local}`] : [],
      ),
    );
    expect(may.length).toBeGreaterThan(0);
    for (const id of may) expect(impacted.get(id)?.how).toEqual(['may be it']);
    expect(impacted.get('nearbrook/NKB32F')?.how).toEqual(['is it under a new label']);
    // The later Sennit 3 holds the label, which is the part.
    expect(impacted.get('tarn-sennit-3/b/U7')?.generation).toBe(2);
    expect(impacted.get('one-part-two-names/c1')?.generation).toBe(1);
  });

  test('on an opening: the unit, and on a subsystem nothing that does not name it', async () => {
    const { of, impacted } = await impactOf(desk, 'tarn-sennit-3/a/teardown');
    expect(of.kind).toBe('Teardown');
    expect(impacted[0]).toMatchObject({ id: 'tarn-sennit-3/a', how: ['was opened in it'] });
    const [subsystem] = desk.specimen('tarn-sennit-3/a')?.dossier.subsystems ?? [];
    expect((await impactOf(desk, `tarn-sennit-3/a/${subsystem.id}`)).impacted).toEqual([]);
  });

  test('on a source: the sentences that name it', async () => {
    const impacted = await impactedBy('pulse-front-end-sheet');
    expect(impacted.get('pulse-comes-to-the-wrist/c1')?.generation).toBe(1);
    expect(impacted.get('pulse-comes-to-the-wrist')?.generation).toBe(2);
  });

  test('on a pattern: the decisions it suggests and the figures that count it', async () => {
    const impacted = await impactedBy('duplicated-sensors');
    expect(impacted.get('thovane-calcar-2:duplicated-sensors')?.generation).toBe(1);
    expect(impacted.get('what-two-sensors-tell/c3')?.how).toEqual(['counts devices with it']);
  });

  test('on a device: figures over devices like it, and on no other', async () => {
    expect((await impactedBy('thovane-calcar-2')).has('two-ends-of-a-board/c3')).toBe(true);
    expect((await impactedBy('tarn-sennit-3')).has('what-two-sensors-tell/c3')).toBe(true);
    expect((await impactedBy('pellforth-conch-2')).has('what-two-sensors-tell/c3')).toBe(false);
  });

  test('nothing hidden is shown, and what is hidden looks as if it did not exist', async () => {
    expect((await impactedBy('quistle/QWR4T10')).has('nolvey-withheld/a/U1')).toBe(true);
    const seen = [
      ...(await impactedBy('quistle/QWR4T10', reader)).keys(),
      ...(await impactedBy('pulse-front-end-sheet', reader)).keys(),
    ];
    expect(seen.filter((id) => id.includes('nolvey-withheld'))).toEqual([]);
    for (const id of ['nolvey-withheld', 'nolvey-withheld/a/U1', 'nolvey-withheld/a/o1'])
      await expect(impactOf(reader, id)).rejects.toMatchObject({
        code: 'NOT_FOUND',
        message: `Nothing called "${id}" is in the archive`,
      });
    await expect(impactOf(reader, 'nolvey-sekret')).rejects.toMatchObject({ code: 'NOT_FOUND' });
  });
});
