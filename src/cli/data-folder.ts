import { existsSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join, resolve } from 'node:path';
import type { Authorship } from '../archive.ts';
import { SqliteJournal } from '../journal/sqlite/journal.ts';
import { CasebackError } from '../model/problems.ts';
import { textOf, type Values } from './command.ts';

/** The options of commands that work on a data folder, and of those that change it. */
export const DATA_OPTION = { data: { type: 'string' } } as const;
export const AUTHOR_OPTIONS = { actor: { type: 'string' }, reason: { type: 'string' } } as const;
export const DATA_HELP = '  --data FOLDER     data folder (default: DATA_DIR, else ./data)';

/** The data folder: the option, else DATA_DIR, else ./data. */
export function dataFolder(values: Values): string {
  return resolve(textOf(values, 'data') ?? (process.env.DATA_DIR || 'data'));
}

function journalFile(folder: string): string {
  return join(folder, 'journal.sqlite');
}

export function holdsArchive(folder: string): boolean {
  return existsSync(journalFile(folder));
}

/** Opens the journal of a data folder, making it where it is missing. */
export function openJournal(folder: string): SqliteJournal {
  return new SqliteJournal(journalFile(folder));
}

/**
 * Opens the journal of a data folder that has one.
 * @throws CasebackError NOT_FOUND when the folder holds none
 */
export function openKeptJournal(folder: string): SqliteJournal {
  if (holdsArchive(folder)) return openJournal(folder);
  throw new CasebackError(
    'NOT_FOUND',
    `${folder} holds no archive; import files into it first, or name another folder with --data`,
  );
}

/** Who changes the archive and why, as given or as the machine knows. */
export function authorship(values: Values, reason: string): Authorship {
  return { actor: textOf(values, 'actor') ?? loginName(), reason: textOf(values, 'reason') ?? reason };
}

function loginName(): string {
  try {
    return userInfo().username;
  } catch {
    return 'unknown';
  }
}
