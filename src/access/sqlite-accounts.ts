import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { MIGRATIONS, SqlAccountStore } from './sql-store.ts';
import { openTables, type SqliteTables, sqliteSql } from './sqlite-sql.ts';
import type { AccountStore } from './store.ts';

const TABLES: SqliteTables = {
  // "CasA" in ASCII.
  applicationId: 0x43617341,
  what: 'accounts',
  migrations: MIGRATIONS,
};

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
  return new SqlAccountStore(sqliteSql(accountsFile(folder), TABLES));
}

/**
 * Opens a file of accounts, or makes it, readable by its owner alone.
 * @throws CasebackError CONFLICT where the file is another program's, or a newer version's
 */
export function openAccounts(file: string): DatabaseSync {
  return openTables(file, TABLES);
}
