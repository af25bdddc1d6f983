import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { DatabaseSync, type StatementSync } from 'node:sqlite';
import type { Change, Entry } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import { chain, instantAfter } from '../chain.ts';
import { type AppendOptions, type Head, type Journal, NO_HASH, type ReadOptions } from '../journal.ts';
import { movedOn } from '../memory/journal.ts';

/** "Case" in ASCII: marks a SQLite file as a journal of ours. */
const APPLICATION_ID = 0x43617365;
const SCHEMA_VERSION = 1;

const SCHEMA = `
  CREATE TABLE entries (
    sequence INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    instant TEXT NOT NULL,
    actor TEXT NOT NULL,
    reason TEXT NOT NULL,
    kind TEXT NOT NULL,
    payload TEXT NOT NULL,
    previousHash TEXT NOT NULL,
    hash TEXT NOT NULL
  ) STRICT;
  CREATE INDEX entries_instant ON entries(instant);
  CREATE TRIGGER entries_are_never_changed BEFORE UPDATE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER entries_are_never_removed BEFORE DELETE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  PRAGMA application_id = ${APPLICATION_ID};
  PRAGMA user_version = ${SCHEMA_VERSION};
`;

/**
 * The journal in one SQLite file: write-ahead log, every commit flushed to disk, at most one writer at a time
 * across processes.
 */
export class SqliteJournal implements Journal {
  readonly #file: string;
  readonly #clock: () => Date;
  readonly #db: DatabaseSync;
  readonly #insert: StatementSync;
  readonly #last: StatementSync;
  readonly #select: StatementSync;

  /**
   * Opens the file, or makes it with its folder.
   * @throws CasebackError DAMAGED_JOURNAL when it is no journal of ours, damaged, locked or not writable
   */
  constructor(file: string, clock: () => Date = () => new Date()) {
    this.#file = file;
    this.#clock = clock;
    try {
      if (file !== ':memory:' && !existsSync(dirname(file))) mkdirSync(dirname(file), { recursive: true });
      this.#db = new DatabaseSync(file, { timeout: 5_000 });
      this.#prepareSchema();
      const columns = 'sequence, id, instant, actor, reason, kind, payload, previousHash, hash';
      this.#insert = this.#db.prepare(`INSERT INTO entries (${columns}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`);
      this.#last = this.#db.prepare(
        'SELECT sequence, hash, instant FROM entries ORDER BY sequence DESC LIMIT 1',
      );
      this.#select = this.#db.prepare(
        `SELECT ${columns} FROM entries WHERE sequence > ? AND instant <= ? ORDER BY sequence LIMIT ?`,
      );
    } catch (error) {
      throw this.#explained(error);
    }
  }

  async append(changes: readonly Change[], { expectedHead }: AppendOptions = {}): Promise<readonly Entry[]> {
    if (changes.length === 0) return [];
    try {
      // Taken before the last entry is read, so that no other process can append in between.
      this.#db.exec('BEGIN IMMEDIATE');
      const last = this.#lastRow();
      if (expectedHead !== undefined && expectedHead !== last.sequence)
        throw movedOn(expectedHead, last.sequence);
      const entries = chain(changes, last, instantAfter(last.instant, this.#clock()));
      const stored = entries.map((entry) => this.#store(entry));
      this.#db.exec('COMMIT');
      return stored;
    } catch (error) {
      if (this.#db.isTransaction) this.#db.exec('ROLLBACK');
      throw this.#explained(error);
    }
  }

  async *read({
    after = 0,
    until = '9999',
    batchSize = 500,
  }: ReadOptions = {}): AsyncGenerator<readonly Entry[]> {
    let from = after;
    for (;;) {
      const batch = this.#batch(from, until, batchSize);
      if (batch.length > 0) yield batch;
      if (batch.length < batchSize) return;
      from = batch[batch.length - 1].sequence;
      // Lets requests in between long batches.
      await new Promise(setImmediate);
    }
  }

  async head(): Promise<Head> {
    const { sequence, hash } = this.#lastRow();
    return { sequence, hash };
  }

  async close(): Promise<void> {
    if (this.#db.isOpen) this.#db.close();
  }

  #prepareSchema(): void {
    this.#db.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;');
    const isEmpty = () => this.#db.prepare('SELECT count(*) AS n FROM sqlite_schema').get()?.n === 0;
    if (isEmpty()) {
      this.#db.exec('BEGIN IMMEDIATE');
      // Another process may have made it while this one waited.
      if (isEmpty()) this.#db.exec(SCHEMA);
      this.#db.exec('COMMIT');
    }
    const { application_id: application } = this.#db.prepare('PRAGMA application_id').get() ?? {};
    const { user_version: version } = this.#db.prepare('PRAGMA user_version').get() ?? {};
    if (application !== APPLICATION_ID) {
      throw new CasebackError('DAMAGED_JOURNAL', `${this.#file} is a database, but no journal of Caseback`);
    }
    if (version !== SCHEMA_VERSION) {
      throw new CasebackError(
        'DAMAGED_JOURNAL',
        `${this.#file} has version ${version}; this program reads version ${SCHEMA_VERSION}. Use the program that wrote it or a newer one.`,
      );
    }
  }

  #lastRow(): Head & { readonly instant: string } {
    const row = this.#last.get();
    if (!row) return { sequence: 0, hash: NO_HASH, instant: '' };
    return row as unknown as Head & { readonly instant: string };
  }

  /** Writes one entry; answers it as it will be read back. */
  #store(entry: Entry): Entry {
    const { sequence, id, instant, actor, reason, kind, payload, previousHash, hash } = entry;
    const text = JSON.stringify(payload);
    this.#insert.run(sequence, id, instant, actor, reason, kind, text, previousHash, hash);
    return entry;
  }

  #batch(after: number, until: string, size: number): Entry[] {
    try {
      return this.#select.all(after, until, size).map((row) => {
        const { payload, ...rest } = row;
        return { ...rest, payload: JSON.parse(payload as string) } as Entry;
      });
    } catch (error) {
      throw this.#explained(error);
    }
  }

  #explained(error: unknown): unknown {
    if (error instanceof CasebackError) return error;
    const { errcode, message, code } = error as { errcode?: number; message?: string; code?: string };
    // Primary result codes of SQLite stand in the low byte.
    const primary = errcode === undefined ? undefined : errcode & 0xff;
    const why =
      primary === 5 || primary === 6
        ? 'is in use by another process that is writing to it; try again when it has finished'
        : primary === 8 || primary === 14 || code === 'EACCES' || code === 'EROFS' || code === 'EPERM'
          ? 'cannot be written; check the folder and its permissions'
          : primary === 13
            ? 'cannot grow: the disk is full; nothing was written'
            : primary === 11 || primary === 26
              ? 'is damaged or no database; restore it from a copy'
              : undefined;
    if (why === undefined) return error;
    return new CasebackError('DAMAGED_JOURNAL', `The journal ${this.#file} ${why} (${message ?? code})`);
  }
}
