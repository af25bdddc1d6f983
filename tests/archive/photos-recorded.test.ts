import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { Photo } from '../../src/model/dossier.ts';
import { CATALOGUE, dossier } from '../service/invented.ts';
import { BY, documentOf } from '../service/serving.ts';

// What was recorded of photos by themselves, and dossiers that are filed again.

const ID = 'tarn-sennit-8/a';
const shot = (id: string, more: Partial<Photo> = {}): Photo => ({
  id,
  sha256: `${id.length}`.repeat(3).padEnd(64, 'c'),
  credit: 'A. Example',
  licence: 'CC0-1.0',
  regions: [],
  ...more,
});
const POINTS: Photo['points'] = [
  { at: [10, 90], mm: [0, 0] },
  { at: [90, 10], mm: [30, 20] },
];

const OWN = dossier({ id: 'tarn-sennit-8', name: 'Tarn Sennit 8', released: '2022' });
const filed = (photos: readonly Photo[], note = 'First.') =>
  documentOf({ ...OWN, photos: [...(OWN.photos ?? []), ...photos], note });

async function opened(photos: readonly Photo[]) {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(
    [documentOf({ ...CATALOGUE, publications: [], patterns: [] }), filed(photos)],
    BY,
  );
  return archive;
}
const photosOf = (archive: Archive) =>
  (archive.state('desk').specimen(ID)?.dossier.photos ?? []).filter(({ id }) => id !== 'p1');
const journalOf = async (archive: Archive) => archive.version;

test('points stay when a file comes again that says of the photo what it said before', async () => {
  const archive = await opened([shot('top')]);
  await archive.changePhoto(`${ID}/top`, { points: POINTS }, BY, 'desk');
  await archive.importDocuments([filed([shot('top')], 'Second.')], BY);
  expect(photosOf(archive)).toEqual([shot('top', { points: POINTS })]);
  const version = await journalOf(archive);
  // The very file that was filed last writes nothing.
  await archive.importDocuments([filed([shot('top')], 'Second.')], BY);
  expect(await journalOf(archive)).toBe(version);
  expect(photosOf(archive)[0].points).toEqual(POINTS);
});

test('what a file says anew counts, and a later record counts again', async () => {
  const archive = await opened([shot('top')]);
  await archive.changePhoto(`${ID}/top`, { points: POINTS, caption: 'Mine.' }, BY, 'desk');
  await archive.importDocuments([filed([shot('top', { caption: 'Theirs.' })])], BY);
  expect(photosOf(archive)).toEqual([shot('top', { caption: 'Theirs.' })]);
  await archive.changePhoto(`${ID}/top`, { caption: 'Both.' }, BY, 'desk');
  expect(photosOf(archive)[0].caption).toBe('Both.');
});

test('a photo that was added stays beside a file that does not know of it, and what it shows may not go', async () => {
  const archive = await opened([]);
  await archive.addPhoto(ID, shot('bench', { regions: [{ of: 'U1', xywh: [10, 10, 20, 20] }] }), BY, 'desk');
  await archive.importDocuments([filed([shot('top')], 'Second.')], BY);
  expect(photosOf(archive).map(({ id }) => id)).toEqual(['top', 'bench']);
  const { components, ...rest } = OWN;
  const without = documentOf({
    ...rest,
    components: components?.filter(({ id }) => id !== 'U1'),
    connections: [],
    observations: [],
    identifications: [],
    photos: [],
  });
  await expect(archive.importDocuments([without], BY)).rejects.toMatchObject({
    code: 'CONFLICT',
    problems: expect.arrayContaining([
      expect.objectContaining({ what: expect.stringContaining('the photo "bench"') }),
    ]),
  });
});

test('an export that comes back writes nothing', async () => {
  const archive = await opened([shot('top')]);
  await archive.changePhoto(`${ID}/top`, { points: POINTS }, BY, 'desk');
  const now = archive.state('desk').specimen(ID)?.dossier;
  const version = await journalOf(archive);
  await archive.importDocuments(
    [{ kind: 'dossier', file: 'export', dossier: now as never, locate: () => ({ line: 1, column: 1 }) }],
    BY,
  );
  expect(await journalOf(archive)).toBe(version);
});

test('empty lists take points and regions away, what is left out stays, and nothing to change is refused', async () => {
  const archive = await opened([
    shot('top', { points: POINTS, regions: [{ of: 'U1', xywh: [10, 10, 20, 20] }] }),
  ]);
  await archive.changePhoto(`${ID}/top`, { points: [] }, BY, 'desk');
  expect(photosOf(archive)[0].points).toBeUndefined();
  expect(photosOf(archive)[0].regions).toHaveLength(1);
  await archive.changePhoto(`${ID}/top`, { regions: [] }, BY, 'desk');
  expect(photosOf(archive)[0].regions).toEqual([]);
  await expect(archive.changePhoto(`${ID}/top`, { regions: [] }, BY, 'desk')).rejects.toMatchObject({
    code: 'BAD_INPUT',
  });
});

test('a draft that is filed since keeps what readers see of a photo as it was', async () => {
  const archive = await opened([shot('top')]);
  await archive.importDocuments(
    [
      documentOf({
        ...OWN,
        photos: [...(OWN.photos ?? []), shot('top')],
        visibility: 'draft',
      }),
    ],
    BY,
  );
  await archive.changePhoto(`${ID}/top`, { caption: 'For the next issue.' }, BY, 'desk');
  expect(photosOf(archive)[0].caption).toBe('For the next issue.');
  expect(
    archive
      .state('reader')
      .specimen(ID)
      ?.dossier.photos.find(({ id }) => id === 'top'),
  ).toEqual(shot('top'));
});
