import { closeSync, existsSync, mkdirSync, openSync } from 'node:fs';
import { dirname } from 'node:path';
import { DatabaseSync, type StatementSync } from 'node:sqlite';
import { CasebackError } from '../model/problems.ts';
import type { Sql } from './sql-store.ts';

/** How long a statement waits for another process, in ms; each takes moments. */
const BUSY_TIMEOUT = 5_000;
/** SQLite: a key or a unique column is taken (extended result codes PRIMARYKEY and UNIQUE). */
const TAKEN = [1555, 2067];

/** SQLite: busy, locked, not writable, a trouble of the system, full, cannot be opened (https://www.sqlite.org/rescode.html). */
const PASSING: ReadonlySet<number> = new Set([5, 6, 8, 10, 13, 14]);

/** What a SQLite file of ours holds. */
export interface SqliteTables {
  /** Four letters in ASCII that mark the file as ours. */
  readonly applicationId: number;
  /** What it holds, for messages, such as "accounts". */
  readonly what: string;
  /** Statements of each step of the tables, each run once. */
  readonly migrations: readonly (readonly string[])[];
}

/**
 * A file of ours as statements see it. It is made with the first change, readable by its owner alone; until then, and while another
 * process has yet to make it, it is blank.
 * @throws CasebackError CONFLICT when first used, where the file is another program's, or a newer version's; UNAVAILABLE for one that is
 * damaged, or cannot be read or written just now
 */
export function sqliteSql(file: string, tables: SqliteTables): Sql {
  const statements = new Map<string, StatementSync>();
  let db: DatabaseSync | undefined;
  const prepare = (statement: string) => {
    db ??= openTables(file, tables);
    const made = statements.get(statement) ?? db.prepare(statement);
    statements.set(statement, made);
    return made;
  };
  return {
    async all(statement, values) {
      try {
        return db || existsSync(file) ? prepare(statement).all(...values) : [];
      } catch (error) {
        throw told(error, file, tables);
      }
    },
    async run(statement, values) {
      try {
        return Number(prepare(statement).run(...values).changes);
      } catch (error) {
        if (TAKEN.includes((error as { errcode?: number }).errcode ?? 0)) return 'taken';
        throw told(error, file, tables);
      }
    },
    async close() {
      db?.close();
      db = undefined;
      statements.clear();
    },
  };
}

/**
 * Opens a file of ours, or makes it, readable by its owner alone.
 * @throws CasebackError CONFLICT where the file is another program's, or a newer version's
 */
export function openTables(file: string, tables: SqliteTables): DatabaseSync {
  if (!existsSync(file)) {
    mkdirSync(dirname(file), { recursive: true });
    closeSync(openSync(file, 'a', 0o600));
  }
  const db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT });
  try {
    if (numberOf(db, 'user_version') !== tables.migrations.length) migrate(db, file, tables);
    refuseForeign(db, file, tables);
    return db;
  } catch (error) {
    db.close();
    throw told(error, file, tables);
  }
}

/** An error of SQLite with the name of the file and what to do; any other as it is. */
function told(error: unknown, file: string, { what }: SqliteTables): unknown {
  const { errcode, message } = error as { readonly errcode?: number; readonly message: string };
  if (errcode === undefined) return error;
  // Whatever else SQLite says of our own few statements, such as that a table is missing, comes of damage.
  const fault = PASSING.has(errcode & 0xff)
    ? `cannot be read or written just now (${message}); check the disk and the permissions, and try again`
    : `is damaged (${message}); restore it from a copy, or move it away to begin with none`;
  return new CasebackError('UNAVAILABLE', `${file}, which holds ${what}, ${fault}`);
}

function migrate(db: DatabaseSync, file: string, tables: SqliteTables): void {
  const { applicationId, migrations } = tables;
  // A rollback journal: the file alone is the whole, to be copied, and reading never writes.
  db.exec('PRAGMA journal_mode = DELETE; PRAGMA synchronous = FULL; BEGIN IMMEDIATE');
  try {
    const version = numberOf(db, 'user_version');
    const isNew = version === 0 && numberOf(db, 'application_id') === 0;
    if (!isNew) refuseForeign(db, file, tables);
    for (const statement of migrations.slice(version).flat()) db.exec(statement);
    db.exec(`PRAGMA application_id = ${applicationId}; PRAGMA user_version = ${migrations.length}; COMMIT`);
  } catch (error) {
    if (db.isTransaction) db.exec('ROLLBACK');
    throw error;
  }
}

function refuseForeign(
  db: DatabaseSync,
  file: string,
  { applicationId, migrations, what }: SqliteTables,
): void {
  if (numberOf(db, 'application_id') !== applicationId || numberOf(db, 'user_version') > migrations.length)
    throw new CasebackError(
      'CONFLICT',
      `${file} does not hold ${what} that this program can read; move it away, or use the program that wrote it`,
    );
}

function numberOf(db: DatabaseSync, pragma: 'application_id' | 'user_version'): number {
  return Number(db.prepare(`PRAGMA ${pragma}`).get()?.[pragma]);
}
