import type { ChildProcess } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { FILES } from './invented.ts';
import { addressOf, ended, Folder, headOf, runProgram, startProgram } from './running.ts';

// A newcomer's day in a copy of the project, as processes: nothing of it is told to the program but by its place.

const ROOT = join(import.meta.dirname, '../..');
const clone = new Folder();
const bench = new Folder(FILES);

beforeAll(() => {
  for (const name of ['src', 'schema', 'seed-data', 'package.json'])
    cpSync(join(ROOT, name), join(clone.path, name), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(clone.path, 'node_modules'));
});
afterAll(() => {
  clone.remove();
  bench.remove();
});

/** A command from the folder in which the files of the bench lie. */
const caseback = (...args: string[]) => runProgram(clone.path, args, bench.path);
const data = (name = '') => join(clone.path, 'data', name);
const demo = (name = '') => join(clone.path, 'demo-data', name);

interface Served {
  readonly devices: readonly string[];
  readonly patterns: number;
  readonly said: string;
}

/** What a start of the service serves, and what it says. */
async function served(...args: string[]): Promise<Served> {
  const child = startProgram(clone.path, ['serve', '--port', '0', ...args], clone.path);
  const end = ended(child);
  const address = await addressOf(child);
  const query = '{ devices(first: 100) { nodes { id } } patterns { totalCount } }';
  const answer = await fetch(`${address}/graphql?query=${encodeURIComponent(query)}`);
  const { data: found } = (await answer.json()) as {
    data: { devices: { nodes: { id: string }[] }; patterns: { totalCount: number } };
  };
  await stop(child);
  const { out, err } = await end;
  return {
    devices: found.devices.nodes.map(({ id }) => id),
    patterns: found.patterns.totalCount,
    said: out + err,
  };
}

async function stop(child: ChildProcess): Promise<void> {
  child.kill('SIGTERM');
}

const LIBRARY = readdirSync(join(ROOT, 'seed-data/patterns')).length;

