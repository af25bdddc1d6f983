import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { nextObservationsUnder } from '../../src/decisions/next-observations.ts';
import { auditClaims } from '../../src/evidence/audit.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { candidatesOf } from '../../src/identification/questions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { COLLECTIONS, recordId } from '../../src/model/catalogue.ts';
import { deviceIdOf, specimenIdOf } from '../../src/model/dossier.ts';
import { nearIds, resolve, resolved } from '../../src/state/resolve.ts';
import type { State } from '../../src/state/state.ts';
import { devicesWhere } from '../../src/trends/filter.ts';
import { deviceWeights } from '../../src/trends/subject.ts';
import { catalogue, documents, dossiers } from '../seed/seed.ts';

const KIND_OF = {
  makers: 'Maker',
  productLines: 'ProductLine',
  parts: 'Part',
  sources: 'Source',
  publications: 'Publication',
  patterns: 'Pattern',
  feeds: 'Feed',
  listMappings: 'ListMapping',
  devices: 'Device',
} as const;

/** Every id of the demo archive with its kind, read off the files. */
function* idsInFiles(): Generator<readonly [id: string, kind: string]> {
  for (const collection of COLLECTIONS)
    for (const record of catalogue[collection]) yield [recordId(collection, record), KIND_OF[collection]];
  for (const { id, claims } of catalogue.publications)
    for (const claim of claims) yield [`${id}/${claim.id}`, 'Claim'];
  for (const dossier of dossiers) {
    const specimen = specimenIdOf(dossier);
    yield [deviceIdOf(dossier), 'Device'];
    yield [specimen, 'Specimen'];
    yield [`${specimen}/teardown`, 'Teardown'];
    for (const { id } of dossier.components) yield [`${specimen}/${id}`, 'Component'];
    for (const { id } of dossier.boards) yield [`${specimen}/${id}`, 'Board'];
    for (const { id } of dossier.observations) yield [`${specimen}/${id}`, 'Observation'];
    for (const { id } of dossier.photos) yield [`${specimen}/${id}`, 'Photo'];
    for (const { id } of dossier.nets ?? []) yield [`${specimen}/${id}`, 'Net'];
    for (const { id } of dossier.subsystems) yield [`${specimen}/${id}`, 'Subsystem'];
    for (const { id } of catalogue.patterns) yield [`${deviceIdOf(dossier)}:${id}`, 'Decision'];
  }
}

const ALL = [...idsInFiles()];

let desk: State;
let reader: State;
beforeAll(async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(documents, { actor: 'tests', reason: 'demo' });
  desk = archive.state('desk');
  reader = archive.state('reader');
});

describe('resolving an id', () => {
  test('finds everything in the demo archive', () => {
    const wrong = ALL.filter(
      ([id, kind]) => resolve(desk, id)?.kind !== kind || resolve(desk, id)?.id !== id,
    );
    expect(ALL.length).toBeGreaterThan(3_000);
    expect(wrong).toEqual([]);
  });

  test('finds nothing that is in no file', () => {
    const ids = new Set(ALL.map(([id]) => id));
    const text = fc.string({ unit: fc.constantFrom('a', 't', 'U', '3', '-', '/', ':', '.'), maxLength: 12 });
    fc.assert(
      fc.property(text, (id) => {
        expect(resolve(desk, id) !== undefined).toBe(ids.has(id));
      }),
      { numRuns: 2_000, seed: 21 },
    );
  });

  test('finds nothing hidden for a reader, and never suggests it', () => {
    const hidden = ALL.filter(([id]) => resolve(reader, id) === undefined).map(([id]) => id);
    expect(hidden.length).toBeGreaterThan(0);
    for (const id of hidden) {
      const near = nearIds(reader, id);
      expect(
        near.filter((one) => resolve(reader, one) === undefined),
        id,
      ).toEqual([]);
      // With one character too many it is nearest to what is hidden.
      expect(nearIds(reader, `${id}x`).includes(id)).toBe(false);
    }
  });
});

