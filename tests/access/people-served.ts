import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Accounts } from '../../src/access/accounts.ts';
import { ROLES, type Role } from '../../src/access/roles.ts';
import { sqliteAccounts } from '../../src/access/sqlite-accounts.ts';
import type { ServiceOptions } from '../../src/service/server/options.ts';
import { type Served, serve } from '../service/serving.ts';

/** A service with an account for each role, called after it, and a token each. */
export interface ServedPeople extends Served {
  readonly accounts: Accounts;
  readonly tokens: Readonly<Record<Role, string>>;
}

export async function servePeople(
  options: Partial<ServiceOptions> = {},
  clock?: () => Date,
): Promise<ServedPeople> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
  const accounts = new Accounts(sqliteAccounts(folder), clock);
  const made = await Promise.all(
    ROLES.map(async (role) => {
      await accounts.add(role, { role });
      return [role, (await accounts.makeToken(role)).secret] as const;
    }),
  );
  const served = await serve({ logger: false, ...options, access: { accounts, ...options.access } });
  return {
    ...served,
    accounts,
    tokens: Object.fromEntries(made) as Record<Role, string>,
    close: async () => {
      await served.close();
      await accounts.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
