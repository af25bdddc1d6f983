import type { DatabaseSync, StatementSync } from 'node:sqlite';
import { setTimeout as delay } from 'node:timers/promises';
import type { Change, Entry } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import { chain, instantAfter, type Prepared, prepare } from '../chain.ts';
import { DamagedEntry, HeadMoved } from '../errors.ts';
import {
  type Appended,
  type AppendOptions,
  type Head,
  type Journal,
  NO_HASH,
  type ReadOptions,
} from '../journal.ts';
import { type Keyed, keyedOf, keyReused } from '../keys.ts';
import { type Bounds, boundsOf } from '../read-options.ts';
import { entryOf, type StoredEntry } from '../stored.ts';
import { BUSY_TIMEOUT, openDatabase } from './schema.ts';
import { asJournalError, isBusy, isDamage } from './sqlite-errors.ts';

/** How often commits of other processes are looked for, in ms. */
const WATCH_EVERY = 100;

const COLUMNS = 'sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version';

export interface SqliteOptions {
  /** @default the system's clock */
  readonly clock?: () => Date;
  /** How long an append waits for another process to finish writing, in ms. @default 30000 */
  readonly patience?: number;
}

/**
 * The journal in one SQLite file: write-ahead log, every commit flushed to disk, at most one writer at a time
 * across processes, readers never held up. The file must be on a disk of this machine: the log needs shared memory.
 */
export class SqliteJournal implements Journal {
  readonly #file: string;
  readonly #clock: () => Date;
  readonly #writeTimeout: number;
  readonly #db: DatabaseSync;
  readonly #insert: StatementSync;
  readonly #last: StatementSync;
  readonly #range: StatementSync;
  readonly #lastUntil: StatementSync;
  readonly #lastBefore: StatementSync;
  readonly #identity: StatementSync;
  readonly #secret: StatementSync;
  readonly #keyed: StatementSync;
  readonly #insertKey: StatementSync;

