import { randomBytes, randomUUID } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import { CasebackError } from '../../model/problems.ts';
import { MACHINE, type System } from './system.ts';

/** "Case" in ASCII: marks a SQLite file as a journal of ours. */
export const APPLICATION_ID = 0x43617365;
export const SCHEMA_VERSION = 5;
/** From this version on every journal can be opened. */
const OLDEST_VERSION = 1;
const VERSIONS_SINCE = 2;
const IDENTITY_SINCE = 3;
const SECRETS_SINCE = 4;

// The payload is stored in canonical form, the exact text its hash covers, so that anyone with `sqlite3` and `sha256sum`
// can check an entry without this program. Replacing a row would delete one without firing the second trigger, so the
// third refuses whatever does not follow the last entry.
const ENTRIES = `
  CREATE TABLE entries (
    sequence INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    instant TEXT NOT NULL,
    actor TEXT NOT NULL,
    reason TEXT NOT NULL,
    kind TEXT NOT NULL,
    payload TEXT NOT NULL,
    previousHash TEXT NOT NULL,
    hash TEXT NOT NULL,
    version INTEGER NOT NULL DEFAULT 1
  ) STRICT;
  CREATE TRIGGER entries_are_never_changed BEFORE UPDATE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER entries_are_never_removed BEFORE DELETE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER entries_follow_one_another BEFORE INSERT ON entries
    WHEN NEW.sequence <> 1 + coalesce((SELECT max(sequence) FROM entries), 0)
      OR NEW.previousHash <> coalesce(
        (SELECT hash FROM entries ORDER BY sequence DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000')
    BEGIN SELECT RAISE(ABORT, 'an entry must follow the last one'); END;
  PRAGMA application_id = ${APPLICATION_ID};
`;

// The archive's own id: by it a copy is known from another archive. `appends` has what was appended under a key of the
// caller's, so that a change asked for again is not made twice.
const IDENTITY_AND_KEYS = `
  CREATE TABLE archive (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    identity TEXT NOT NULL
  ) STRICT;
  CREATE TRIGGER identity_is_never_changed BEFORE UPDATE ON archive
    BEGIN SELECT RAISE(ABORT, 'the identity of an archive stays'); END;
  CREATE TRIGGER identity_is_never_removed BEFORE DELETE ON archive
    BEGIN SELECT RAISE(ABORT, 'the identity of an archive stays'); END;
  CREATE TABLE appends (
    key TEXT PRIMARY KEY,
    digest TEXT NOT NULL,
    first INTEGER NOT NULL,
    last INTEGER NOT NULL
  ) STRICT;
`;

// Random bytes in hexadecimal that nobody but the holder of the file knows.
const SECRETS = `
  CREATE TABLE secrets (
    name TEXT PRIMARY KEY,
    value TEXT NOT NULL
  ) STRICT;
`;

/** What brings a journal from each version to the next, the first from 1 to 2; no entry changes. */
const STEPS: readonly ((db: DatabaseSync) => void)[] = [
  (db) => db.exec('ALTER TABLE entries ADD COLUMN version INTEGER NOT NULL DEFAULT 1'),
  (db) => addIdentityAndKeys(db),
  addSecrets,
  // Nothing asks for entries by instant: order is the sequence's.
  (db) => db.exec('DROP INDEX IF EXISTS entries_instant'),
];

/**
 * Opens a journal file, or makes it.
 * @param identity of the archive, where the file is made
 */
