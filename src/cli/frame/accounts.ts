import { Accounts } from '../../access/accounts.ts';
import { sqliteAccounts } from '../../access/sqlite-accounts.ts';
import type { Place } from './data-folder.ts';

/** People of an archive, which lie beside its journal. The caller closes them. */
export function accountsOf({ folder }: Place): Accounts {
  return new Accounts(sqliteAccounts(folder));
}
