import { randomBytes } from 'node:crypto';
import type { DatabaseSync, StatementSync } from 'node:sqlite';
import { setTimeout as delay } from 'node:timers/promises';
import type { Change, Entry } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import { chain, instantAfter, type Prepared, prepare } from '../chain.ts';
import { checkedEntries, wholeEntry } from '../checked.ts';
import { DamagedEntry, HeadMoved } from '../errors.ts';
import {
  type Appended,
  type AppendOptions,
  type Head,
  type Inspection,
  type Journal,
  type KeptKey,
  NO_HASH,
  type ReadOptions,
} from '../journal.ts';
import { type Keyed, keyedOf, keyReused } from '../keys.ts';
import { type Bounds, boundsOf } from '../read-options.ts';
import { type StoredEntry, storedFrom } from '../stored.ts';
import { HeadFile, type HeadNote } from './head-file.ts';
import { faultsOfDatabase } from './inspect.ts';
import { KeptPlace } from './kept-place.ts';
import { noteOf, type Opened, type OpenOptions, openJournalFile } from './open.ts';
import { hasIdentity, hasSecrets, hasVersions } from './schema.ts';
import { asJournalError, isBusy, isDamage } from './sqlite-errors.ts';
import { BUSY_TIMEOUT, MACHINE } from './system.ts';

/** How often commits of other processes are looked for, in ms. */
const WATCH_EVERY = 100;

const COLUMNS = 'sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version';

/** How long after a change of one entry its log is brought into the file, in ms; after larger ones at once. */
const CHECKPOINT_AFTER = 1_000;

export interface SqliteOptions extends OpenOptions {
  /** @default the system's clock */
  readonly clock?: () => Date;
  /** How long an append waits for another process to finish writing, in ms. @default 30000 */
  readonly patience?: number;
  /** Whether entries may be dated over a year past the last one. @default CASEBACK_ALLOW_CLOCK_LEAP */
  readonly allowClockLeap?: boolean | undefined;
  /** Is told what is not as it should be and keeps nothing from being done. */
  readonly warn?: (message: string) => void;
}

/**
 * The journal in one SQLite file: write-ahead log, every commit flushed to disk, at most one writer at a time
 * across processes, readers never held up. The file must be on a disk of this machine: the log needs shared memory.
 */
export class SqliteJournal implements Journal {
  readonly #file: string;
  readonly #clock: () => Date;
  readonly #writeTimeout: number;
  readonly #allowsLeap: boolean | undefined;
  readonly #warn: (message: string) => void;
  readonly #opened: Opened;
  readonly #stamp: string | undefined;
  readonly #head: HeadFile;
  readonly #whatIsWhole: boolean;
  readonly #db: DatabaseSync;
  readonly #insert: StatementSync | undefined;
  readonly #last: StatementSync;
  readonly #range: StatementSync;
  readonly #identity: StatementSync | undefined;
  readonly #secret: StatementSync | undefined;
  readonly #ownSecret = randomBytes(32);
  readonly #keyed: StatementSync | undefined;
  readonly #insertKey: StatementSync | undefined;
  /** Undefined where nothing can be written. */
  readonly #place: KeptPlace | undefined;
  /** Sequence that the note beside the file is known to hold. */
  #noted: number;
  #checkpoint: NodeJS.Timeout | undefined;

