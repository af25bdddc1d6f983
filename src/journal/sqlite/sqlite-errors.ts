import { CasebackError } from '../../model/problems.ts';

// Primary result codes of SQLite, https://www.sqlite.org/rescode.html; extended ones hold them in the low byte.
const BUSY = 5;
const LOCKED = 6;
const READONLY = 8;
const IOERR = 10;
const CORRUPT = 11;
const FULL = 13;
const CANTOPEN = 14;
const CONSTRAINT = 19;
const NOTADB = 26;

const REASONS: ReadonlyMap<number | string, string> = new Map<number | string, string>([
  [BUSY, 'is in use by another process that is writing to it; try again when that has finished'],
  [LOCKED, 'is in use by another process that is writing to it; try again when that has finished'],
  [READONLY, 'cannot be written; check the permissions of the file and of its folder'],
  [IOERR, 'could not be read or written by the system; check the disk, its free space and its quota'],
  [CORRUPT, 'is damaged; restore it from a copy'],
  [FULL, 'cannot grow, for the disk is full; free some space and try again'],
  [CANTOPEN, 'cannot be opened; check the path and its permissions'],
  [CONSTRAINT, 'refuses what is not a new entry after its last one'],
  [NOTADB, 'is damaged or no database; restore it from a copy, or name another file'],
  ['EACCES', 'cannot be written; check the permissions of its folder'],
  ['EPERM', 'cannot be written; check the permissions of its folder'],
  ['EROFS', 'cannot be written, for its folder can only be read; name another folder'],
  ['ENOTDIR', 'cannot be written, for part of its path is a file; name another folder'],
  ['EEXIST', 'cannot be written, for part of its path is a file; name another folder'],
  ['ENOSPC', 'cannot be written, for the disk is full; free some space and try again'],
]);

/** An error of SQLite or the file system as one of ours; anything else as it is. */
export function asJournalError(error: unknown, file: string): unknown {
  if (error instanceof CasebackError || !(error instanceof Error)) return error;
  const { code, message } = error as NodeJS.ErrnoException;
  const reason = REASONS.get(resultCode(error) ?? code ?? '');
  return reason === undefined
    ? error
    : new CasebackError('DAMAGED_JOURNAL', `The journal ${file} ${reason} (${message})`);
}

export function isBusy(error: unknown): boolean {
  return [BUSY, LOCKED].includes(resultCode(error) ?? 0);
}

/** Whether the content of the file itself is wrong. */
export function isDamage(error: unknown): boolean {
  return [CORRUPT, NOTADB].includes(resultCode(error) ?? 0);
}

function resultCode(error: unknown): number | undefined {
  const { errcode } = error as { readonly errcode?: number };
  return errcode === undefined ? undefined : errcode & 0xff;
}