describe('a mistyped id', () => {
  test('names the right id among those near, of every kind', () => {
    const typo = fc
      .tuple(fc.constantFrom(...ALL), fc.nat(), fc.constantFrom('drop', 'double', 'swap'))
      .map(([[id, kind], at, how]) => {
        // Within the last step, and not in its first character, which shorter ids consist of.
        const start = Math.max(id.lastIndexOf('/'), id.lastIndexOf(':')) + 1;
        const i = start + (at % (id.length - start));
        const mistyped =
          how === 'drop'
            ? id.slice(0, i) + id.slice(i + 1)
            : how === 'double'
              ? id.slice(0, i) + id[i] + id.slice(i)
              : id.slice(0, i) + (id[i + 1] ?? '') + id[i] + id.slice(i + 2);
        return { id, kind, mistyped, last: id.length - start };
      });
    fc.assert(
      fc.property(typo, ({ id, kind, mistyped, last }) => {
        fc.pre(mistyped !== id && last >= 8 && resolve(desk, mistyped) === undefined);
        const near = nearIds(desk, mistyped);
        expect(near.length, `${mistyped} for ${id}`).toBeGreaterThan(0);
        // Three are named; others may be as near.
        if (near.length < 3) expect(near, mistyped).toContain(id);
        expect(near.every((one) => resolve(desk, one) !== undefined)).toBe(true);
        expect(
          nearIds(desk, mistyped, [kind as 'Device']).every((one) => resolve(desk, one)?.kind === kind),
        ).toBe(true);
      }),
      { numRuns: 500, seed: 22 },
    );
  });

  test('in its case alone leads to that id and no other', () => {
    expect(nearIds(desk, 'tarn-sennit-3/a/u3')).toEqual(['tarn-sennit-3/a/U3']);
    expect(nearIds(desk, 'Tarn-Sennit-3')).toEqual(['tarn-sennit-3']);
    expect(nearIds(desk, 'quistle/qn4t10')).toEqual(['quistle/QWR4T10']);
    expect(nearIds(desk, 'Tarn-Sennit-3/A/u3')).toEqual(['tarn-sennit-3/a/U3']);
  });

  test('further up leads to the same thing under the right parent', () => {
    expect(nearIds(desk, 'tarn-senit-3/a/U3')[0]).toBe('tarn-sennit-3/a/U3');
    expect(nearIds(desk, 'quisle/QWR4T10')).toEqual(['quistle/QWR4T10']);
    expect(nearIds(desk, 'bench-leter-31/c1')).toContain('bench-letter-31/c1');
    expect(nearIds(desk, 'tarn-senit-5:duplicated-sensors')[0]).toBe('tarn-sennit-5:duplicated-sensors');
    expect(nearIds(desk, 'tarn-sennit-5:duplicate-sensors')).toEqual(['tarn-sennit-5:duplicated-sensors']);
  });

  test('of another kind than wanted: the message names its kind', () => {
    expect(() => resolved(desk, 'tarn', ['Device'])).toThrow('No device "tarn" is in the archive');
    expect(() => resolved(desk, 'quistle/QWR4T10', ['Component'])).toThrow('that is the id of a part');
    expect(() => resolved(desk, 'U3', ['Component'])).toThrow('ids look like "tarn-sennit-3/a/U3"');
  });

  test.each<[string, (view: State) => unknown, string]>([
    ['audit', (view) => auditClaims(view, 'bench-leter-31'), 'bench-letter-31'],
    ['next', (view) => nextObservationsUnder(view, 'tarn-senit-3'), 'tarn-sennit-3'],
    ['next, a component', (view) => nextObservationsUnder(view, 'tarn-sennit-3/a/u3'), 'tarn-sennit-3/a/U3'],
    ['impact', (view) => impactOf(view, 'quistle/qn4t10'), 'quistle/QWR4T10'],
    ['candidates', (view) => candidatesOf(view, 'tarn-senit-3/a/U3'), 'tarn-sennit-3/a/U3'],
    [
      'trend of a pattern',
      (view) => deviceWeights(view, { pattern: 'duplicate-sensors' }),
      'duplicated-sensors',
    ],
    [
      'trend of a decision',
      (view) => deviceWeights(view, { decision: 'duplicate-sensors' }),
      'duplicated-sensors',
    ],
    ['trend of a maker', (view) => deviceWeights(view, { maker: 'quisle' }), 'quistle'],
    ['trend of a part', (view) => deviceWeights(view, { part: 'quistle/QWR4T1O' }), 'quistle/QWR4T10'],
    ['filter by maker', async (view) => devicesWhere(view, { makers: ['trn'] }), 'tarn'],
    [
      'filter by product line',
      async (view) => devicesWhere(view, { productLines: ['tarn-senit'] }),
      'tarn-sennit',
    ],
  ])('%s names what is near', async (_, ask, near) => {
    await expect(ask(desk)).rejects.toMatchObject({
      code: 'NOT_FOUND',
      message: expect.stringContaining(`"${near}"`),
    });
  });
});