export function openDatabase(
  file: string,
  identity: string = randomUUID(),
  system: System = MACHINE,
): DatabaseSync {
  const db = system.openDatabase(file, 'write');
  try {
    if (!isNew(db)) {
      refuseForeign(db, file, false);
      upgrade(db);
    }
    setUp(db);
    if (isNew(db)) create(db, identity);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** How a connection that writes goes about it. */
export function setUp(db: DatabaseSync): void {
  // `fullfsync` matters on macOS only, where a plain fsync may stop in the drive's cache.
  db.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA fullfsync = ON;');
  // A large import leaves a large log; it is cut back once its content is in the database.
  db.exec('PRAGMA journal_size_limit = 16777216');
}

function create(db: DatabaseSync, identity: string): void {
  db.exec('BEGIN IMMEDIATE');
  try {
    // Another process may have made it while this one waited.
    if (isNew(db)) createTables(db, identity);
    db.exec('COMMIT');
  } catch (error) {
    if (db.isTransaction) db.exec('ROLLBACK');
    throw error;
  }
}

/** Makes the tables of a journal in a database that has none. */
export function createTables(db: DatabaseSync, identity: string = randomUUID()): void {
  db.exec(ENTRIES);
  addIdentityAndKeys(db, identity);
  addSecrets(db);
  db.exec(`PRAGMA user_version = ${SCHEMA_VERSION}`);
}

function addIdentityAndKeys(db: DatabaseSync, identity: string = randomUUID()): void {
  db.exec(IDENTITY_AND_KEYS);
  db.prepare('INSERT INTO archive (only, identity) VALUES (1, ?)').run(identity);
}

function addSecrets(db: DatabaseSync): void {
  db.exec(SECRETS);
  db.prepare("INSERT INTO secrets (name, value) VALUES ('state', ?)").run(randomBytes(32).toString('hex'));
}

/** Brings a journal of an older version to today's, in one transaction. */
export function upgrade(db: DatabaseSync): void {
  if (pragma(db, 'user_version') === SCHEMA_VERSION) return;
  db.exec('BEGIN IMMEDIATE');
  try {
    // Read again: another process may have done it while this one waited.
    const version = pragma(db, 'user_version') as number;
    for (const step of STEPS.slice(version - OLDEST_VERSION)) step(db);
    db.exec(`PRAGMA user_version = ${SCHEMA_VERSION}`);
    db.exec('COMMIT');
  } catch (error) {
    if (db.isTransaction) db.exec('ROLLBACK');
    throw error;
  }
}

/** Whether a journal is of an older program, which it stays while it cannot be written. */
export function isOlder(db: DatabaseSync): boolean {
  return (pragma(db, 'user_version') as number) < SCHEMA_VERSION;
}

/** Whether a journal has an identity: those of older programs get it when they are first opened to be written. */
export function hasIdentity(db: DatabaseSync): boolean {
  return (pragma(db, 'user_version') as number) >= IDENTITY_SINCE;
}

/** Whether a journal has the secret of its state tokens. */
export function hasSecrets(db: DatabaseSync): boolean {
  return (pragma(db, 'user_version') as number) >= SECRETS_SINCE;
}

/** Whether the entries of a journal say of which version they are. */
export function hasVersions(db: DatabaseSync): boolean {
  return (pragma(db, 'user_version') as number) >= VERSIONS_SINCE;
}

/** Whether nothing is in a database yet. */
export function isNew(db: DatabaseSync): boolean {
  const { n } = db.prepare('SELECT count(*) AS n FROM sqlite_schema').get() as { n: number };
  return n === 0 && pragma(db, 'application_id') === 0 && pragma(db, 'user_version') === 0;
}

/**
 * @param wasJournal whether it is known to have been one
 * @throws CasebackError BAD_INPUT for a database that is not a journal; DAMAGED_JOURNAL for one that was, and for one of a newer
 * program
 */
export function refuseForeign(db: DatabaseSync, file: string, wasJournal: boolean): void {
  if (pragma(db, 'application_id') !== APPLICATION_ID)
    throw wasJournal
      ? new CasebackError(
          'DAMAGED_JOURNAL',
          `The journal ${file} does not say any more that it is one: it is damaged, or another database has taken its place; restore it from a copy`,
        )
      : new CasebackError(
          'BAD_INPUT',
          `${file} is a database, but not a Caseback journal; name another file or folder`,
        );
  const version = pragma(db, 'user_version') as number;
  if (version < OLDEST_VERSION || version > SCHEMA_VERSION)
    throw new CasebackError(
      'DAMAGED_JOURNAL',
      `The journal ${file} has version ${version}, and this program reads versions ${OLDEST_VERSION} to ${SCHEMA_VERSION}; use the program that wrote it, or a newer one`,
    );
}

function pragma(db: DatabaseSync, name: 'application_id' | 'user_version'): unknown {
  return db.prepare(`PRAGMA ${name}`).get()?.[name];
}
