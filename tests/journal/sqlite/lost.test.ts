import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { traceOf } from '../../../src/journal/sqlite/open.ts';
import { examine } from '../../../src/journal/verify.ts';
import { numbered } from '../changes.ts';
import { entriesOf } from '../contract.ts';
import { inFolder } from '../places.ts';

const FILES = ['journal.sqlite', 'journal.sqlite-wal', 'journal.head.json'] as const;

/**
 * A folder as a power cut leaves it while a service runs: five entries, of which the last two, each written by itself, are
 * in the log alone.
 */
function inUse<T>(work: (file: string, folder: string) => Promise<T>): Promise<T> {
  return inFolder(async (folder) => {
    const [from, to] = [join(folder, 'from'), join(folder, 'to')];
    const journal = new SqliteJournal(join(from, 'journal.sqlite'));
    await journal.append(numbered(3));
    for (let i = 0; i < 2; i++) await journal.append(numbered(1));
    mkdirSync(to);
    for (const name of FILES) copyFileSync(join(from, name), join(to, name));
    await journal.close();
    return work(join(to, 'journal.sqlite'), to);
  });
}

const LOG = '-wal';
const noteBeside = (file: string) => file.replace('.sqlite', '.head.json');

function openError(file: string, options = {}): { code: string; message: string } {
  try {
    new SqliteJournal(file, options).close();
  } catch (error) {
    return error as { code: string; message: string };
  }
  throw new Error('it was opened');
}

test('left as it is, it opens with every entry', () =>
  inUse(async (file) => {
    const journal = new SqliteJournal(file);
    expect(await entriesOf(journal)).toHaveLength(5);
    expect(await examine(journal)).toEqual({ whole: 5, faults: [], damage: [], notes: [] });
    await journal.close();
  }));

describe('what was lost is noticed when the journal is opened, and nothing is touched', () => {
  const lost = 'has lost entries 4 to 5';
  const cases: readonly (readonly [string, (file: string) => void, string])[] = [
    ['a log that was deleted', (file) => rmSync(file + LOG), lost],
    ['a log that was emptied', (file) => truncateSync(file + LOG, 0), lost],
    ['a log that was cut behind its first page', (file) => truncateSync(file + LOG, 32 + 24 + 4096), lost],
    ['a log with one bit changed in its header', (file) => flip(file + LOG, 17), lost],
    ['a log with one bit changed in its first page', (file) => flip(file + LOG, 32 + 24 + 400), lost],
    [
      'a file that was emptied',
      (file) => truncateSync(file, 0),
      'is empty, and with it all entries, entries 1 to 5',
    ],
    ['a file that was deleted', (file) => rmSync(file), 'is missing, and with it all entries'],
    [
      'a note that was altered',
      (file) => replace(noteBeside(file), '"entries": 5', '"entries": 3'),
      'journal.head.json, which notes how long the journal is, is damaged',
    ],
    ['a note that was emptied', (file) => truncateSync(noteBeside(file), 0), 'is damaged'],
  ];
  for (const [what, harm, message] of cases) {
    test(what, () =>
      inUse(async (file, folder) => {
        harm(file);
        const before = contents(folder);
        expect(openError(file)).toMatchObject({
          code: 'DAMAGED_JOURNAL',
          message: expect.stringContaining(message),
        });
        expect(contents(folder)).toEqual(before);
        expect(traceOf(file)).toBe('held');
      }),
    );
  }

  test('an older copy of the archive, and the journal of another', () =>
    inUse(async (file, folder) => {
      const older = join(folder, 'older.sqlite');
      rmSync(file + LOG);
      copyFileSync(file, older);
      const other = join(folder, 'other', 'journal.sqlite');
      const another = new SqliteJournal(other);
      await another.append(numbered(9));
      await another.close();
      for (const [from, message] of [
        [older, 'has lost entries 4 to 5'],
        [other, 'is not that of the archive'],
      ] as const) {
        copyFileSync(from, file);
        expect(openError(file).message).toContain(message);
      }
      // Both are whole by themselves.
      for (const [one, count] of [
        [older, 3],
        [other, 9],
      ] as const) {
        const journal = new SqliteJournal(one);
        expect(await entriesOf(journal)).toHaveLength(count);
        await journal.close();
      }
    }));

  test('an entry that was written anew with its hashes, as long as before', () =>
    inUse(async (file, folder) => {
      const elsewhere = new SqliteJournal(join(folder, 'again.sqlite'));
      await elsewhere.append(numbered(5));
      await elsewhere.close();
      new SqliteJournal(file).close();
      const db = new DatabaseSync(file);
      db.exec(`DROP TRIGGER entries_are_never_removed; DROP TRIGGER entries_follow_one_another; DELETE FROM entries;
        ATTACH '${join(folder, 'again.sqlite')}' AS again; INSERT INTO entries SELECT * FROM again.entries`);
      db.close();
      expect(openError(file).message).toContain('has another entry 5 than');
    }));

  test('what an older program left: a file of one page without tables, its log gone', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'journal.sqlite');
      const db = new DatabaseSync(file);
      db.exec('PRAGMA journal_mode = WAL');
      db.close();
      expect(readFileSync(file)).toHaveLength(4096);
      expect(openError(file).message).toContain('has nothing in it');
    }));
});

