import { globSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { seededRandom } from '../bench/generate.ts';
import { writeManyPhotos } from '../photos/many-photos.ts';
import { testSeed } from '../random.ts';
import { caseback, Folder } from './running.ts';

// As many as a run has time for; the benchmark (tests/bench/photos.ts) does the same with 10,000.

const COUNT = 200;
const FLIPPED = 20;
const folder = new Folder({});
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
afterAll(() => folder.remove());

test('an archive with many photos imports, verifies, backs up and restores, and a flipped byte in any is found', async () => {
  const names = await writeManyPhotos(folder.path, COUNT);
  const imported = await run('import', 'catalogue.yaml', ...names, '--reason', 'opened');
  expect(imported.err).toContain(`; ${COUNT} photos kept`);
  expect((await run('verify')).code).toBe(0);
  expect((await run('backup', 'copy.gz')).code).toBe(0);
  rmSync(join(folder.path, 'data'), { recursive: true });
  expect((await run('restore', 'copy.gz')).code).toBe(0);
  expect((await run('verify')).out).toMatch(new RegExp(`${COUNT} photos?`, 'u'));
  const files = globSync('data/photos/*/*', { cwd: folder.path }).sort();
  expect(files).toHaveLength(COUNT);
  const random = seededRandom(testSeed());
  const whole = new Map<string, Buffer>();
  while (whole.size < FLIPPED) {
    const path = join(folder.path, files[Math.floor(random() * files.length)]);
    if (whole.has(path)) continue;
    const content = readFileSync(path);
    const altered = Buffer.from(content);
    altered[Math.floor(random() * content.length)] ^= 1 << Math.floor(random() * 8);
    writeFileSync(path, altered);
    whole.set(path, content);
  }
  const { code, out, err } = await run('verify');
  expect(code).not.toBe(0);
  for (const path of whole.keys()) expect(out + err).toContain(path.slice(-64));
  expect((out + err).match(/has been altered/gu)).toHaveLength(FLIPPED);
  for (const [path, content] of whole) writeFileSync(path, content);
  expect((await run('verify')).code).toBe(0);
  const page = await run(
    'ask',
    '--query',
    '{ specimen(id: "quoin-disc-3/a") { photos { id picture { widthPx } } } }',
  );
  expect(JSON.parse(page.out).data.specimen.photos).toHaveLength(50);
});