describe('a newcomer’s day', () => {
  test('before the first start a question says how to begin, and leaves nothing behind', async () => {
    const { code, err, out } = await caseback('components', 'tarn-sennit-3');
    expect(err).toMatch(
      /there is no archive yet; "npm start" makes the invented demo archive, "caseback create-archive"/u,
    );
    expect([code, out]).toEqual([1, '']);
    expect([existsSync(data()), existsSync(demo()), existsSync(join(bench.path, 'data'))]).toEqual([
      false,
      false,
      false,
    ]);
  });

  test('the first start makes the demo in a folder of its own, and says so', async () => {
    const { devices, patterns, said } = await served();
    expect(devices).toContain('tarn-sennit-3');
    expect(patterns).toBe(LIBRARY);
    expect(said).toContain(`Caseback serves the invented demo archive, ${demo().replace(/\/$/u, '')}`);
    expect(said).toContain(
      'Your own archive: the first import, or "npm run caseback -- create-archive", makes it in',
    );
    expect(existsSync(demo('journal.sqlite'))).toBe(true);
    expect(existsSync(data())).toBe(false);
  });

  test('where the folder that is served is named and has the demo, one’s own is not said to be made in it', async () => {
    const { said } = await served('--data', demo());
    expect(said).toContain('create-archive --data FOLDER" makes it in a folder of its own');
    expect(said).not.toContain('start again, and it is served');
  });

  test('commands ask the demo and say so beside the answer', async () => {
    const { code, err, out } = await caseback('components', 'tarn-sennit-3', '--format', 'json');
    expect(code).toBe(0);
    expect(JSON.parse(out).length).toBeGreaterThan(5);
    expect(err.split('\n')[0]).toMatch(
      /^The invented demo archive, .*; an import or "caseback create-archive" begins your own$/u,
    );
    expect((await caseback('components', 'tarn-sennit-3', '--demo')).err).not.toContain('begins your own');
  });

  test('files are checked against one’s own archive, not the demo', async () => {
    bench.write('borrowed.yaml', FILES['band-1.yaml'].replace('ombrous/OM100', 'quistle/QWR4T10'));
    const { code, out, err } = await caseback('check', 'catalogue.yaml', 'borrowed.yaml');
    expect(out).toMatch(/caution: no part "quistle\/QWR4T10"/u);
    expect(err).toContain('You have no archive of your own yet');
    expect(code).toBe(0);
  });

  test('an import that is refused makes nothing', async () => {
    const { code, err } = await caseback('import', 'borrowed.yaml');
    expect(err).toContain('no part "quistle/QWR4T10"');
    expect(code).toBe(1);
    expect((await caseback('import', 'catalogue.yaml', 'band-1.yaml', '--dry-run')).err).toMatch(
      /would begin/u,
    );
    expect(existsSync(data())).toBe(false);
    const intoDemo = await caseback('import', 'catalogue.yaml', '--demo');
    expect(intoDemo.err).toContain('takes no other files');
    expect(intoDemo.code).toBe(2);
  });

  test('the first import makes one’s own archive with the pattern library, and leaves the demo alone', async () => {
    const before = await headOf(demo());
    const { code, err } = await caseback(
      'import',
      'catalogue.yaml',
      'band-1.yaml',
      '--reason',
      'opened today',
    );
    expect(err).toMatch(
      /^1 dossier and 5 catalogue records written\nThis begins an archive of your own in .*data, with the \d+ named patterns/u,
    );
    expect(code).toBe(0);
    expect(await headOf(demo())).toEqual(before);
    expect(existsSync(join(bench.path, 'data'))).toBe(false);
  });

  test('from then on it is served and asked, without anything of the demo', async () => {
    const { devices, patterns, said } = await served();
    expect(devices).toEqual(['ferrule-band-1']);
    expect(patterns).toBe(LIBRARY);
    expect(said).toContain('Caseback serves your own archive');
    expect(said).toContain('The invented demo archive: npm start -- --demo');
    const own = await caseback('components', 'ferrule-band-1');
    expect([own.code, own.err]).toEqual([0, 'ferrule-band-1/a: 2 components\n']);
    const gone = await caseback('components', 'tarn-sennit-3');
    expect([gone.code, gone.out]).toEqual([1, '']);
    expect((await served('--demo')).devices).toContain('tarn-sennit-3');
  });

  test('what is written next goes into it', async () => {
    const before = await headOf(demo());
    const { code } = await caseback(
      'observe',
      'ferrule-band-1/a',
      'again',
      'marking',
      '--about',
      'U1',
      '--marking',
      'OM100',
      '--reason',
      'look',
    );
    expect(code).toBe(0);
    expect((await caseback('history', '--last', '1')).out).toContain(
      'observation-recorded ferrule-band-1/a/again',
    );
    expect(await headOf(demo())).toEqual(before);
    expect((await caseback('create-archive')).err).toContain('has an archive already; nothing was changed');
    const mixed = await caseback('import', join(clone.path, 'seed-data'));
    expect([mixed.code, mixed.err]).toEqual([
      2,
      expect.stringContaining('these are files of the invented demo'),
    ]);
    expect((await caseback('import', join(clone.path, 'seed-data/patterns'))).err).toContain(
      'nothing was written',
    );
  });

  test('what the demo knows tells nothing of one’s own chips', async () => {
    // OM100 is the only part of this archive; with the demo beside it there would be hundreds.
    const { out } = await caseback('candidates', 'ferrule-band-1/a/U1', '--first', '100', '--format', 'json');
    const { parts } = JSON.parse(out) as { parts: { part: string }[] };
    expect(parts.map(({ part }) => part)).toEqual(['ombrous/OM100']);
  });
});

describe('the files that the guide shows', () => {
  const own = new Folder();
  const env = { DATA_DIR: join(own.path, 'data'), DEMO_DIR: join(own.path, 'demo-data') };
  const guide = readFileSync(join(ROOT, 'README.md'), 'utf8');
  const shown = [...guide.matchAll(/^```yaml\n# (\S+\.yaml): .*\n[^`]*/gmu)];
  const names = shown.map(([, name]) => name);
  for (const [block, name] of shown) own.write(name, block.replace('```yaml\n', ''));
  afterAll(() => own.remove());
  const run = (line: string) => runProgram(clone.path, wordsOf(line), own.path, env);

  test('are a dossier, a catalogue and a publication', () =>
    expect(names).toEqual(['makers.yaml', 'my-band.yaml', 'my-article.yaml']));

  test('pass its commands without a caution, and answer', async () => {
    const [, block = ''] = /^```sh\n(caseback check makers\.yaml.*?)^```/msu.exec(guide) ?? [];
    const lines = block.split('\n').filter((line) => line.startsWith('caseback '));
    expect(lines).toHaveLength(2);
    const [check, imported] = [await run(lines[0]), await run(lines[1])];
    expect(check).toMatchObject({ code: 0, out: '', err: 'no errors in 3 files\n' });
    expect(imported.err).toContain('1 dossier and 5 catalogue records written');
    expect((await run('caseback audit my-article --all')).out).toContain('my-article/c1');
  });
});