describe('what is whole can be read when asked for, and nothing can be appended', () => {
  test('up to what was lost at the end', () =>
    inUse(async (file) => {
      rmSync(file + LOG);
      const warnings: string[] = [];
      const journal = new SqliteJournal(file, { whatIsWhole: true, warn: (text) => warnings.push(text) });
      expect(await entriesOf(journal)).toHaveLength(3);
      expect(warnings.join()).toContain('has lost entries 4 to 5');
      await expect(journal.append(numbered(1))).rejects.toMatchObject({ code: 'UNAVAILABLE' });
      await journal.close();
      expect(openError(file).message).toContain('has lost entries 4 to 5');
    }));

  test('up to an entry that was altered', () =>
    inUse(async (file) => {
      new SqliteJournal(file).close();
      const db = new DatabaseSync(file);
      db.exec(
        `DROP TRIGGER entries_are_never_changed; UPDATE entries SET reason = 'other' WHERE sequence = 4`,
      );
      db.close();
      const journal = new SqliteJournal(file);
      await expect(entriesOf(journal)).rejects.toMatchObject({ code: 'DAMAGED_JOURNAL', sequence: 4 });
      await journal.close();
      const warnings: string[] = [];
      const whole = new SqliteJournal(file, { whatIsWhole: true, warn: (text) => warnings.push(text) });
      expect((await entriesOf(whole)).map(({ sequence }) => sequence)).toEqual([1, 2, 3]);
      expect(warnings.join()).toContain('Entry 4 of the journal cannot be read');
      const found = await examine(whole);
      expect(found).toMatchObject({ whole: 4, faults: [{ first: 4, last: 4 }] });
      expect(found.damage).toEqual(['"entries_are_never_changed" is missing from the file\'s schema']);
      await whole.close();
    }));
});

describe('a copy of the file alone', () => {
  test('has everything as soon as an import is done, after the first entry, and after closing', () =>
    inFolder(async (folder) => {
      const [file, copy] = [join(folder, 'journal.sqlite'), join(folder, 'copy.sqlite')];
      const copied = async () => {
        copyFileSync(file, copy);
        const journal = new SqliteJournal(copy, { readOnly: true });
        const { whole, faults, damage, notes } = await examine(journal);
        await journal.close();
        expect([faults, damage]).toEqual([[], []]);
        // Nothing is wrong, but there is nothing to hold its length against either.
        expect(notes).toEqual([expect.stringContaining('There is no')]);
        return whole;
      };
      const journal = new SqliteJournal(file);
      await journal.append(numbered(1));
      expect(await copied()).toBe(1);
      await journal.append(numbered(40));
      expect(await copied()).toBe(41);
      await journal.append(numbered(1));
      await journal.close();
      expect(await copied()).toBe(42);
      expect(existsSync(file + LOG)).toBe(false);
    }));

  test('is used like any other: the note comes with the next change', () =>
    inFolder(async (folder) => {
      const [file, copy] = [join(folder, 'journal.sqlite'), join(folder, 'copy.sqlite')];
      const journal = new SqliteJournal(file);
      await journal.append(numbered(2));
      await journal.close();
      copyFileSync(file, copy);
      const again = new SqliteJournal(copy);
      expect((await again.append(numbered(1)))[0].sequence).toBe(3);
      expect((await examine(again)).notes).toEqual([]);
      await again.close();
    }));
});

test('the note may be behind, as after a crash between the two, and is brought up to date', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    const journal = new SqliteJournal(file);
    await journal.append(numbered(2));
    const before = readFileSync(noteBeside(file));
    await journal.append(numbered(3));
    await journal.close();
    const after = readFileSync(noteBeside(file), 'utf8');
    writeFileSync(noteBeside(file), before);
    const again = new SqliteJournal(file);
    expect(readFileSync(noteBeside(file), 'utf8')).toBe(after);
    expect(JSON.parse(after)).toMatchObject({ entries: 5, hash: (await again.head()).hash });
    expect(JSON.parse(after).archive).toBe(await again.identity());
    await again.close();
  }));

test('a note that cannot be written keeps no change from being made, and is made up for', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    const warnings: string[] = [];
    const journal = new SqliteJournal(file, { warn: (text) => warnings.push(text) });
    await journal.append(numbered(2));
    const note = readFileSync(noteBeside(file));
    rmSync(noteBeside(file));
    // A folder in its place cannot be replaced by a file.
    mkdirSync(join(noteBeside(file), 'in the way'), { recursive: true });
    expect((await journal.append(numbered(1)))[0].sequence).toBe(3);
    expect(warnings.join()).toContain('could not be written');
    rmSync(noteBeside(file), { recursive: true });
    writeFileSync(noteBeside(file), note);
    await journal.append(numbered(1));
    expect(JSON.parse(readFileSync(noteBeside(file), 'utf8'))).toMatchObject({ entries: 4 });
    await journal.close();
  }));

test('a journal that was begun and got no entry is told from one that lost them', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    expect(traceOf(file)).toBe('nothing');
    new SqliteJournal(file).close();
    expect(traceOf(file)).toBe('begun');
    const identity = JSON.parse(readFileSync(noteBeside(file), 'utf8')).archive;
    // Killed between the note and the file.
    rmSync(file);
    expect(traceOf(file)).toBe('begun');
    const journal = new SqliteJournal(file);
    expect(await journal.identity()).toBe(identity);
    await journal.append(numbered(1));
    await journal.close();
    expect(traceOf(file)).toBe('held');
    rmSync(noteBeside(file));
    expect(traceOf(file)).toBe('held');
  }));

function flip(file: string, at: number): void {
  const bytes = readFileSync(file);
  bytes[at] ^= 4;
  writeFileSync(file, bytes);
}

function replace(file: string, text: string, by: string): void {
  const before = readFileSync(file, 'utf8');
  expect(before).toContain(text);
  writeFileSync(file, before.replace(text, by));
}

/** Digests of the files; an empty log is as good as none. */
function contents(folder: string): readonly (readonly [string, string])[] {
  return FILES.map((name) => join(folder, name))
    .filter((path) => existsSync(path) && !(path.endsWith(LOG) && statSync(path).size === 0))
    .map((path) => [path, createHash('sha256').update(readFileSync(path)).digest('hex')]);
}