  /**
   * Opens the file, or makes it with its folder.
   * @throws CasebackError DAMAGED_JOURNAL when it is not a Caseback journal, or damaged; UNAVAILABLE when it is locked or
   * not accessible
   */
  constructor(file: string, { clock = () => new Date(), patience = 30_000 }: SqliteOptions = {}) {
    this.#file = file;
    this.#clock = clock;
    this.#writeTimeout = patience;
    try {
      this.#db = openDatabase(file);
      this.#insert = this.#db.prepare(
        `INSERT INTO entries (${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      );
      this.#last = this.#db.prepare(
        'SELECT sequence, hash, instant FROM entries ORDER BY sequence DESC LIMIT 1',
      );
      this.#range = this.#db.prepare(
        `SELECT ${COLUMNS} FROM entries WHERE sequence > ? AND sequence <= ? ORDER BY sequence LIMIT ?`,
      );
      // Instants never decrease along the journal, so an instant stands for a sequence.
      const lastAt = (bound: string) =>
        this.#db.prepare(
          `SELECT sequence FROM entries WHERE instant ${bound} ? ORDER BY instant DESC, sequence DESC LIMIT 1`,
        );
      this.#lastUntil = lastAt('<=');
      this.#lastBefore = lastAt('<');
      this.#identity = this.#db.prepare('SELECT identity FROM archive');
      this.#secret = this.#db.prepare("SELECT value FROM secrets WHERE name = 'state'");
      this.#keyed = this.#db.prepare('SELECT digest, first, last FROM appends WHERE key = ?');
      this.#insertKey = this.#db.prepare(
        'INSERT INTO appends (key, digest, first, last) VALUES (?, ?, ?, ?)',
      );
    } catch (error) {
      throw asJournalError(error, file);
    }
  }

  async append(changes: readonly Change[], options: AppendOptions = {}): Promise<readonly Entry[]> {
    const prepared = prepare(changes);
    const keyed = keyedOf(prepared, options);
    if (changes.length === 0 && keyed === undefined) return [];
    const deadline = performance.now() + this.#writeTimeout;
    // Waits by trying again, since SQLite's own waiting would hold up the whole process.
    for (let pause = 5; ; pause = Math.min(pause * 2, 100)) {
      try {
        return this.#write(prepared, options.expectedHead, keyed);
      } catch (error) {
        if (!isBusy(error) || performance.now() > deadline) throw asJournalError(error, this.#file);
      }
      await delay(pause);
    }
  }

  async *read(options?: ReadOptions): AsyncGenerator<readonly Entry[]> {
    for await (const batch of this.readStored(options)) {
      const entries: Entry[] = [];
      try {
        for (const stored of batch) entries.push(entryOf(stored));
      } catch (error) {
        if (entries.length > 0) yield entries;
        throw error;
      }
      yield entries;
    }
  }

  async *readStored(options: ReadOptions = {}): AsyncGenerator<readonly StoredEntry[]> {
    const bounds = boundsOf(options);
    const { since } = bounds;
    let { after } = bounds;
    if (since !== undefined)
      after = Math.max(
        after,
        this.#withJournalErrors(() => sequenceOf(this.#lastBefore, since)),
      );
    for (;;) {
      const { entries, failure } = this.#withJournalErrors(() => this.#batch({ ...bounds, after }));
      if (entries.length > 0) yield entries;
      if (failure) throw failure;
      if (entries.length < bounds.batchSize) return;
      after = entries[entries.length - 1].sequence;
      // Gives other requests a turn between long batches.
      await new Promise(setImmediate);
    }
  }

  async head(): Promise<Head> {
    const { sequence, hash } = this.#withJournalErrors(() => this.#lastRow());
    return { sequence, hash };
  }

  async identity(): Promise<string> {
    const row = this.#withJournalErrors(() => this.#identity.get());
    if (row === undefined)
      throw new CasebackError(
        'DAMAGED_JOURNAL',
        `The journal ${this.#file} has lost its identity; restore it from a copy`,
      );
    return row.identity as string;
  }

  async appended(key: string): Promise<Appended | undefined> {
    return this.#withJournalErrors(() => this.#appended(key));
  }

  async secret(): Promise<Uint8Array> {
    return Buffer.from(this.#withJournalErrors(() => this.#secret.get())?.value as string, 'hex');
  }

  watch(hint: () => void): () => void {
    // Counts up with every commit of another connection, and is read from shared memory.
    const version = () => (this.#db.isOpen ? this.#db.prepare('PRAGMA data_version').get() : undefined);
    let last = version()?.data_version;
    const timer = setInterval(() => {
      const now = version()?.data_version;
      if (now !== last) hint();
      last = now;
    }, WATCH_EVERY).unref();
    return () => clearInterval(timer);
  }

  async close(): Promise<void> {
    if (this.#db.isOpen) this.#db.close();
  }

  /**
   * One transaction from begin to end without yielding, so that appends of this process cannot mix.
   * @throws an error of SQLite with the code for busy when another process is writing
   */
  #write(
    prepared: readonly Prepared[],
    expectedHead: number | undefined,
    keyed: Keyed | undefined,
  ): readonly Entry[] {
    this.#begin();
    try {
      const before = keyed && this.#appended(keyed.key);
      if (before) {
        if (before.fingerprint !== keyed.fingerprint) throw keyReused();
        this.#db.exec('ROLLBACK');
        return before.entries;
      }
      const last = this.#lastRow();
      if (expectedHead !== undefined && expectedHead !== last.sequence)
        throw new HeadMoved(expectedHead, last.sequence);
      const links = chain(prepared, last, instantAfter(last.instant, this.#clock()));
      for (const { stored } of links) this.#store(stored);
      if (keyed)
        this.#insertKey.run(keyed.key, keyed.fingerprint, last.sequence + 1, last.sequence + links.length);
      this.#db.exec('COMMIT');
      return links.map(({ entry }) => entry);
    } catch (error) {
      if (this.#db.isTransaction) this.#db.exec('ROLLBACK');
      throw error;
    }
  }

  #appended(key: string): Appended | undefined {
    const row = this.#keyed.get(key) as
      | { readonly digest: string; readonly first: number; readonly last: number }
      | undefined;
    if (row === undefined) return undefined;
    const after = row.first - 1;
    const entries = this.#range.all(after, row.last, -1) as unknown as readonly StoredEntry[];
    return { fingerprint: row.digest, after, entries: entries.map(entryOf) };
  }

  /** Becomes the one writer, before the last entry is read, so that no other process can append in between. */
  #begin(): void {
    this.#db.exec('PRAGMA busy_timeout = 0');
    try {
      this.#db.exec('BEGIN IMMEDIATE');
    } finally {
      this.#db.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT}`);
    }
  }

  #lastRow(): Head & { readonly instant: string } {
    const row = this.#last.get() as (Head & { readonly instant: string }) | undefined;
    return row ?? { sequence: 0, hash: NO_HASH, instant: '' };
  }

  #store(entry: StoredEntry): void {
    const { sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version } = entry;
    this.#insert.run(sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version);
  }

  /** The next entries; where one cannot be read, those before it and why. */
  #batch({ after, upTo, until, batchSize }: Bounds): {
    entries: readonly StoredEntry[];
    failure?: DamagedEntry;
  } {
    const entries: StoredEntry[] = [];
    const last = until === undefined ? upTo : Math.min(upTo, sequenceOf(this.#lastUntil, until));
    try {
      for (const row of this.#range.iterate(after, last, batchSize))
        entries.push(row as unknown as StoredEntry);
    } catch (error) {
      if (!isDamage(error)) throw error;
      const sequence = (entries.at(-1)?.sequence ?? after) + 1;
      return { entries, failure: new DamagedEntry(sequence, (error as Error).message) };
    }
    return { entries };
  }

  #withJournalErrors<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      throw asJournalError(error, this.#file);
    }
  }
}

/** Sequence of the last entry that a statement finds, or 0. */
function sequenceOf(statement: StatementSync, instant: string): number {
  const row = statement.get(instant) as { readonly sequence: number } | undefined;
  return row?.sequence ?? 0;
}
