import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { Renditions } from '../../src/photos/renditions.ts';
import { MemoryPhotos } from './memory-store.ts';
import { pictureOf } from './pictures.ts';

const folder = mkdtempSync(join(tmpdir(), 'caseback-renditions-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('whatever is removed of what follows from a photo is made again, and of a photo that is gone there is nothing', async () => {
  const { file, content } = await inspectPhoto(
    await pictureOf('jpeg', { width: 900, height: 700, orientation: 6 }),
  );
  const store = new MemoryPhotos();
  await store.put(file.sha256, content);
  const renditions = new Renditions(folder, store);
  const names = ['max', '249,320', '0,0,512,512/512,512', 'full/350,450'];
  const made = () => Promise.all(names.map((name) => renditions.get(file, name)));
  const first = await made();
  expect(first).not.toContain(undefined);
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((one) =>
    /\.\w+$/u.test(one),
  )) {
    rmSync(join(folder, name));
    expect(
      (await made()).map((one) => one?.length),
      name,
    ).toEqual(first.map((one) => one?.length));
  }
  rmSync(folder, { recursive: true });
  await store.remove(file.sha256);
  expect(await made()).toEqual(names.map(() => undefined));
});
