import { cpSync, readdirSync, readFileSync, renameSync, rmSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

// What an editor is told when an archive is damaged or part of it is gone, and that nothing is put in its place.

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const at = (...names: string[]) => join(folder.path, ...names);
const STACK = /^\s+at /mu;
beforeAll(async () => {
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', '--actor', 'First', '--reason', 'the catalogue');
  await run('import', 'band-1.yaml', 'band-2.yaml', '--actor', 'First', '--reason', 'opened two');
});
afterAll(() => folder.remove());

/** A copy of the archive in a folder of its own. */
function copied(name: string): string {
  cpSync(at('data'), at(name), { recursive: true });
  return name;
}

test('an archive with an altered entry is refused by what asks, serves and changes, with the entry named', async () => {
  const data = copied('altered');
  const db = new DatabaseSync(at(data, 'journal.sqlite'));
  db.exec(`DROP TRIGGER entries_are_never_changed;
    UPDATE entries SET payload = replace(payload, 'Ferrule Band', 'Ferrule Bond') WHERE sequence = 6`);
  db.close();
  for (const args of [
    ['devices'],
    ['ask', '--query', '{ devices { totalCount } }'],
    ['serve', '--port', '0'],
    ['import', 'band-1.yaml', '--reason', 'again'],
  ]) {
    const { code, out, err } = await run(...args, '--data', data);
    expect(err, args[0]).toContain('Entry 6 of the journal cannot be read');
    expect([code, out, STACK.test(err)], args[0]).toEqual([3, '', false]);
  }
  const whole = await run('devices', '--data', data, '--what-is-whole');
  expect(whole.err).toContain('Entry 6 of the journal cannot be read');
  expect(whole.out).toContain('ferrule-band-1');
  expect(whole.out).not.toContain('ferrule-band-2');
  expect(whole.code).toBe(0);
});

test('an archive whose journal was emptied or deleted is not taken for a new one', async () => {
  for (const [name, harm] of [
    ['emptied', (file: string) => truncateSync(file, 0)],
    ['deleted', (file: string) => rmSync(file)],
  ] as const) {
    const data = copied(name);
    harm(at(data, 'journal.sqlite'));
    const note = readFileSync(at(data, 'journal.head.json'), 'utf8');
    for (const args of [['verify'], ['devices'], ['serve', '--port', '0'], ['import', 'band-1.yaml']]) {
      const { code, err } = await run(...args, '--data', data);
      expect(err, args[0]).toContain('with it all entries, entries 1 to 8');
      expect([code, STACK.test(err)], args[0]).toEqual([3, false]);
    }
    const made = await run('create-archive', '--data', data);
    expect(made.err).toContain('has an archive already');
    expect(readFileSync(at(data, 'journal.head.json'), 'utf8')).toBe(note);
  }
});

test('the demo is not put where an archive was', async () => {
  const demo = at('demo-data', 'journal.sqlite');
  const journal = new SqliteJournal(demo);
  await journal.close();
  rmSync(at('demo-data', 'journal.head.json'));
  const { code, err } = await run('serve', '--demo', '--port', '0');
  expect(err).toContain('held an archive and has no entries now');
  expect(code).toBe(4);
  const again = new SqliteJournal(demo);
  expect((await again.head()).sequence).toBe(0);
  await again.close();
});

test('a clock that is years ahead is refused, unless that is allowed', async () => {
  const data = copied('clock');
  const observe = (id: string, ...more: string[]) =>
    run(
      'observe',
      'ferrule-band-2/a',
      id,
      'appearance',
      '--about',
      'U1',
      '--text',
      'Matt.',
      '--reason',
      'x',
      '--data',
      data,
      ...more,
    );
  vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 2 * 366 * 86_400_000 });
  try {
    const refused = await observe('later');
    expect(refused.err).toContain('over a year past the last entry');
    expect(refused.code).toBe(3);
    expect((await observe('later', '--allow-clock-leap')).code).toBe(0);
  } finally {
    vi.useRealTimers();
  }
  expect(process.env.CASEBACK_ALLOW_CLOCK_LEAP).toBeUndefined();
});

test('where the note alone is left of an archive, a backup is restored once that is moved away', async () => {
  expect((await run('backup', 'whole.backup.gz')).code).toBe(0);
  const data = copied('noted');
  for (const name of readdirSync(at(data)))
    if (name !== 'journal.head.json') rmSync(at(data, name), { recursive: true });
  const refused = await run('restore', 'whole.backup.gz', '--data', data);
  expect(refused.code).toBe(3);
  expect(refused.err).toContain(
    'noted/journal.head.json notes how long one was that is gone; move that file away',
  );
  expect(refused.err).not.toContain('has an archive already');
  expect(readdirSync(at(data))).toEqual(['journal.head.json']);
  renameSync(at(data, 'journal.head.json'), at('away.json'));
  expect((await run('restore', 'whole.backup.gz', '--data', data)).code).toBe(0);
  expect((await run('verify', '--data', data)).code).toBe(0);
});
