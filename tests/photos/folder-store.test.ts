import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { FolderPhotos } from '../../src/photos/folder-store.ts';
import { sha256Of } from './pictures.ts';
import { listed, photoStoreContract } from './store-contract.ts';

const folder = mkdtempSync(join(tmpdir(), 'caseback-photos-'));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

photoStoreContract('in a folder', async () => ({
  open: () => new FolderPhotos(join(folder, 'photos')),
  damage: async (sha256) => {
    const file = join(folder, 'photos', sha256.slice(0, 2), sha256);
    const content = readFileSync(file);
    content[7] ^= 0xff;
    writeFileSync(file, content);
  },
  remove: async () => rmSync(folder, { recursive: true, force: true }),
}));

test('what a stopped process left unfinished is no photo', async () => {
  const store = new FolderPhotos(join(folder, 'photos'));
  const content = Buffer.from('one');
  await store.put(sha256Of(content), content);
  writeFileSync(join(folder, 'photos', sha256Of(content).slice(0, 2), `${'a'.repeat(64)}.1-x.part`), 'half');
  expect(await listed(store)).toEqual([sha256Of(content)]);
});

test('a place that cannot be written says so, and nothing is half there', async () => {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'photos'), 'a file is in the way');
  const content = Buffer.from('one');
  await expect(
    new FolderPhotos(join(folder, 'photos')).put(sha256Of(content), content),
  ).rejects.toMatchObject({
    code: 'UNAVAILABLE',
  });
  expect(readdirSync(folder)).toEqual(['photos']);
});
