import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { areAlike } from '../../src/photos/likeness.ts';
import { documents } from './seed.ts';

/** All photos together, bytes: a clone has them. */
const MOST = 1_500_000;

test('every photo of the demo is there, small, and the one on record; no two are copies of one another', async () => {
  const likenesses: string[] = [];
  let bytes = 0;
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    for (const { id, file = '', sha256, points = [], board, side } of document.dossier.photos) {
      const content = readFileSync(join(dirname(document.file), file));
      const inspected = await inspectPhoto(content);
      expect(inspected.file.sha256, `${document.file} ${id}`).toBe(sha256);
      expect(points.length).toBe(4);
      expect([board, side]).not.toContain(undefined);
      likenesses.push(inspected.file.likeness);
      bytes += content.length;
    }
  }
  expect(likenesses.length).toBe(105);
  expect(bytes).toBeLessThan(MOST);
  const alike = likenesses.flatMap((one, i) =>
    likenesses.slice(i + 1).filter((other) => areAlike(one, other)),
  );
  expect(alike).toEqual([]);
});
