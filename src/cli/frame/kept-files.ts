import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import type { KeptFile } from '../../journal/backup.ts';

/**
 * Files of a data folder that belong to the archive and follow from nothing else; a backup takes them along. What is not here is
 * either in the backup as entries or made anew.
 */
const NAMES = ['confusion.yaml', 'accounts.sqlite'] as const;

/** Those of them that a data folder has. */
export function keptFilesOf(folder: string): readonly KeptFile[] {
  return NAMES.filter((name) => existsSync(join(folder, name)) && statSync(join(folder, name)).isFile()).map(
    (name) => ({
      name,
      content: name === 'accounts.sqlite' ? databaseIn(join(folder, name)) : readFileSync(join(folder, name)),
    }),
  );
}

/** A database as one file, with what its log holds, as it is at one instant. */
function databaseIn(file: string): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-'));
  const db = new DatabaseSync(file, { readOnly: true });
  try {
    db.prepare('VACUUM INTO ?').run(join(folder, 'copy'));
    return readFileSync(join(folder, 'copy'));
  } finally {
    db.close();
    rmSync(folder, { recursive: true });
  }
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
