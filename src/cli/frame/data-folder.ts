import { existsSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join, resolve } from 'node:path';
import { SqliteJournal } from '../../journal/sqlite/journal.ts';
import { CasebackError } from '../../model/problems.ts';

/** The data folder: the option, else DATA_DIR, else ./data. */
export function dataFolder(option: string | undefined): string {
  return resolve(option ?? (process.env.DATA_DIR || 'data'));
}

function journalFile(folder: string): string {
  return join(folder, 'journal.sqlite');
}

export function hasArchive(folder: string): boolean {
  return existsSync(journalFile(folder));
}

/** Opens the journal of a data folder, making it where it is missing. */
export function openJournal(folder: string): SqliteJournal {
  return new SqliteJournal(journalFile(folder));
}

/**
 * Opens the journal of a data folder that has one.
 * @throws CasebackError NOT_FOUND when the folder has none
 */
export function openKeptJournal(folder: string): SqliteJournal {
  if (hasArchive(folder)) return openJournal(folder);
  throw new CasebackError(
    'NOT_FOUND',
    `${folder} has no archive; import files into it first, or name another folder with --data`,
  );
}

export function loginName(): string {
  try {
    return userInfo().username;
  } catch {
    return 'unknown';
  }
}
