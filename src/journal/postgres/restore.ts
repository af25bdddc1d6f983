import type { ClientBase } from 'pg';
import { CasebackError } from '../../model/problems.ts';
import type { KeptKey } from '../journal.ts';
import type { StoredEntry } from '../stored.ts';
import { Connections } from './connections.ts';
import { makeWithin } from './migrate.ts';
import { isMadeAlready, isMissingTable, isOutOfReach } from './postgres-errors.ts';
import { insertEntries, insertKeys, movingHead } from './rows.ts';
import { journalTables, prepareDatabase } from './schema.ts';

/** What is put into a database. */
export interface Restored {
  /** Identity of the archive that the entries belong to. */
  readonly identity: string;
  readonly entries: AsyncIterable<readonly StoredEntry[]>;
  /** Idempotency keys, complete once the entries were read. */
  readonly keys: readonly KeptKey[];
}

/** How long the database lets this transaction wait for the file that it is read from, ms. */
const IDLE_TIMEOUT = 10 * 60_000;
const PATIENCE = { reach: 5_000, turn: 30_000, statement: 60_000 };

/**
 * Writes the entries of another store into a database that has none, in one transaction: tables, entries, keys and identity are
 * there together, or nothing is. Entries that refuse to be read end it.
 * @param also what else belongs into the same transaction
 * @throws CasebackError CONFLICT when the database has entries; UNAVAILABLE; what reading the entries throws
 */
export async function restoreIntoDatabase(
  url: string,
  { identity, entries, keys }: Restored,
  also: (client: ClientBase) => Promise<void>,
): Promise<void> {
  const connections = new Connections(url, PATIENCE);
  const { name } = connections;
  let isCommitting = false;
  await connections
    .once(async (client) => {
      await client.query(`SET idle_in_transaction_session_timeout = ${IDLE_TIMEOUT}`).catch(unlessLost);
      const hasTables = await isJournalThere(client);
      // An empty journal of an older program is brought to today's form before.
      if (hasTables) await prepareDatabase(client, name, false);
      await client.query('BEGIN');
      try {
        if (!hasTables) await makeWithin(client, journalTables(name));
        await mustBeEmpty(client, name);
        let last: StoredEntry | undefined;
        for await (const batch of entries) {
          await insertEntries(client, batch);
          last = batch.at(-1) ?? last;
        }
        await insertKeys(client, keys);
        await client.query('UPDATE caseback_archive SET identity = $1 WHERE one = 1', [identity]);
        if (last) await client.query(movingHead(client, last));
        await also(client);
        isCommitting = true;
        await client.query('COMMIT');
      } catch (error) {
        if (!isOutOfReach(error)) await client.query('ROLLBACK').catch(() => undefined);
        throw isMadeAlready(error) ? madeMeanwhile(name) : error;
      }
      await connections.notify(client);
    })
    .catch((error: unknown) => {
      throw isCommitting && error instanceof CasebackError && error.code === 'UNAVAILABLE'
        ? new CasebackError(
            'UNAVAILABLE',
            `${error.message}. Whether the archive was restored is not known: "caseback verify" tells`,
          )
        : error;
    });
}

async function isJournalThere(client: ClientBase): Promise<boolean> {
  try {
    await client.query('SELECT 1 FROM caseback_head');
    return true;
  } catch (error) {
    if (isMissingTable(error)) return false;
    throw error;
  }
}

/** Locks the head as whoever appends does, so that nobody writes the first entry meanwhile. */
async function mustBeEmpty(client: ClientBase, name: string): Promise<void> {
  const { rows } = await client.query('SELECT sequence FROM caseback_head WHERE one = 1 FOR UPDATE');
  const found = await client.query('SELECT count(*) AS entries FROM caseback_entries');
  const keys = await client.query('SELECT count(*) AS keys FROM caseback_appends');
  const [entries, used] = [Number(found.rows[0].entries), Number(keys.rows[0].keys)];
  if (rows.length === 1 && Number(rows[0].sequence) === 0 && entries === 0 && used === 0) return;
  throw new CasebackError(
    'CONFLICT',
    `The database ${name} has an archive already, and nothing is ever written over one; name an empty database, or an empty schema of it`,
  );
}

function madeMeanwhile(name: string): CasebackError {
  return new CasebackError(
    'CONFLICT',
    `An archive was made in the database ${name} meanwhile; nothing was restored`,
  );
}

/** An engine that lacks the setting does without. */
function unlessLost(error: unknown): void {
  if (isOutOfReach(error)) throw error;
}