  /**
   * Opens the file, or makes it with its folder. Where it cannot be written it is opened to be read.
   * @throws CasebackError DAMAGED_JOURNAL when it is not a Caseback journal, is damaged or has lost entries; UNAVAILABLE when it
   * is locked or not accessible; NOT_FOUND when there is none and it is only to be read
   */
  constructor(file: string, options: SqliteOptions = {}) {
    const { clock = () => new Date(), patience = 30_000, warn = () => undefined } = options;
    this.#file = file;
    this.#clock = clock;
    this.#writeTimeout = patience;
    this.#allowsLeap = options.allowClockLeap;
    this.#warn = warn;
    this.#whatIsWhole = options.whatIsWhole ?? false;
    this.#head = new HeadFile(file, options.system);
    try {
      this.#opened = openJournalFile(file, options);
    } catch (error) {
      throw asJournalError(error, file);
    }
    const { db, note, wrong, unwritable } = this.#opened;
    try {
      this.#db = db;
      this.#stamp = this.#opened.stamp?.();
      const columns = hasVersions(db) ? COLUMNS : COLUMNS.replace('version', '1 AS version');
      if (unwritable === undefined)
        this.#insert = db.prepare(`INSERT INTO entries (${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`);
      this.#last = db.prepare('SELECT sequence, hash, instant FROM entries ORDER BY sequence DESC LIMIT 1');
      this.#range = db.prepare(
        `SELECT ${columns} FROM entries WHERE sequence > ? AND sequence <= ? ORDER BY sequence LIMIT ?`,
      );
      this.#identity = hasIdentity(db) ? db.prepare('SELECT identity FROM archive') : undefined;
      this.#keyed = hasIdentity(db)
        ? db.prepare('SELECT digest, first, last FROM appends WHERE key = ?')
        : undefined;
      this.#secret = hasSecrets(db)
        ? db.prepare("SELECT value FROM secrets WHERE name = 'state'")
        : undefined;
      if (unwritable === undefined)
        this.#insertKey = db.prepare('INSERT INTO appends (key, digest, first, last) VALUES (?, ?, ?, ?)');
      this.#noted = note?.entries ?? this.#lastRow().sequence;
      if (unwritable === undefined) {
        this.#place = new KeptPlace(file, options.system ?? MACHINE);
        this.#note();
      }
      if (wrong) warn(wrong.message);
    } catch (error) {
      this.#opened.close();
      throw wrong ?? asJournalError(error, file);
    }
  }

  async append(changes: readonly Change[], options: AppendOptions = {}): Promise<readonly Entry[]> {
    const prepared = prepare(changes);
    const keyed = keyedOf(prepared, options);
    if (changes.length === 0 && keyed === undefined) return [];
    const { unwritable } = this.#opened;
    if (unwritable !== undefined)
      throw new CasebackError('UNAVAILABLE', `The journal ${this.#file} ${unwritable}`);
    const deadline = performance.now() + this.#writeTimeout;
    // Waits by trying again, since SQLite's own waiting would hold up the whole process.
    for (let pause = 5; ; pause = Math.min(pause * 2, 100)) {
      try {
        const entries = this.#write(prepared, options.expectedHead, keyed);
        this.#committed(entries);
        return entries;
      } catch (error) {
        if (!isBusy(error) || performance.now() > deadline) throw asJournalError(error, this.#file);
      }
      await delay(pause);
    }
  }

  async *read(options: ReadOptions = {}): AsyncGenerator<readonly Entry[]> {
    const { after, upTo } = boundsOf(options);
    let last = after;
    // As it is before reading: what others append meanwhile is not missing where it comes too late to be read.
    const { sequence } = this.#withJournalErrors(() => this.#lastRow());
    try {
      const { afterHash: hash } = options;
      const before = hash === undefined ? this.#headAt(after) : { sequence: after, hash };
      for await (const entries of checkedEntries(this.readStored(options), before)) {
        last += entries.length;
        yield entries;
      }
      if (last < Math.min(upTo, sequence)) throw new DamagedEntry(last + 1, 'it is missing');
    } catch (error) {
      if (!this.#whatIsWhole || !(error instanceof DamagedEntry)) throw error;
      this.#warn(`${error.message}. What stands before it is whole and was read.`);
    }
  }

  async *readStored(options: ReadOptions = {}): AsyncGenerator<readonly StoredEntry[]> {
    const bounds = boundsOf(options);
    let { after } = bounds;
    this.#refuseChanged();
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

  async identity(): Promise<string | undefined> {
    const statement = this.#identity;
    if (statement === undefined) return undefined;
    const row = this.#withJournalErrors(() => statement.get());
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

  async keys(): Promise<readonly KeptKey[]> {
    if (!this.#keyed) return [];
    const statement = 'SELECT key, digest AS fingerprint, first, last FROM appends ORDER BY last, first, key';
    const rows = this.#withJournalErrors(() => this.#db.prepare(statement).all());
    return rows.map((row) => ({ ...row }) as unknown as KeptKey);
  }

  async secret(): Promise<Uint8Array> {
    // A file of an older program that cannot be written has none: then it is that of this process.
    const value = this.#withJournalErrors(() => this.#secret?.get())?.value;
    return typeof value === 'string' ? Buffer.from(value, 'hex') : this.#ownSecret;
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

  /** SQLite's own check of every page and index, the tables and triggers, and the note beside the file. */
  async inspect(): Promise<Inspection> {
    const { wrong } = this.#opened;
    const damage = [...(wrong ? [wrong.message] : []), ...faultsOfDatabase(this.#db)];
    const hasNote = wrong !== undefined || this.#opened.note !== undefined || this.#head.exists();
    const missing = `There is no ${this.#head.path} to hold it against, as beside a copy of the file alone: entries cut off at the end would not show. The next change writes it.`;
    return { damage, notes: hasNote ? [] : [missing] };
  }

  async close(): Promise<void> {
    clearTimeout(this.#checkpoint);
    if (!this.#db.isOpen) return;
    if (this.#insert && this.#isInPlace()) {
      this.#note();
      this.#emptyLog();
    }
    this.#opened.close();
  }

  /** Notes beside the file how far it has come, and brings the log into it: a copy of the file alone is whole then. */
  #committed(entries: readonly Entry[]): void {
    this.#note();
    clearTimeout(this.#checkpoint);
    if (entries.length > 1 || entries[0]?.sequence === 1) this.#emptyLog();
    else
      this.#checkpoint = setTimeout(() => {
        if (this.#db.isOpen && this.#isInPlace()) this.#emptyLog();
      }, CHECKPOINT_AFTER).unref();
  }

  /** Whether the file is still the one in the folder; says what is wrong where it is not. */
  #isInPlace(): boolean {
    try {
      this.#place?.mustBeSame(this.#lastRow(), this.#noted);
      return true;
    } catch (error) {
      this.#warn(asMessage(asJournalError(error, this.#file)));
      return false;
    }
  }

  /** What was appended is durable already, so that nothing here makes an append fail. */
  #note(): void {
    try {
      // Another process may append meanwhile and be noted first; whoever notes last looks again.
      for (let last = this.#lastRow(); last.sequence !== this.#noted; last = this.#lastRow()) {
        this.#head.write(noteOf(this.#db) as HeadNote);
        this.#noted = last.sequence;
      }
    } catch (error) {
      this.#warn(
        `${this.#head.path}, which notes how long the journal is, could not be written (${(error as Error).message}); until it can, lost entries may go unnoticed`,
      );
    }
  }

  #emptyLog(): void {
    if (!this.#db.isOpen) return;
    try {
      // Without waiting for others who read: what they still need stays in the log until the next time.
      this.#db.exec('PRAGMA busy_timeout = 0; PRAGMA wal_checkpoint(TRUNCATE)');
    } catch (error) {
      if (!isBusy(error))
        this.#warn(`${asMessage(asJournalError(error, this.#file))}; what it has is in its log and safe`);
    } finally {
      this.#db.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT}`);
      this.#place?.renew();
    }
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
      // While nobody else can write.
      const last = this.#lastRow();
      this.#place?.mustBeSame(last, this.#noted);
      const before = keyed && this.#appended(keyed.key);
      if (before) {
        if (before.fingerprint !== keyed.fingerprint) throw keyReused();
        this.#db.exec('ROLLBACK');
        return before.entries;
      }
      if (expectedHead !== undefined && expectedHead !== last.sequence)
        throw new HeadMoved(expectedHead, last.sequence);
      const links = chain(prepared, last, instantAfter(last.instant, this.#clock(), this.#allowsLeap));
      for (const { stored } of links) this.#store(stored);
      if (keyed)
        this.#insertKey?.run(keyed.key, keyed.fingerprint, last.sequence + 1, last.sequence + links.length);
      this.#db.exec('COMMIT');
      this.#place?.renew();
      return links.map(({ entry }) => entry);
    } catch (error) {
      if (this.#db.isTransaction) this.#db.exec('ROLLBACK');
      throw error;
    }
  }

  #appended(key: string): Appended | undefined {
    const row = this.#keyed?.get(key) as
      | { readonly digest: string; readonly first: number; readonly last: number }
      | undefined;
    if (row === undefined) return undefined;
    const after = row.first - 1;
    const entries = this.#range.all(after, row.last, -1).map((one) => wholeEntry(storedFrom(one)));
    return { fingerprint: row.digest, after, entries };
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
    this.#insert?.run(sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version);
  }

  /** The entry of a sequence, or the last one where there is none; what follows is held against it. */
  #headAt(sequence: number): Head {
    if (sequence === 0) return { sequence: 0, hash: NO_HASH };
    const [row] = this.#withJournalErrors(() => this.#range.all(sequence - 1, sequence, 1));
    return row === undefined
      ? { sequence, hash: NO_HASH }
      : { sequence, hash: typeof row.hash === 'string' ? row.hash : NO_HASH };
  }

  /** @throws CasebackError UNAVAILABLE when a file was written that was opened as one that nobody writes */
  #refuseChanged(): void {
    if (this.#stamp !== undefined && this.#opened.stamp?.() !== this.#stamp)
      throw new CasebackError(
        'UNAVAILABLE',
        `The journal ${this.#file} was written by another process since it was opened in a folder that cannot be written; open it again`,
      );
  }

  /** The next entries; where one cannot be read, those before it and why. */
  #batch({ after, upTo, batchSize }: Bounds): {
    entries: readonly StoredEntry[];
    failure?: DamagedEntry;
  } {
    const entries: StoredEntry[] = [];
    try {
      for (const row of this.#range.iterate(after, upTo, batchSize)) entries.push(storedFrom(row));
    } catch (error) {
      if (error instanceof DamagedEntry) return { entries, failure: error };
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

function asMessage(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
