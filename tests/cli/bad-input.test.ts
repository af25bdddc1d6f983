import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { dossier, FILES } from './invented.ts';
import { caseback, Folder, headOf } from './running.ts';

// What editors and programs get wrong, through the real command line: each time a clear message with the place, a
// non-zero exit code, and a journal whose last hash is what it was.

const folder = new Folder(FILES);
const data = join(folder.path, 'data');
let before: Awaited<ReturnType<typeof headOf>>;

beforeAll(async () => {
  const { code } = await caseback(['import', 'catalogue.yaml', 'band-1.yaml', '--data', data], {
    cwd: folder.path,
  });
  expect(code).toBe(0);
  before = await headOf(data);
  expect(before.sequence).toBe(6);
});
afterAll(() => folder.remove());

/** Ten lists, each of ten of the one before: ten thousand million items when written out. */
const ALIAS_BOMB = `caseback: dossier/1\nl0: &l0 [x, x, x, x, x, x, x, x, x, x]\n${Array.from(
  { length: 9 },
  (_, i) => `l${i + 1}: &l${i + 1} [${Array.from({ length: 10 }, () => `*l${i}`).join(', ')}]`,
).join('\n')}\n`;
const good = dossier(2);
const bytes = (text: string, encoding: BufferEncoding) => Buffer.from(text, encoding);

test.each<[what: string, content: string | Uint8Array, message: RegExp]>([
  ['malformed YAML', `${good}photos: [\n`, /bad\.yaml:\d+:\d+.*/u],
  ['a bad indent', good.replace('  name:', '     name:'), /bad\.yaml:3:\d+/u],
  ['malformed JSON', '{"caseback": "dossier/1",', /bad\.yaml:1:\d+/u],
  ['a file of 50 MB', new Uint8Array(50_000_000).fill(0x61), /bad\.yaml: is 47\.7 MiB large; at most/u],
  ['an alias bomb', ALIAS_BOMB, /bad\.yaml:\d+:\d+.*alias/u],
  ['UTF-16 with a byte-order mark', bytes(`\ufeff${good}`, 'utf16le'), /bad\.yaml: is in UTF-16/u],
  ['UTF-16 without one', bytes(good, 'utf16le'), /bad\.yaml:1: holds a NUL.*save it as UTF-8/u],
  [
    'Latin-1',
    bytes(good.replace('A. Example', 'Ä. Example'), 'latin1'),
    /bad\.yaml:13: holds bytes that are no UTF-8/u,
  ],
  [
    'a duplicate key',
    good.replace('  bodySite: wrist', '  bodySite: wrist\n  bodySite: ear'),
    /bad\.yaml:9:\d+/u,
  ],
  ['an unknown field', good.replace('bodySite:', 'bodySit:'), /bad\.yaml:8:\d+ .*did you mean "bodySite"\?/u],
  [
    'an unknown id',
    good.replace('ombrous/OM100', 'ombrous/OM101'),
    /bad\.yaml:\d+:\d+ .*did you mean "ombrous\/OM100"/u,
  ],
  ['an empty file', '', /bad\.yaml/u],
  ['no file of ours', 'version: 2\n', /bad\.yaml:1:1.*does not say what it is/u],
])('%s', async (_, content, message) => {
  folder.write('incoming/bad.yaml', content);
  // A good file beside the bad one must not get in either.
  folder.write(
    'incoming/good.yaml',
    dossier(3).replace('succeeds: [ferrule-band-2]', 'succeeds: [ferrule-band-1]'),
  );
  const { code, out, err } = await caseback(['import', 'incoming', '--data', data], { cwd: folder.path });
  expect(err).toMatch(message);
  expect(err).toContain('nothing was written');
  expect(err).not.toMatch(/^\s+at /mu);
  expect(out).toBe('');
  expect(code).toBe(1);
  expect(await headOf(data)).toEqual(before);
});

test('a file that is not there, and a folder with nothing to read', async () => {
  folder.write('empty/notes.txt', 'nothing');
  const { code, err } = await caseback(['import', 'gone.yaml', 'empty', '--data', data], {
    cwd: folder.path,
  });
  expect(err).toContain('gone.yaml: does not exist');
  expect(err).toContain('empty: holds no .yaml');
  expect(code).toBe(1);
  expect(await headOf(data)).toEqual(before);
});

test('every problem of every file is told at once, as JSON where asked', async () => {
  folder.write(
    'two/a.yaml',
    good.replace('bodySite: wrist', 'bodySite: knee').replace('mass: 22 g', 'mass: 22 V'),
  );
  folder.write('two/b.yaml', dossier(3).replace('kind: rigid', 'kind: stiff'));
  const { code, out } = await caseback(['import', 'two', '--format', 'json', '--data', data], {
    cwd: folder.path,
  });
  const problems = JSON.parse(out) as { file: string; line: number; path: string }[];
  expect(problems.map(({ file, line, path }) => [file, line, path])).toEqual([
    [join('two', 'a.yaml'), 8, 'device.bodySite'],
    [join('two', 'a.yaml'), 9, 'device.mass'],
    [join('two', 'b.yaml'), 15, 'boards[0].kind'],
  ]);
  expect(code).toBe(1);
});

test('a data folder that is damaged or no folder ends with code 3', async () => {
  folder.write(
    'broken/journal.sqlite',
    'this is no database, though long enough to have been one'.repeat(100),
  );
  const broken = await caseback(['verify', '--data', 'broken'], { cwd: folder.path });
  expect(broken.err).toContain('is damaged or no database');
  expect(broken.code).toBe(3);
  const file = await caseback(['import', 'band-2.yaml', '--data', 'catalogue.yaml'], { cwd: folder.path });
  expect(file.err).toContain('cannot be written');
  expect(file.code).toBe(3);
});
