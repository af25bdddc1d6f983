import { randomBytes, randomUUID } from 'node:crypto';
import { setTimeout as delay } from 'node:timers/promises';
import type { ClientBase } from 'pg';
import { CasebackError } from '../../model/problems.ts';
import { NO_HASH } from '../journal.ts';
import { isMadeAlready, isMissingTable, isRepeatable } from './postgres-errors.ts';

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
const MIGRATIONS: readonly ((client: ClientBase) => Promise<void>)[] = [entriesAndHead];

/** Times that two processes which open an empty database at once may get in each other's way. */
const TRIES = 20;

/**
 * Brings a database to today's form, or finds it so.
 * @param create whether tables may be made where there are none
 * @throws CasebackError NOT_FOUND when there are none and none may be made; DAMAGED_JOURNAL when a newer program made them, or
 * when the database cannot hold all characters
 */
export async function prepareDatabase(client: ClientBase, name: string, create: boolean): Promise<void> {
  for (let left = TRIES; ; left--) {
    try {
      const version = await versionOf(client);
      if (version === MIGRATIONS.length) return;
      if (version > MIGRATIONS.length)
        throw new CasebackError(
          'DAMAGED_JOURNAL',
          `The journal in ${name} has version ${version}, and this program reads up to ${MIGRATIONS.length}; use a newer program`,
        );
      if (version === 0 && !create)
        throw new CasebackError(
          'NOT_FOUND',
          `The database ${name} has no archive; "caseback create-archive" or an import makes one there`,
        );
      await migrate(client, name, version);
    } catch (error) {
      await client.query('ROLLBACK').catch(() => undefined);
      if (left === 0 || !(isMadeAlready(error) || isRepeatable(error))) throw error;
      await delay(20 + Math.random() * 100);
    }
  }
}

/** The version of a database, 0 where it has none of our tables. */
async function versionOf(client: ClientBase): Promise<number> {
  try {
    const { rows } = await client.query('SELECT max(version) AS version FROM caseback_migrations');
    return Number(rows[0].version ?? 0);
  } catch (error) {
    if (isMissingTable(error)) return 0;
    throw error;
  }
}

/** One step, in a transaction that the next program to try it waits for, or fails on, and then finds done. */
async function migrate(client: ClientBase, name: string, from: number): Promise<void> {
  if (from === 0) {
    const { rows } = await client.query('SHOW server_encoding');
    if (!/^utf-?8$/iu.test(rows[0].server_encoding))
      throw new CasebackError(
        'DAMAGED_JOURNAL',
        `The database ${name} has the encoding ${rows[0].server_encoding}; create it with ENCODING 'UTF8'`,
      );
    await client.query('CREATE TABLE IF NOT EXISTS caseback_migrations (version integer PRIMARY KEY)');
  }
  await client.query('BEGIN');
  await client.query('INSERT INTO caseback_migrations (version) VALUES ($1)', [from + 1]);
  await MIGRATIONS[from](client);
  await client.query('COMMIT');
}
