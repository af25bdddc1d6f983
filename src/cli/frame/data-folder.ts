import { statSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Journal } from '../../journal/journal.ts';
import { PostgresJournal, type PostgresOptions } from '../../journal/postgres/journal.ts';
import { MachineNote } from '../../journal/postgres/machine-note.ts';
import { describedBy } from '../../journal/sqlite/authors.ts';
import { HeadFile } from '../../journal/sqlite/head-file.ts';
import { SqliteJournal, type SqliteOptions } from '../../journal/sqlite/journal.ts';
import { traceOf } from '../../journal/sqlite/open.ts';
import { CasebackError } from '../../model/problems.ts';
import { UsageError } from './exit.ts';

/** Where Caseback itself lies. */
const HOME = fileURLToPath(new URL('../../..', import.meta.url));

/** Who made the demo archive, and why: by this it is known, wherever it lies. */
export const DEMO_BY = { actor: 'demo', reason: 'the invented demo archive' } as const;

/** A data folder's own confusion table. */
export const CONFUSION = 'confusion.yaml';

/** Whether a data folder has a confusion table of its own. */
export function hasConfusion(folder: string): boolean {
  return statSync(join(folder, CONFUSION), { throwIfNoEntry: false }) !== undefined;
}

/** The archive that a command is about. */
export interface Place {
  /** Path of its data folder; for an archive in a database that of what lies beside it, such as a confusion table. */
  readonly folder: string;
  /** Address of the database that has its journal, from DATABASE_URL; else the folder has it. */
  readonly database?: string;
  /** Whether it is the invented demo archive. */
  readonly isDemo: boolean;
  /** Whether `--data` or `--demo` named it; else it was chosen. */
  readonly isNamed: boolean;
}

interface Asked {
  /** `--data` */
  readonly data?: string | undefined;
  /** `--demo` */
  readonly demo?: boolean | undefined;
}

/**
 * The archive to ask, by the one rule of all commands: the one that `--data` or `--demo` names, else that of the database in
 * DATABASE_URL, else one's own once it has been made, else the demo.
 */
export function placeOf({ data, demo }: Asked): Place {
  if (data !== undefined && demo) throw new UsageError('--data does not go with --demo; give one of the two');
  if (demo) return { folder: demoPlace(), isDemo: true, isNamed: true };
  const folder = ownFolder(data);
  const database = process.env.DATABASE_URL || undefined;
  if (data === undefined && database !== undefined) return { folder, database, isDemo: false, isNamed: true };
  if (data !== undefined) return { folder, isDemo: isDemo(folder), isNamed: true };
  if (hasArchive(folder) && !isDemo(folder)) return { folder, isDemo: false, isNamed: false };
  return { folder: demoPlace(), isDemo: true, isNamed: false };
}

/**
 * Where one's own archive lies, or would: `--data`, else DATA_DIR, else data/ of the folder one is in where that has an
 * archive, else data/ of Caseback's folder.
 */
export function ownFolder(data?: string): string {
  const named = data ?? (process.env.DATA_DIR || undefined);
  if (named !== undefined) return resolve(named);
  return hasArchive('data') ? resolve('data') : join(HOME, 'data');
}

/** Whether nobody has said where one's own archive lies. */
export function isUsualFolder(data?: string): boolean {
  return data === undefined && !process.env.DATA_DIR;
}

/** Where the demo archive is made: DEMO_DIR, else demo-data/ of Caseback's folder. */
export function demoFolder(): string {
  return process.env.DEMO_DIR ? resolve(process.env.DEMO_DIR) : join(HOME, 'demo-data');
}

/** Where the demo archive lies; before it had a folder of its own, the data folder had it. */
function demoPlace(): string {
  const before = ownFolder();
  return !hasArchive(demoFolder()) && isDemo(before) ? before : demoFolder();
}

function isDemo(folder: string): boolean {
  return folder === demoFolder() || demoShare(folder) === 'all';
}

/** How much of an archive is the demo: all, some beside records of one's own, or none. */
export function demoShare(folder: string): 'all' | 'some' | 'none' {
  return hasArchive(folder) ? describedBy(journalFile(folder), DEMO_BY) : 'none';
}

/** A folder as messages write it: as seen from the working folder where it lies inside that. */
export function written(folder: string): string {
  const near = relative('.', folder);
  return near === '' || near.startsWith('..') ? folder : near;
}

export function journalFile(folder: string): string {
  return join(folder, 'journal.sqlite');
}

/** The file that notes how long the journal is. */
export function headFile(folder: string): string {
  return new HeadFile(journalFile(folder)).path;
}

/** Whether a folder has an archive, or what is left of one: then opening it says what is lost. */
export function hasArchive(folder: string): boolean {
  return traceOf(journalFile(folder)) !== 'nothing';
}

/** Whether a folder held an archive, whatever is left of it; not where one was begun without an entry. */
export function heldArchive(folder: string): boolean {
  return traceOf(journalFile(folder)) === 'held';
}

/** Opens the journal of a data folder, making it where it is missing. */
export function openJournal(folder: string, options?: SqliteOptions): SqliteJournal {
  return new SqliteJournal(journalFile(folder), options);
}

/**
 * Opens the journal of a place that has one; that of a database when it is first asked.
 * @throws CasebackError NOT_FOUND when it has none
 */
export function openKeptJournal({ folder, database, isNamed }: Place, options: SqliteOptions = {}): Journal {
  if (database !== undefined)
    return databaseJournal(database, folder, {
      create: false,
      whatIsWhole: options.whatIsWhole,
      warn: options.warn,
    });
  if (hasArchive(folder)) return openJournal(folder, options);
  throw new CasebackError(
    'NOT_FOUND',
    isNamed
      ? `${written(folder)} has no archive; import files into it first, make one with "caseback create-archive", or name another folder with --data`
      : 'there is no archive yet; "npm start" makes the invented demo archive, "caseback create-archive" or an import your own',
  );
}

/**
 * The journal of a database, whose length is noted on this machine.
 * @param folder data folder that has the note
 */
export function databaseJournal(url: string, folder: string, options: PostgresOptions = {}): PostgresJournal {
  return new PostgresJournal(url, { note: new MachineNote(folder), ...options });
}

export function loginName(): string {
  try {
    return userInfo().username;
  } catch {
    return 'unknown';
  }
}
