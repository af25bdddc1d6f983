import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { SCHEMA_VERSION } from '../../../src/journal/sqlite/schema.ts';
import { asJournalError } from '../../../src/journal/sqlite/sqlite-errors.ts';
import { examine, verify } from '../../../src/journal/verify.ts';
import { CasebackError } from '../../../src/model/problems.ts';
import { numbered } from '../changes.ts';
import { killDuring } from '../kill-during.ts';
import { inFolder } from '../places.ts';

const CHILD = join(import.meta.dirname, '../child/append.ts');

/** A closed journal of that many entries in a folder. */
async function journalIn(folder: string, entries: number): Promise<string> {
  const file = join(folder, 'journal.sqlite');
  const journal = new SqliteJournal(file);
  await journal.append(numbered(entries));
  await journal.close();
  return file;
}

/** The error of opening a file and reading all of it. */
async function failureOf(file: string): Promise<CasebackError> {
  try {
    const journal = new SqliteJournal(file);
    try {
      for await (const _ of journal.read());
      await journal.head();
    } finally {
      await journal.close();
    }
  } catch (error) {
    expect(error).toBeInstanceOf(CasebackError);
    return error as CasebackError;
  }
  throw new Error('it could be read');
}

describe('a file that is not a valid journal is refused with its name and the fix', () => {
  test('text', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'notes.txt');
      writeFileSync(file, 'Bench notes, no database.\n'.repeat(100));
      const { code, message } = await failureOf(file);
      expect(code).toBe('DAMAGED_JOURNAL');
      expect(message).toContain(file);
      expect(message).toContain('is damaged or no database; restore it from a copy, or name another file');
      expect(readFileSync(file, 'utf8')).toMatch(/^Bench notes/u);
    }));

  test("someone else's database, which stays as it was to the byte", () =>
    inFolder(async (folder) => {
      for (const sql of [
        'CREATE TABLE notes (text TEXT)',
        'PRAGMA application_id = 7; PRAGMA user_version = 1',
      ]) {
        const file = join(folder, 'other.sqlite');
        const db = new DatabaseSync(file);
        db.exec(sql);
        db.close();
        const before = readFileSync(file);
        const { code, message } = await failureOf(file);
        expect([code, message]).toEqual(['BAD_INPUT', expect.stringContaining('not a Caseback journal')]);
        expect(readFileSync(file).equals(before)).toBe(true);
        rmSync(file);
      }
    }));

  test('one where a journal was noted is a damaged journal', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const db = new DatabaseSync(file);
      db.exec('PRAGMA application_id = 7');
      db.close();
      const { code, message } = await failureOf(file);
      expect([code, message]).toEqual(['DAMAGED_JOURNAL', expect.stringContaining('restore it from a copy')]);
    }));

  test('a file of a newer version, which stays as it was to the byte', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const db = new DatabaseSync(file);
      db.exec(`PRAGMA user_version = ${SCHEMA_VERSION + 1}`);
      db.close();
      const before = readFileSync(file);
      expect((await failureOf(file)).message).toContain(
        `has version ${SCHEMA_VERSION + 1}, and this program reads versions 1 to ${SCHEMA_VERSION}`,
      );
      expect(readFileSync(file).equals(before)).toBe(true);
    }));

  test('a truncated file', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 500);
      for (const share of [0.9, 0.5, 0.1]) {
        const cut = join(folder, `cut-${share}.sqlite`);
        copyFileSync(file, cut);
        truncateSync(cut, Math.floor(statSync(file).size * share));
        const { code, message } = await failureOf(cut);
        expect([code, message]).toEqual(['DAMAGED_JOURNAL', expect.stringContaining('is damaged')]);
      }
    }));

  test('a file with pages overwritten: the check of the chain names an entry', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 500);
      const bytes = readFileSync(file);
      // The pages that hold entry 250, found by its text.
      const at = bytes.indexOf('"maker-250"');
      bytes.fill(0, at - (at % 4096), at - (at % 4096) + 4096);
      writeFileSync(file, bytes);
      const journal = new SqliteJournal(file);
      const verdict = await verify(journal);
      expect(verdict.intact).toBe(false);
      if (!verdict.intact) {
        expect(verdict.why).toContain('cannot be read');
        expect(Math.abs(verdict.sequence - 251)).toBeLessThan(30);
      }
      await journal.close();
    }));

  test('no file, while its log with entries is still there', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'journal.sqlite');
      const journal = new SqliteJournal(file);
      // The second append stays in the log for the moment.
      for (let i = 0; i < 2; i++) await journal.append(numbered(1));
      const copy = join(folder, 'copy.sqlite');
      copyFileSync(`${file}-wal`, `${copy}-wal`);
      await journal.close();
      const log = readFileSync(`${copy}-wal`);
      for (const make of [() => undefined, () => writeFileSync(copy, '')]) {
        make();
        expect((await failureOf(copy)).message).toMatch(/is (missing|empty), yet its log/u);
        expect(readFileSync(`${copy}-wal`).equals(log)).toBe(true);
      }
    }));

  test('a folder, and a path through a file', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'file');
      writeFileSync(file, '');
      expect((await failureOf(folder)).message).toContain('cannot be opened; check the path');
      expect((await failureOf(join(file, 'journal.sqlite'))).message).toContain('part of its path is a file');
    }));
});

