import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { FOLDERS } from '../../src/snapshot/model-digest.ts';

/** What starts a thread decides nothing of what is derived. */
const LEFT_OUT = ['threads'];

test('what the code of a snapshot is made of may import nothing that its digest leaves out', () => {
  const layout = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const mayImport = new Map(
    [...layout.matchAll(/^\| `src\/([\w-]+)\/` \|.*\| ([^|]+) \|$/gmu)].map(([, folder, named]) => [
      `src/${folder}`,
      named === 'nothing' ? [] : named.split(', '),
    ]),
  );
  const held = FOLDERS.filter((folder) => folder.startsWith('src/'));
  expect(held.filter((folder) => !mayImport.has(folder))).toEqual([]);
  const needed = held.flatMap((folder) => mayImport.get(folder) ?? []);
  expect(needed.length).toBeGreaterThan(30);
  const known: readonly string[] = [...held, ...LEFT_OUT.map((one) => `src/${one}`)];
  expect([...new Set(needed)].filter((one) => !known.includes(`src/${one}`))).toEqual([]);
});
