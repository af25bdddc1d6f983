import { randomUUID } from 'node:crypto';
import { dirname, join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { CasebackError } from '../../model/problems.ts';
import { NO_HASH } from '../journal.ts';
import { HeadFile, type HeadNote } from './head-file.ts';
import { hasIdentity, isNew, isOlder, openDatabase, refuseForeign, setUp, upgrade } from './schema.ts';
import { asJournalError, isBusy, isUnwritable } from './sqlite-errors.ts';
import { BUSY_TIMEOUT, isRunning, MACHINE, type System } from './system.ts';

export interface OpenOptions {
  /** Only to read; also where a journal that was lost in part is to be read as far as it goes. @default false */
  readonly readOnly?: boolean;
  /** Opens what is whole of a damaged journal, to read it. @default false */
  readonly whatIsWhole?: boolean;
  readonly system?: System;
}

/** A journal file that is open and holds what it should, as far as its length and its last entry tell. */
export interface Opened {
  readonly db: DatabaseSync;
  /** Why nothing can be appended; undefined where it can. */
  readonly unwritable?: string;
  /** Changes when somebody writes a file that is read as one that nobody writes; undefined for any other. */
  readonly stamp?: () => string | undefined;
  /** What was noted of it before; undefined where there was no note. */
  readonly note: HeadNote | undefined;
  /** What is wrong with it, where what is whole was asked for. */
  readonly wrong?: CasebackError;
  /** Closes the database, and removes copies made to read it. */
  close(): void;
}

/**
 * Opens a journal file, or makes it with its folder. It is held against the note beside it before anything is written,
 * so that what is damaged stays as it was found.
 * @throws CasebackError DAMAGED_JOURNAL when it is no database, is damaged, or has lost entries; BAD_INPUT for a database that is not
 * a Caseback journal; errors of SQLite and the system
 */
export function openJournalFile(
  file: string,
  { readOnly = false, whatIsWhole = false, system = MACHINE }: OpenOptions = {},
): Opened {
  const head = new HeadFile(file, system);
  // Read before the journal, which may only be longer.
  const note = mended(whatIsWhole, () => head.read());
  const reading = { whatIsWhole, note: note.value };
  if ((system.size(file) ?? 0) === 0) {
    refuseLost(file, note.value, system);
    if (readOnly || whatIsWhole)
      throw new CasebackError('NOT_FOUND', `There is no journal ${file}; name another file or folder`);
    make(file, head, system);
  }
  const read = openToRead(file, system);
  try {
    const wrong =
      note.wrong ?? mended(whatIsWhole, () => compare(read.db, file, reading.note, head.path)).wrong;
    if (readOnly || whatIsWhole) {
      const why = whatIsWhole ? 'was opened to read what is whole' : 'was opened to be read';
      return { ...read, unwritable: why, note: note.value, ...(wrong ? { wrong } : {}) };
    }
  } catch (error) {
    read.close();
    throw error;
  }
  // One connection at a time, for systems whose locks are for one.
  read.close();
  const written = openToWrite(file, head, system);
  if (typeof written === 'string')
    return { ...openToRead(file, system), unwritable: written, note: note.value };
  return { db: written, note: note.value, close: () => written.close() };
}

/** What may be known of a place: nothing was there; a journal was begun, without an entry; one is there, or was. */
export function traceOf(file: string, system: System = MACHINE): 'nothing' | 'begun' | 'held' {
  const head = new HeadFile(file, system);
  const isLeft = [`${file}-wal`, head.path].some((one) => (system.size(one) ?? 0) > 0);
  const size = system.size(file);
  if (size === undefined && !isLeft) return 'nothing';
  try {
    const note = head.read();
    if (note?.entries !== 0) return 'held';
    if (size === undefined) return 'begun';
    const opened = openJournalFile(file, { readOnly: true, system });
    try {
      return countOf(opened.db) === 0 ? 'begun' : 'held';
    } finally {
      opened.close();
    }
  } catch {
    // Whoever opens it says why.
    return 'held';
  }
}

/** A database to read from, in whatever way the rights allow. */
export function openToRead(
  file: string,
  system: System = MACHINE,
): Pick<Opened, 'db' | 'stamp' | 'unwritable' | 'close'> {
  const opened = (db: DatabaseSync) => ({ db, close: () => db.close() });
  let error: unknown;
  try {
    return opened(tried(system.openDatabase(file, 'read')));
  } catch (caught) {
    if (!isUnwritable(caught)) throw caught;
    error = caught;
  }
  // The folder cannot be written, so that no shared memory can be made in it.
  const log = `${file}-wal`;
  if ((system.size(log) ?? 0) === 0) {
    const stamp = () => `${system.stamp(file)} ${system.size(log) ?? 0}`;
    try {
      return { ...opened(tried(system.openDatabase(file, 'still'))), stamp };
    } catch {
      // Not for want of rights, then.
      throw error;
    }
  }
  const apart = system.copyApart([file, log]);
  const copy = join(apart, 'journal.sqlite');
  const remove = () => {
    for (const name of system.list(apart)) system.remove(join(apart, name));
    system.removeFolder(apart);
  };
  try {
    system.rename(join(apart, '0'), copy);
    if (system.size(join(apart, '1')) !== undefined) system.rename(join(apart, '1'), `${copy}-wal`);
    const db = tried(system.openDatabase(copy, 'read'));
    const stamp = () => `${system.stamp(file)} ${system.stamp(log)}`;
    return {
      db,
      stamp,
      close() {
        db.close();
        remove();
      },
    };
  } catch (failure) {
    remove();
    throw failure;
  }
}

/** A database that has been read from: only then does SQLite look at the file. */
function tried(db: DatabaseSync): DatabaseSync {
  try {
    isNew(db);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Opens for writing and brings an older file to today's form; where it cannot be written, the reason. */
function openToWrite(file: string, head: HeadFile, system: System): DatabaseSync | string {
  let db: DatabaseSync | undefined;
  try {
    db = system.openDatabase(file, 'write');
    const wasOlder = isOlder(db);
    upgrade(db);
    setUp(db);
    tryToWrite(db);
    if (wasOlder) head.write(noteOf(db) as HeadNote);
    head.clean(isRunning);
    return db;
  } catch (error) {
    db?.close();
    if (!isUnwritable(error)) throw error;
    return reasonOf(error, file);
  }
}

/** Finds out that a file cannot be written before the first change does. */
function tryToWrite(db: DatabaseSync): void {
  db.exec('PRAGMA busy_timeout = 0');
  try {
    db.exec('BEGIN IMMEDIATE; ROLLBACK');
  } catch (error) {
    // Somebody is writing it right now.
    if (!isBusy(error)) throw error;
  } finally {
    db.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT}`);
  }
}

function reasonOf(error: unknown, file: string): string {
  const { message } = asJournalError(error, file) as Error;
  return message.replace(`The journal ${file} `, '');
}

/**
 * Makes a journal without entries under another name and gives it its own when it is whole, so that a journal file is
 * never empty; the note of its identity comes first.
 */
function make(file: string, head: HeadFile, system: System): void {
  const folder = dirname(file);
  system.makeFolder(folder);
  const identity = head.read()?.archive ?? head.claim(randomUUID());
  const made = `${file}.new-${process.pid}`;
  const remove = () => {
    for (const end of ['', '-wal', '-shm', '-journal']) system.remove(made + end);
  };
  remove();
  try {
    const db = openDatabase(made, identity, system);
    try {
      // Closing would do it as well, and say nothing when it fails half-way.
      db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    } finally {
      db.close();
    }
    system.sync(made);
    system.link(made, file);
  } finally {
    remove();
  }
  system.sync(folder);
}

/** @throws CasebackError DAMAGED_JOURNAL when there is no journal where one was */
function refuseLost(file: string, note: HeadNote | undefined, system: System): void {
  const log = `${file}-wal`;
  const state = system.size(file) === undefined ? 'missing' : 'empty';
  if (note !== undefined && note.entries > 0)
    throw damaged(
      `The journal ${file} is ${state}, and with it all entries, ${stretch(1, note.entries)}: so many are noted in the file beside it, the last of ${note.instant}. Restore it from a copy; to begin afresh, move what is left in the folder away.`,
    );
  // SQLite would throw the log away together with every entry in it.
  if ((system.size(log) ?? 0) > 0)
    throw damaged(
      `The journal ${file} is ${state}, yet its log ${log} holds entries. Restore both from one copy, or move the log away to start afresh.`,
    );
  if (state === 'empty')
    throw damaged(
      `The journal ${file} is empty (0 bytes), which no journal is. Restore it from a copy, or move it away to start afresh.`,
    );
}

/** @throws CasebackError DAMAGED_JOURNAL when a database is not what the note says; BAD_INPUT when it never was a journal */
function compare(db: DatabaseSync, file: string, note: HeadNote | undefined, notedIn: string): void {
  if (isNew(db))
    throw damaged(
      `The journal ${file} has nothing in it, not even the tables of a journal: it is part of one, without its log ${file}-wal. Restore both from one copy.`,
    );
  refuseForeign(db, file, note !== undefined);
  // One view of it, whatever another process appends meanwhile.
  db.exec('BEGIN');
  try {
    const { sequence } = lastOf(db);
    const count = countOf(db);
    if (count !== sequence)
      throw damaged(
        `The journal ${file} is damaged: its last entry is ${sequence}, and its index counts ${count}; restore it from a copy`,
      );
    if (note) compareToNote(db, file, note, notedIn);
  } finally {
    db.exec('ROLLBACK');
  }
}

function compareToNote(db: DatabaseSync, file: string, note: HeadNote, notedIn: string): void {
  const { archive, entries, hash, instant } = note;
  const found = noteOf(db);
  if (found === undefined || found.archive !== archive)
    throw damaged(
      `The journal ${file} is not that of the archive which ${notedIn} notes (${archive}), but of ${found ? `another (${found.archive})` : 'an older program'}. Restore both from one copy; where it is meant to be this one, move ${notedIn} away.`,
    );
  const length = found.entries;
  if (length < entries)
    throw damaged(
      `The journal ${file} has lost ${stretch(length + 1, entries)}: ${notedIn} notes ${entries}, the last of ${instant}. Restore the journal with its log from a copy; --what-is-whole reads what is there. Where an older copy is meant to be used, move ${notedIn} away.`,
    );
  const noted = entries === 0 ? hash : hashAt(db, entries);
  if (noted !== hash)
    throw damaged(
      `The journal ${file} has another entry ${entries} than ${notedIn} notes: it was changed, or belongs to another copy of the archive. Restore both from one copy.`,
    );
}

/** What is to be noted of a journal; undefined for one of an older program, which has no identity yet. */
export function noteOf(db: DatabaseSync): HeadNote | undefined {
  if (!hasIdentity(db)) return undefined;
  const identity = db.prepare('SELECT identity FROM archive').get()?.identity;
  const { sequence, hash, instant } = lastOf(db);
  return { archive: String(identity), entries: sequence, hash, instant };
}

/** The last entry of a file. */
export function lastOf(db: DatabaseSync): { sequence: number; hash: string; instant: string } {
  const last = db.prepare('SELECT sequence, hash, instant FROM entries ORDER BY sequence DESC LIMIT 1').get();
  return (last as ReturnType<typeof lastOf> | undefined) ?? { sequence: 0, hash: NO_HASH, instant: '' };
}

function hashAt(db: DatabaseSync, sequence: number): unknown {
  return db.prepare('SELECT hash FROM entries WHERE sequence = ?').get(sequence)?.hash;
}

/** Number of entries by the index of their ids, which is another part of the file than the entries. */
export function countOf(db: DatabaseSync): unknown {
  return db.prepare('SELECT count(*) AS n FROM entries INDEXED BY sqlite_autoindex_entries_1').get()?.n;
}

function stretch(first: number, last: number): string {
  return first === last ? `entry ${first}` : `entries ${first} to ${last}`;
}

function damaged(message: string): CasebackError {
  return new CasebackError('DAMAGED_JOURNAL', message);
}

/** What a check gives, or what it finds wrong where that is only to be told. */
function mended<T>(isTold: boolean, check: () => T): { value?: T; wrong?: CasebackError } {
  try {
    return { value: check() };
  } catch (error) {
    if (isTold && error instanceof CasebackError && error.code === 'DAMAGED_JOURNAL') return { wrong: error };
    throw error;
  }
}
