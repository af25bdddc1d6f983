import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import type { ClientBase } from 'pg';
import { Connections } from '../journal/postgres/connections.ts';
import { makeWithin } from '../journal/postgres/migrate.ts';
import { isMissingTable } from '../journal/postgres/postgres-errors.ts';
import { CasebackError } from '../model/problems.ts';
import { tablesIn } from './postgres-accounts.ts';
import { openAccounts } from './sqlite-accounts.ts';

// A backup keeps people and the digests of their tokens, so that whoever has a token can go on signing in. Sessions are left
// out: they end within a day, and the digest of one is no use to anybody but a thief. Whatever store the accounts are in, a
// backup has them as the file accounts.sqlite, so that it can be restored into the other.

/** What is kept, in the order in which it is put back. */
const KEPT = {
  access_people: ['key', 'name', 'display_name', 'role', 'state', 'subject', 'added'],
  access_tokens: ['id', 'digest', 'person', 'label', 'created', 'expires', 'last_used'],
} as const;
const TABLES = Object.keys(KEPT) as (keyof typeof KEPT)[];
const PATIENCE = { reach: 5_000, turn: 10_000, statement: 30_000 };

/**
 * The accounts of a data folder's file as a file without sessions, at one instant, with what its log holds.
 * @param file accounts.sqlite
 */
export function accountsInFolder(file: string): Uint8Array {
  return inScratch((copy) => {
    const db = new DatabaseSync(file, { readOnly: true });
    try {
      db.prepare('VACUUM INTO ?').run(copy);
    } finally {
      db.close();
    }
    const copied = new DatabaseSync(copy);
    try {
      // What was deleted must not be found between the pages.
      const table = "SELECT 1 FROM sqlite_schema WHERE name = 'access_sessions'";
      if (copied.prepare(table).get())
        copied.exec('PRAGMA secure_delete = ON; DELETE FROM access_sessions; VACUUM');
    } finally {
      copied.close();
    }
    return readFileSync(copy);
  });
}

/** The accounts of a database as such a file, as one transaction sees them; undefined where there never were any. */
export async function accountsInDatabase(url: string): Promise<Uint8Array | undefined> {
  const rows = await new Connections(url, PATIENCE).once(async (client) => {
    await client.query('BEGIN TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY');
    try {
      const read = [];
      for (const table of TABLES) {
        const { rows } = await client.query(`SELECT ${KEPT[table].join(', ')} FROM ${table}`);
        read.push(rows as Record<string, string | null>[]);
      }
      return read;
    } catch (error) {
      if (isMissingTable(error)) return undefined;
      throw error;
    } finally {
      await client.query('ROLLBACK').catch(() => undefined);
    }
  });
  return (
    rows &&
    inScratch((file) => {
      const db = openAccounts(file);
      try {
        for (const [i, table] of TABLES.entries()) {
          const columns = KEPT[table];
          const insert = db.prepare(insertion(table, () => '?'));
          for (const row of rows[i]) insert.run(...columns.map((column) => row[column]));
        }
      } finally {
        db.close();
      }
      return readFileSync(file);
    })
  );
}

/**
 * Puts accounts of a backup into a database, within the caller's transaction.
 * @param name of the database, for messages
 * @returns false, and nothing is written, where the database has people already
 * @throws CasebackError BAD_INPUT for a file that is not accounts of ours
 */
export async function putAccounts(client: ClientBase, name: string, content: Uint8Array): Promise<boolean> {
  const kept = inScratch((file) => rowsIn(file, content));
  const { rows: tables } = await client.query(
    "SELECT 1 FROM information_schema.tables WHERE table_name = 'access_migrations' AND table_schema = current_schema()",
  );
  if (tables.length === 0) await makeWithin(client, tablesIn(name));
  const { rows: people } = await client.query('SELECT key FROM access_people LIMIT 1');
  if (people.length > 0) return false;
  for (const [i, table] of TABLES.entries())
    for (const row of kept[i])
      await client.query(
        insertion(table, (column) => `$${column + 1}`),
        KEPT[table].map((column) => row[column]),
      );
  return true;
}

function rowsIn(file: string, content: Uint8Array): readonly (readonly Record<string, unknown>[])[] {
  writeFileSync(file, content, { mode: 0o600 });
  try {
    const db = openAccounts(file);
    try {
      return TABLES.map((table) => db.prepare(`SELECT ${KEPT[table].join(', ')} FROM ${table}`).all());
    } finally {
      db.close();
    }
  } catch (error) {
    throw new CasebackError(
      'BAD_INPUT',
      `The accounts of the backup cannot be read (${(error as Error).message}); use another backup`,
    );
  }
}

function insertion(table: keyof typeof KEPT, placeholder: (column: number) => string): string {
  const columns = KEPT[table];
  return `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map((_, i) => placeholder(i)).join(', ')})`;
}

/** Works on a file in a folder that only its owner may enter, and takes it away. */
function inScratch<T>(work: (file: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-'));
  try {
    return work(join(folder, 'accounts.sqlite'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
