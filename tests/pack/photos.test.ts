import { beforeAll, expect, test, vi } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { keptFile } from '../../src/photos/kept.ts';
import { contentsOfPack } from '../../src/questions/packs.ts';
import { PACK_PAGES } from '../../src/service/pages/pack-preview.ts';
import { demoWithPhotos } from '../photos/demo-photos.ts';
import type { MemoryPhotos } from '../photos/memory-store.ts';
import { sha256Of } from '../photos/pictures.ts';
import { packAt } from './packs.ts';

const AT = '2026-11-30T09:00:00.000Z';
const PUBLICATION = 'two-ends-of-a-board';
let archive: Archive;
let store: MemoryPhotos;
beforeAll(async () => {
  ({ archive, store } = await demoWithPhotos());
});

const wishes = () => ({ state: { instant: AT, name: null }, pages: PACK_PAGES, photos: archive.photos });

test('what a pack would hold is told without reading a photo, and is what the pack then holds', async () => {
  const view = archive.state('reader');
  const read = vi.spyOn(store, 'get');
  const { files, photos } = await contentsOfPack(view, PUBLICATION, wishes());
  expect(read).not.toHaveBeenCalled();
  expect(photos.length).toBeGreaterThan(0);
  const pack = await packAt(view, PUBLICATION, AT, { photos: archive.photos });
  expect(read).toHaveBeenCalledTimes(photos.length);
  read.mockRestore();
  const made = new Map(pack.files.map((file) => [file.path, file]));
  for (const { path } of files) expect(made.has(path), path).toBe(true);
  for (const { id, photo, file } of photos) {
    const path = `photos/${id.replaceAll('/', '.')}.webp`;
    expect(made.get(path)?.credit).toBe(photo.credit);
    // What is handed on, as the archive has recorded its digest.
    expect(sha256Of(made.get(path)?.content as Uint8Array)).toBe(file?.served.sha256);
  }
});

test('a photo whose file is gone or altered is left out with the reason', async () => {
  const view = archive.state('reader');
  const { photos } = await contentsOfPack(view, PUBLICATION, wishes());
  const [{ id, photo }] = photos;
  const row = view.specimenRow(id.slice(0, id.lastIndexOf('/')));
  const { sha256 } = (row && keptFile(row, photo.sha256)) as { sha256: string };
  const content = store.files.get(sha256) as Uint8Array;
  store.files.delete(sha256);
  const gone = await contentsOfPack(view, PUBLICATION, wishes());
  expect(gone.leftOut).toContainEqual(
    expect.objectContaining({ id, why: expect.stringMatching(/missing/u) }),
  );
  const altered = Buffer.from(content);
  altered[altered.length >> 1] ^= 1;
  store.files.set(sha256, altered);
  const { contents, files } = await packAt(view, PUBLICATION, AT, { photos: archive.photos });
  expect(contents.leftOut).toContainEqual(expect.objectContaining({ id }));
  expect(files.map(({ path }) => path)).not.toContain(`photos/${id.replaceAll('/', '.')}.webp`);
  store.files.set(sha256, content);
});
