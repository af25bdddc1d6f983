import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { caseback, Folder, headOf } from './running.ts';

// The demo archive goes in, comes out as files, and goes in again.

const SEED = join(import.meta.dirname, '../../seed-data');
const folder = new Folder();
const run = (...args: string[]) => caseback(args, { cwd: folder.path });

beforeAll(async () => {
  const { code, err } = await run('import', SEED, '--data', 'first', '--actor', 'test', '--reason', 'demo');
  expect(err).toMatch(
    /^From now on [^\n]*\n\d+ dossiers and \d+ catalogue records written; 105 photos kept\nThis begins an archive of your own in first\n$/u,
  );
  expect(code).toBe(0);
});
afterAll(() => folder.remove());

/** All files under a folder: path to content. */
function filesIn(path: string): Map<string, string> {
  const names = readdirSync(join(folder.path, path), { recursive: true, encoding: 'utf8' });
  return new Map(
    names
      .filter((name) => /\.(?:yaml|json)$/u.test(name))
      .sort()
      .map((name) => [name, readFileSync(join(folder.path, path, name), 'utf8')]),
  );
}

test.each(['yaml', 'json'])('importing what was exported as %s writes no entry', async (format) => {
  expect((await run('export', '--data', 'first', '--out', format, '--format', format)).code).toBe(0);
  const before = await headOf(join(folder.path, 'first'));
  const { code, err } = await run('import', format, '--data', 'first');
  expect(err).toBe('The archive already has all of it; nothing was written\n');
  expect(code).toBe(0);
  expect(await headOf(join(folder.path, 'first'))).toEqual(before);
});

test('an archive made from an export exports the same files', async () => {
  expect((await run('import', 'json', '--data', 'second')).code).toBe(0);
  await run('export', '--data', 'second', '--out', 'twice');
  const [once, twice] = [filesIn('yaml'), filesIn('twice')];
  expect([...twice.keys()]).toEqual([...once.keys()]);
  expect(once.size).toBeGreaterThan(36);
  for (const [name, text] of once) if (name.startsWith('dossiers')) expect(twice.get(name)).toBe(text);
});

test('one specimen goes to standard output as the file that import reads', async () => {
  const [id] = [...filesIn('yaml').keys()].filter((name) => name.startsWith('dossiers'));
  const specimen = id.replace(/^dossiers.|\.yaml$/gu, '').replace('.', '/');
  const { code, out } = await run('export', specimen, '--data', 'first');
  expect(code).toBe(0);
  expect(out).toBe(filesIn('yaml').get(id));
});

test('an export needs an empty folder, and accepts only ids of the archive', async () => {
  const full = await run('export', '--data', 'first', '--out', 'yaml');
  expect(full.err).toContain('yaml is not empty');
  expect(full.code).toBe(2);
  const [name] = [...filesIn('yaml').keys()].filter((file) => file.startsWith('dossiers'));
  const device = name.replace(/^dossiers.|\..*$/gu, '');
  const unknown = await run('export', `${device}x`, '--data', 'first');
  expect(unknown.err).toContain(`did you mean "${device}"`);
  expect(unknown.code).toBe(1);
});

test('a reader’s export leaves out drafts and what is under embargo', async () => {
  await run('export', '--data', 'first', '--out', 'reader', '--audience', 'reader');
  const hidden = [...filesIn('yaml')].filter(([name]) => !filesIn('reader').has(name));
  expect(hidden.length).toBeGreaterThanOrEqual(2);
  for (const [, text] of hidden) expect(text).toMatch(/^visibility: (?:draft|embargoed)$/mu);
});

test('a dry run says what it would write and writes nothing', async () => {
  const { code, err, out } = await run('import', SEED, '--data', 'third', '--dry-run', '--format', 'json');
  expect(code).toBe(0);
  expect(err).toMatch(
    /would be written; 105 photos would be kept\nThis would begin an archive of your own in third\n$/u,
  );
  const report = JSON.parse(out) as { dossiers: number; written: boolean };
  expect(report).toMatchObject({ dossiers: filesIn('yaml').size - 1, written: false });
  expect(readdirSync(folder.path)).not.toContain('third');
});