// Root may write anywhere, so the test steps down to the user "nobody" where it runs as root.
const NOBODY = 65_534;
function withoutRights<T>(work: () => T): T {
  const isRoot = process.geteuid?.() === 0;
  if (isRoot) process.seteuid?.(NOBODY);
  try {
    return work();
  } finally {
    if (isRoot) process.seteuid?.(0);
  }
}

describe.skipIf(process.platform === 'win32')('without the right to write', () => {
  test('no journal is created in a read-only folder', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      chmodSync(file, 0o444);
      chmodSync(folder, 0o555);
      try {
        expect(() => withoutRights(() => new SqliteJournal(join(folder, 'new.sqlite')))).toThrow(
          /new\.sqlite cannot be written; check the permissions of its folder/u,
        );
        expect(() => withoutRights(() => new SqliteJournal(join(folder, 'new', 'j.sqlite')))).toThrow(
          /cannot be written; check the permissions of its folder/u,
        );
      } finally {
        chmodSync(folder, 0o755);
      }
      const journal = new SqliteJournal(file);
      expect(await verify(journal)).toEqual({ intact: true, entries: 3 });
      await journal.close();
    }));

  test('a folder that cannot be written is read: closed, in use, and as a power cut left it', () =>
    inFolder(async (folder) => {
      chmodSync(folder, 0o755);
      for (const way of ['closed', 'in use', 'cut off'] as const) {
        const place = join(folder, way);
        const file = await journalIn(place, 3);
        const writer = new SqliteJournal(file);
        // Stays in the log for the moment.
        await writer.append(numbered(1));
        if (way === 'closed') await writer.close();
        if (way === 'cut off') {
          for (const end of ['', '-wal']) copyFileSync(file + end, `${file}.copy${end}`);
          await writer.close();
          for (const end of ['', '-wal']) renameSync(`${file}.copy${end}`, file + end);
        }
        const names = readdirSync(place);
        for (const name of names) chmodSync(join(place, name), 0o444);
        chmodSync(place, 0o555);
        try {
          const journal = withoutRights(() => new SqliteJournal(file));
          expect(await examine(journal), way).toEqual({ whole: 4, faults: [], damage: [], notes: [] });
          await expect(journal.append(numbered(1))).rejects.toMatchObject({
            code: 'UNAVAILABLE',
            message: expect.stringContaining('cannot be'),
          });
          withoutRights(() => journal.close());
          expect(readdirSync(place)).toEqual(names);
        } finally {
          chmodSync(place, 0o755);
          if (way === 'in use') await writer.close();
        }
      }
    }));

  test('what is read as a file that nobody writes is not read on when somebody does', () =>
    inFolder(async (folder) => {
      chmodSync(folder, 0o755);
      const place = join(folder, 'place');
      const file = await journalIn(place, 3);
      for (const name of readdirSync(place)) chmodSync(join(place, name), 0o444);
      chmodSync(place, 0o555);
      const journal = withoutRights(() => new SqliteJournal(file));
      chmodSync(place, 0o755);
      const writer = new SqliteJournal(file);
      await writer.append(numbered(2));
      await writer.close();
      await expect(verify(journal)).rejects.toMatchObject({
        code: 'UNAVAILABLE',
        message: expect.stringContaining('was written by another process'),
      });
      await journal.close();
    }));

  test('a file can be read, and an append is refused', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      chmodSync(file, 0o444);
      chmodSync(folder, 0o777);
      const journal = withoutRights(() => new SqliteJournal(file));
      expect((await journal.head()).sequence).toBe(3);
      await expect(journal.append(numbered(1))).rejects.toMatchObject({
        code: 'UNAVAILABLE',
        message: expect.stringContaining('cannot be written; check the permissions'),
      });
      expect(await verify(journal)).toEqual({ intact: true, entries: 3 });
      await journal.close();
    }));
});