/** Words of a line of a shell behind the first, which is the program; only double quotes are used. */
function wordsOf(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|(\S+)/gu)].map(([, quoted, plain]) => quoted ?? plain).slice(1);
}

describe('a data folder from before', () => {
  const old = new Folder(FILES);
  const env = { DATA_DIR: join(old.path, 'data'), DEMO_DIR: join(old.path, 'demo-data') };
  const run = (...args: string[]) => runProgram(clone.path, args, old.path, env);
  /** The journal that an earlier version made at its first start. */
  const began = { actor: 'demo', reason: 'the invented demo archive' };
  afterAll(() => old.remove());

  async function writeOld(folder: string): Promise<void> {
    mkdirSync(folder, { recursive: true });
    const archive = await Archive.open(new SqliteJournal(join(folder, 'journal.sqlite')));
    const { readFiles } = await import('../../src/dossier/read-files.ts');
    await archive.importDocuments(readFiles([join(ROOT, 'seed-data')]).documents, began);
    await archive.close();
  }

  test('with the demo alone is the demo, and stays where it is', async () => {
    await writeOld(env.DATA_DIR);
    const { code, err } = await run('components', 'tarn-sennit-3');
    expect(code).toBe(0);
    expect(err).toMatch(/^The invented demo archive, data; /u);
    expect(existsSync(env.DEMO_DIR)).toBe(false);
  });

  test('with the demo and something tried out on it: all of it moves when one’s own archive begins', async () => {
    await run(
      'observe',
      'tarn-sennit-3/a',
      'tried',
      'marking',
      '--about',
      'U1',
      '--marking',
      'A?',
      '--reason',
      'try',
    );
    const before = await headOf(env.DATA_DIR);
    const { code, err } = await run('import', 'catalogue.yaml', 'band-1.yaml');
    expect(err).toContain('which an earlier version kept in data, is now in demo-data');
    expect(code).toBe(0);
    expect(await headOf(env.DEMO_DIR)).toEqual(before);
    expect((await run('history', 'tarn-sennit-3')).code).toBe(1);
    expect((await run('history', 'tarn-sennit-3', '--demo')).out).toContain('tried');
  });

  test('is not moved while a service uses it', async () => {
    const folder = join(old.path, 'used');
    await writeOld(folder);
    const open = new DatabaseSync(join(folder, 'journal.sqlite'));
    open.prepare('SELECT count(*) FROM entries').get();
    const { code, err } = await run('create-archive', '--data', folder);
    open.close();
    expect(err).toContain('a running service uses it; stop that');
    expect(code).toBe(4);
    expect((await headOf(folder)).sequence).toBeGreaterThan(100);
  });

  test('with devices of one’s own beside the demo is one’s own archive, and the start says what that means', async () => {
    const folder = join(old.path, 'mixed');
    await writeOld(folder);
    const archive = await Archive.open(new SqliteJournal(join(folder, 'journal.sqlite')));
    const { readFiles } = await import('../../src/dossier/read-files.ts');
    const files = ['catalogue.yaml', 'band-1.yaml'].map((name) => join(old.path, name));
    await archive.importDocuments(readFiles(files).documents, { actor: 'editor', reason: 'opened' });
    await archive.close();
    const before = await headOf(folder);
    const child = startProgram(clone.path, ['serve', '--port', '0'], old.path, { ...env, DATA_DIR: folder });
    const end = ended(child);
    await addressOf(child);
    await stop(child);
    const { out, err } = await end;
    expect(out).toContain('your own archive');
    expect(err).toContain('it holds the demo devices beside your own');
    expect(await headOf(folder)).toEqual(before);
  });
});
