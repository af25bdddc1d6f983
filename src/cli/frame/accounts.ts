import { Accounts } from '../../access/accounts.ts';
import { postgresAccounts } from '../../access/postgres-accounts.ts';
import { sqliteAccounts } from '../../access/sqlite-accounts.ts';
import type { Place } from './data-folder.ts';

/** People of an archive, which lie where its journal does: in the database or in the folder. The caller closes them. */
export function accountsOf({ folder, database }: Place): Accounts {
  return new Accounts(database === undefined ? sqliteAccounts(folder) : postgresAccounts(database));
}