describe('when the disk is full', () => {
  test('SQLite says so, and so do we', () => {
    const db = new DatabaseSync(':memory:');
    db.exec('PRAGMA max_page_count = 2; CREATE TABLE t (x)');
    const fill = () => db.exec(`INSERT INTO t VALUES (randomblob(100000))`);
    expect(fill).toThrow('full');
    try {
      fill();
    } catch (error) {
      const { code, message } = asJournalError(error, 'journal.sqlite') as CasebackError;
      expect([code, message]).toEqual([
        'UNAVAILABLE',
        expect.stringContaining('journal.sqlite cannot grow, for the disk is full'),
      ]);
    }
    db.close();
  });

  // A limit on the size of files (POSIX `ulimit -f`) stands in for the disk; the system refuses the write alike.
  test.skipIf(process.platform === 'win32')('the journal is as it was before the append', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const limited = spawnSync(
        'sh',
        ['-c', 'ulimit -f 2000; exec "$0" "$@"', process.execPath, CHILD, file, '400'],
        { encoding: 'utf8' },
      );
      expect(limited.stdout).toBe('begun\n');
      expect(limited.stderr).toMatch(/^UNAVAILABLE: .*journal\.sqlite (could not be|cannot grow)/u);
      expect(limited.status).toBe(1);
      const journal = new SqliteJournal(file);
      expect(await verify(journal)).toEqual({ intact: true, entries: 3 });
      await journal.append(numbered(1));
      expect((await journal.head()).sequence).toBe(4);
      await journal.close();
    }),
  );
});

describe('while another writes', () => {
  test('an append waits without blocking the process, and reading continues', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const other = new DatabaseSync(file);
      other.exec('BEGIN IMMEDIATE');
      // SQLite's own waiting would hold this thread for as long as its patience, and what follows would never run.
      const journal = new SqliteJournal(file, { patience: 300_000 });
      const append = journal.append(numbered(1));
      await new Promise(setImmediate);
      expect((await journal.head()).sequence).toBe(3);
      other.exec('ROLLBACK');
      other.close();
      expect((await append)[0].sequence).toBe(4);
      await journal.close();
    }));

  test('its patience ends with a clear word, and nothing is written', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const other = new DatabaseSync(file);
      other.exec('BEGIN IMMEDIATE');
      const journal = new SqliteJournal(file, { patience: 30 });
      await expect(journal.append(numbered(1))).rejects.toMatchObject({
        code: 'UNAVAILABLE',
        message: expect.stringContaining('is in use by another process that is writing to it; try again'),
      });
      other.exec('ROLLBACK');
      other.close();
      expect((await journal.append(numbered(1)))[0].sequence).toBe(4);
      await journal.close();
    }));

  test('two processes end up in one chain', () =>
    inFolder(async (folder) => {
      const file = await journalIn(folder, 3);
      const journal = new SqliteJournal(file);
      const child = killDuring([CHILD, file, '200'], Infinity);
      let own = 0;
      let ended = false;
      const both = child.finally(() => {
        ended = true;
      });
      while (!ended) {
        await journal.append(numbered(2));
        own += 2;
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
      expect((await both).out).toBe('begun\ndone\n');
      expect(await verify(journal)).toEqual({ intact: true, entries: 3 + 200 + own });
      await journal.close();
    }));
});
