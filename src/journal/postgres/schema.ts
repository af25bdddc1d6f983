import { randomBytes, randomUUID } from 'node:crypto';
import type { ClientBase } from 'pg';
import { CasebackError } from '../../model/problems.ts';
import { NO_HASH } from '../journal.ts';
import { migrated, type Tables } from './migrate.ts';

// Only what every engine with this protocol has: tables, unique columns, row locks. Who wrote and why are stored in
// canonical JSON, as the hash covers them: the server's text cannot hold the character U+0000, JSON writes it as \u0000.
// The head is a row of its own, which whoever appends locks. That sequences and previous hashes are unique keeps two entries
// from ever following the same one, whatever writes here.
const ENTRIES_AND_HEAD = [
  `CREATE TABLE caseback_entries (
    sequence bigint PRIMARY KEY CHECK (sequence > 0),
    id text NOT NULL UNIQUE,
    instant text NOT NULL,
    actor text NOT NULL,
    reason text NOT NULL,
    kind text NOT NULL,
    payload text NOT NULL,
    previous_hash text NOT NULL UNIQUE,
    hash text NOT NULL,
    version integer NOT NULL
  )`,
  'CREATE INDEX caseback_entries_instant ON caseback_entries (instant, sequence)',
  `CREATE TABLE caseback_head (
    one integer PRIMARY KEY CHECK (one = 1),
    sequence bigint NOT NULL,
    hash text NOT NULL,
    instant text NOT NULL
  )`,
  `CREATE TABLE caseback_archive (
    one integer PRIMARY KEY CHECK (one = 1),
    identity text NOT NULL,
    secret text NOT NULL
  )`,
  `CREATE TABLE caseback_appends (
    key text PRIMARY KEY,
    digest text NOT NULL,
    first bigint NOT NULL,
    last bigint NOT NULL
  )`,
];

async function entriesAndHead(client: ClientBase): Promise<void> {
  for (const statement of ENTRIES_AND_HEAD) await client.query(statement);
  await client.query('INSERT INTO caseback_head (one, sequence, hash, instant) VALUES (1, 0, $1, $2)', [
    NO_HASH,
    '',
  ]);
  await client.query('INSERT INTO caseback_archive (one, identity, secret) VALUES (1, $1, $2)', [
    randomUUID(),
    randomBytes(32).toString('hex'),
  ]);
}

/** What brings a database from each version to the next, the first from 0; no entry changes. A version once used stays. */
const MIGRATIONS: readonly ((client: ClientBase) => Promise<unknown>)[] = [
  entriesAndHead,
  // Nothing asks for entries by instant: order is the sequence's.
  (client) => client.query('DROP INDEX IF EXISTS caseback_entries_instant'),
];

/**
 * Brings a database to today's form, or finds it so.
 * @param create whether tables may be made where there are none
 * @throws CasebackError NOT_FOUND when there are none and none may be made; DAMAGED_JOURNAL when a newer program made them, or
 * when the database cannot hold all characters
 */
export async function prepareDatabase(client: ClientBase, name: string, create: boolean): Promise<void> {
  if (await migrated(client, journalTables(name), create)) return;
  throw new CasebackError(
    'NOT_FOUND',
    `The database ${name} has no archive; "caseback create-archive" or an import makes one there`,
  );
}

/** The tables of the journal. @param name of the database, for messages */
export function journalTables(name: string): Tables {
  return {
    notes: 'caseback_migrations',
    steps: MIGRATIONS,
    tooNew: (version) =>
      new CasebackError(
        'DAMAGED_JOURNAL',
        `The journal in ${name} has version ${version}, and this program reads up to ${MIGRATIONS.length}; use a newer program`,
      ),
    before: (client) => mustHoldAllCharacters(client, name),
  };
}

async function mustHoldAllCharacters(client: ClientBase, name: string): Promise<void> {
  const { rows } = await client.query('SHOW server_encoding');
  if (/^utf-?8$/iu.test(rows[0].server_encoding)) return;
  throw new CasebackError(
    'DAMAGED_JOURNAL',
    `The database ${name} has the encoding ${rows[0].server_encoding}; create it with ENCODING 'UTF8'`,
  );
}
