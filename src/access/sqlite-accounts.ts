import { closeSync, existsSync, mkdirSync, openSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync, type StatementSync } from 'node:sqlite';
import { CasebackError } from '../model/problems.ts';
import { MIGRATIONS, type Sql, SqlAccountStore } from './sql-store.ts';
import type { AccountStore } from './store.ts';

/** How long a statement waits for another process, in ms; each takes moments. */
const BUSY_TIMEOUT = 5_000;
/** "CasA" in ASCII: marks a SQLite file as accounts of ours. */
const APPLICATION_ID = 0x43617341;
/** SQLite: a key or a unique column is taken (extended result codes PRIMARYKEY and UNIQUE). */
const TAKEN = [1555, 2067];

/** The accounts of a data folder, beside its journal. */
export function accountsFile(folder: string): string {
  return join(folder, 'accounts.sqlite');
}

/**
 * The accounts of a data folder. The file is made with the first person, readable by its owner alone; until then, and while another
 * process has yet to make it, there is nobody.
 * @throws CasebackError CONFLICT when first used, where the file is another program's, or a newer version's
 */
export function sqliteAccounts(folder: string): AccountStore {
  const file = accountsFile(folder);
  const statements = new Map<string, StatementSync>();
  let db: DatabaseSync | undefined;
  const prepare = (statement: string) => {
    db ??= openAccounts(file);
    const made = statements.get(statement) ?? db.prepare(statement);
    statements.set(statement, made);
    return made;
  };
  const sql: Sql = {
    all: async (statement, values) => (db || existsSync(file) ? prepare(statement).all(...values) : []),
    async run(statement, values) {
      try {
        return Number(prepare(statement).run(...values).changes);
      } catch (error) {
        if (TAKEN.includes((error as { errcode?: number }).errcode ?? 0)) return 'taken';
        throw error;
      }
    },
    async close() {
      db?.close();
      db = undefined;
      statements.clear();
    },
  };
  return new SqlAccountStore(sql);
}

/**
 * Opens a file of accounts, or makes it, readable by its owner alone.
 * @throws CasebackError CONFLICT where the file is another program's, or a newer version's
 */
export function openAccounts(file: string): DatabaseSync {
  if (!existsSync(file)) {
    mkdirSync(dirname(file), { recursive: true });
    closeSync(openSync(file, 'a', 0o600));
  }
  const db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT });
  try {
    if (numberOf(db, 'user_version') !== MIGRATIONS.length) migrate(db, file);
    refuseForeign(db, file);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function migrate(db: DatabaseSync, file: string): void {
  // A rollback journal: the file alone is the whole, to be copied, and reading never writes.
  db.exec('PRAGMA journal_mode = DELETE; PRAGMA synchronous = FULL; BEGIN IMMEDIATE');
  try {
    const version = numberOf(db, 'user_version');
    const isNew = version === 0 && numberOf(db, 'application_id') === 0;
    if (!isNew) refuseForeign(db, file);
    for (const statement of MIGRATIONS.slice(version).flat()) db.exec(statement);
    db.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${MIGRATIONS.length}; COMMIT`);
  } catch (error) {
    if (db.isTransaction) db.exec('ROLLBACK');
    throw error;
  }
}

function refuseForeign(db: DatabaseSync, file: string): void {
  if (numberOf(db, 'application_id') !== APPLICATION_ID || numberOf(db, 'user_version') > MIGRATIONS.length)
    throw new CasebackError(
      'CONFLICT',
      `${file} does not hold accounts that this program can read; move it away, or use the program that wrote it`,
    );
}

function numberOf(db: DatabaseSync, pragma: 'application_id' | 'user_version'): number {
  return Number(db.prepare(`PRAGMA ${pragma}`).get()?.[pragma]);
}
