import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { accountsInDatabase, accountsInFolder } from '../../access/kept-accounts.ts';
import { accountsFile } from '../../access/sqlite-accounts.ts';
import type { KeptFile } from '../../journal/backup.ts';
import type { Place } from './data-folder.ts';

/**
 * What belongs to an archive beside its entries and follows from nothing else; a backup takes it along, as files of a data folder.
 * What is not here is either in the backup as entries or made anew.
 */
const TABLE = 'confusion.yaml';
export const ACCOUNTS = 'accounts.sqlite';
const NAMES: readonly string[] = [TABLE, ACCOUNTS];

/** Those that an archive has; its accounts lie where its journal does. */
export async function keptFilesOf({ folder, database }: Place): Promise<readonly KeptFile[]> {
  const isFile = (path: string) => existsSync(path) && statSync(path).isFile();
  const table = join(folder, TABLE);
  const accounts =
    database !== undefined
      ? await accountsInDatabase(database)
      : isFile(accountsFile(folder))
        ? accountsInFolder(accountsFile(folder))
        : undefined;
  return [
    ...(isFile(table) ? [{ name: TABLE, content: readFileSync(table) }] : []),
    ...(accounts ? [{ name: ACCOUNTS, content: accounts }] : []),
  ];
}

/** Puts files of a backup into a data folder; what lies there already stays. Answers the names of those put. */
export function putKeptFiles(folder: string, files: readonly KeptFile[]): readonly string[] {
  return files.flatMap(({ name, content }) => {
    const file = join(folder, name);
    if (!NAMES.includes(name) || existsSync(file)) return [];
    mkdirSync(folder, { recursive: true });
    // Accounts are nobody else's business.
    writeFileSync(file, content, { flag: 'wx', mode: 0o600 });
    return [name];
  });
}
