import {
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { seededRandom } from '../bench/generate.ts';
import { blocks, pictureOf, sha256Of } from '../photos/pictures.ts';
import { testSeed } from '../random.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder({ 'catalogue.yaml': CATALOGUE });
const at = (...names: string[]) => join(folder.path, ...names);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const picture = await pictureOf('jpeg', { orientation: 6 });

/** A dossier with a photo. */
const band = (more: string) =>
  dossier(
    1,
    `photos:\n  - { id: top, ${more}, credit: A. Example, licence: CC-BY-4.0, board: main, side: top }\n`,
  );

beforeEach(() => {
  for (const name of ['data', 'other', 'photos', 'band-1.yaml', 'copy.gz'])
    rmSync(at(name), { recursive: true, force: true });
  mkdirSync(at('photos'));
  writeFileSync(at('photos', 'top.jpg'), picture);
  writeFileSync(at('band-1.yaml'), band(`sha256: ${sha256Of(picture)}, file: photos/top.jpg`));
});
afterAll(() => folder.remove());

const stored = () => {
  const [beginning] = readdirSync(at('data', 'photos'));
  const [name] = readdirSync(at('data', 'photos', beginning));
  return at('data', 'photos', beginning, name);
};

describe('files of photos', () => {
  test('come in with their dossier, once, as they are', async () => {
    const first = await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
    expect(first.err).toContain('; 1 photo kept');
    expect(readFileSync(stored()).equals(picture)).toBe(true);
    const again = await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
    expect(again.err).toContain('nothing was written');
    const { out } = await run(
      'ask',
      '--query',
      '{ node(id: "ferrule-band-1/a/top") { ... on Photo { picture { widthPx heightPx bytes } } } }',
    );
    expect(JSON.parse(out).data.node.picture).toEqual({ widthPx: 200, heightPx: 320, bytes: picture.length });
    expect((await run('history', 'ferrule-band-1/a/top')).out).toContain('photo-kept ferrule-band-1/a/top');
  });

  test('that come later than their dossier are kept then', async () => {
    rmSync(at('photos'), { recursive: true });
    writeFileSync(at('band-1.yaml'), band(`sha256: ${sha256Of(picture)}`));
    expect((await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened')).err).not.toContain(
      'photo',
    );
    mkdirSync(at('photos'));
    writeFileSync(at('photos', 'top.jpg'), picture);
    writeFileSync(at('band-1.yaml'), band(`sha256: ${sha256Of(picture)}, file: photos/top.jpg`));
    expect((await run('import', 'band-1.yaml', '--reason', 'copied')).err).toContain('1 photo kept');
  });

  test('that are wrong are named at their lines, and nothing is written', async () => {
    const bomb = await sharp(blocks(20, 20), { raw: { width: 20, height: 20, channels: 3 } })
      .png()
      .toBuffer();
    bomb.writeUInt32BE(60_000, 16);
    const secret = at('..', 'caseback-secret.jpg');
    writeFileSync(secret, picture);
    symlinkSync(secret, at('photos', 'link.jpg'));
    writeFileSync(at('photos', 'drawing.jpg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
    writeFileSync(at('photos', 'cut.jpg'), picture.subarray(0, 5_000));
    writeFileSync(at('photos', 'bomb.png'), bomb);
    const digest = (name: string) => sha256Of(readFileSync(at('photos', name)));
    const cases: readonly (readonly [more: string, says: RegExp])[] = [
      [
        `sha256: ${'1b'.repeat(32)}, file: photos/top.jpg`,
        /sha256: photo "top": photos\/top\.jpg is another file, with the digest [0-9a-f]{64}/u,
      ],
      [
        `sha256: ${sha256Of(picture)}, file: photos/gone.jpg`,
        /file: photo "top": there is no file photos\/gone\.jpg beside the dossier/u,
      ],
      [`sha256: ${'0'.repeat(64)}, file: photos/top.jpg`, /which no file has/u],
      [
        `sha256: ${sha256Of(picture)}, file: ../caseback-secret.jpg`,
        /is no name of a file beside the dossier/u,
      ],
      [`sha256: ${sha256Of(picture)}, file: photos/link.jpg`, /leads out of the folder/u],
      [
        `sha256: ${digest('drawing.jpg')}, file: photos/drawing.jpg`,
        /an SVG drawing or another text; photos are|an SVG drawing/u,
      ],
      [`sha256: ${digest('cut.jpg')}, file: photos/cut.jpg`, /cut off|cannot be read/u],
      [`sha256: ${digest('bomb.png')}, file: photos/bomb.png`, /cannot be read|megapixels|damaged/u],
      [`sha256: ${sha256Of(picture)}, file: photos`, /is no file/u],
    ];
    for (const [more, says] of cases) {
      writeFileSync(at('band-1.yaml'), band(more));
      const checked = await run('check', 'catalogue.yaml', 'band-1.yaml');
      expect(checked.out, more).toMatch(says);
      expect(checked.out, more).toMatch(/^band-1\.yaml:\d+:\d+ photos\[0\]/mu);
      expect(checked.code, more).toBe(1);
      const imported = await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
      expect(imported.code, more).not.toBe(0);
      expect(readdirSync(folder.path), more).not.toContain('data');
    }
    rmSync(secret);
  });

  test('are verified, backed up and restored, and a flipped byte anywhere is found', async () => {
    await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
    expect((await run('verify')).out).toContain('1 photo, each with the digest on record');
    expect((await run('backup', 'copy.gz')).out).toContain('1 photo');
    const restored = await run('restore', 'copy.gz', '--data', 'other');
    expect(restored.out).toContain('1 photo');
    expect((await run('verify', '--data', 'other')).code).toBe(0);
    const random = seededRandom(testSeed());
    for (let i = 0; i < 20; i++) {
      const altered = Buffer.from(picture);
      altered[Math.floor(random() * altered.length)] ^= 1 << Math.floor(random() * 8);
      writeFileSync(stored(), altered);
      const found = await run('verify');
      expect(found.code).toBe(3);
      expect(found.out).toContain('the file of top of ferrule-band-1/a has been altered');
    }
    expect((await run('doctor')).out).toContain('WRONG   photos');
    const without = await run('backup', at('data', 'without.gz'));
    expect(without.err).toContain(
      'the file of top of ferrule-band-1/a is missing or altered, and is not in the backup',
    );
    // The file comes in again beside its dossier.
    await run('import', 'band-1.yaml', '--reason', 'copied again');
    expect((await run('verify')).code).toBe(0);
    const file = stored();
    copyFileSync(file, at('data', 'kept'));
    rmSync(file);
    const missing = await run('verify');
    expect([missing.code, missing.out]).toEqual([3, expect.stringContaining('is missing')]);
  });

  test('of an import that was refused are not in the archive, and a backup that is not whole leaves none', async () => {
    await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
    await run('backup', 'copy.gz');
    const { gunzipSync, gzipSync } = await import('node:zlib');
    const lines = gunzipSync(readFileSync(at('copy.gz')))
      .toString()
      .split('\n');
    const photo = lines.findIndex((line) => line.startsWith('{"photo"'));
    const letters = lines[photo].replace(
      /"content":"(.)/u,
      (_all, letter) => `"content":"${letter === 'A' ? 'B' : 'A'}`,
    );
    writeFileSync(at('copy.gz'), gzipSync(lines.with(photo, letters).join('\n')));
    const restored = await run('restore', 'copy.gz', '--data', 'other');
    expect(restored.code).not.toBe(0);
    expect(restored.err).toContain('does not match its digest');
    expect(readdirSync(folder.path)).not.toContain('other');
  });
});
