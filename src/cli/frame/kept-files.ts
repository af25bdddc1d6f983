import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { KeptFile } from '../../journal/backup.ts';

/**
 * Files of a data folder that belong to the archive and follow from nothing else; a backup takes them along. What is not here is
 * either in the backup as entries or made anew.
 */
const NAMES = ['confusion.yaml'] as const;

/** Those of them that a data folder has. */
export function keptFilesOf(folder: string): readonly KeptFile[] {
  return NAMES.filter((name) => existsSync(join(folder, name)) && statSync(join(folder, name)).isFile()).map(
    (name) => ({ name, content: readFileSync(join(folder, name)) }),
  );
}

/** Puts files of a backup into a data folder; what lies there already stays. Answers the names of those put. */
export function putKeptFiles(folder: string, files: readonly KeptFile[]): readonly string[] {
  return files.flatMap(({ name, content }) => {
    const file = join(folder, name);
    if (!NAMES.some((one) => one === name) || existsSync(file)) return [];
    // Accounts are nobody else's business.
    writeFileSync(file, content, { flag: 'wx', mode: 0o600 });
    return [name];
  });
}
