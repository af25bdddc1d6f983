import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { FolderPhotos } from '../../src/photos/folder-store.ts';
import { sha256Of } from './pictures.ts';

const folder = mkdtempSync(join(tmpdir(), 'caseback-photos-'));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const all = async (store: FolderPhotos) => {
  const found: string[] = [];
  for await (const one of store.list()) found.push(one);
  return found;
};

test('a file is kept under its digest, once, and nothing else is read', async () => {
  const store = new FolderPhotos(join(folder, 'photos'));
  expect(await all(store)).toEqual([]);
  const contents = ['one', 'other'].map((text) => Buffer.from(text));
  for (const content of [...contents, ...contents]) await store.put(sha256Of(content), content);
  expect(await all(store)).toEqual(contents.map(sha256Of).sort());
  for (const content of contents) {
    expect(await store.has(sha256Of(content))).toBe(true);
    expect(Buffer.from((await store.get(sha256Of(content))) ?? '').equals(content)).toBe(true);
  }
  expect(await store.get('0'.repeat(64))).toBeUndefined();
  await expect(store.get('../../etc/passwd')).rejects.toThrow('no digest');
  // What a stopped process left unfinished is no photo.
  writeFileSync(
    join(folder, 'photos', sha256Of(contents[0]).slice(0, 2), `${'a'.repeat(64)}.1-x.part`),
    'half',
  );
  expect(await all(store)).toHaveLength(2);
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
