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

const IN_USE = 'is in use by another process that is writing to it; try again when that has finished';
const NO_SPACE = 'cannot grow, for the disk is full; free some space and try again';

/** What keeps the journal from being read or written, which is no damage. */
const TROUBLES: ReadonlyMap<number | string, string> = new Map<number | string, string>([
  [BUSY, IN_USE],
  [LOCKED, IN_USE],
  [READONLY, 'cannot be written; check the permissions of the file and of its folder'],
  [IOERR, 'could not be read or written by the system; check the disk, its free space and its quota'],
  [FULL, NO_SPACE],
  [CANTOPEN, 'cannot be opened; check the path and its permissions'],
  ['EACCES', 'cannot be written; check the permissions of its folder'],
  ['EPERM', 'cannot be written; check the permissions of its folder'],
  ['EROFS', 'cannot be written, for its folder can only be read; name another folder'],
  ['ENOTDIR', 'cannot be written, for part of its path is a file; name another folder'],
  ['EEXIST', 'cannot be written, for part of its path is a file; name another folder'],
  ['EISDIR', 'cannot be opened; check the path, which is that of a folder'],
  ['ENOSPC', NO_SPACE],
  ['EDQUOT', NO_SPACE],
  ['EIO', 'could not be read or written by the system; check the disk'],
]);

/** What is wrong with the content of the journal itself. */
const DAMAGES: ReadonlyMap<number | string, string> = new Map<number | string, string>([
  [CORRUPT, 'is damaged; restore it from a copy'],
  [CONSTRAINT, 'refuses what is not a new entry after its last one'],
  [NOTADB, 'is damaged or no database; restore it from a copy, or name another file'],
]);

/**
 * An error of SQLite or the file system as one of ours: UNAVAILABLE for what may pass, DAMAGED_JOURNAL for damage. Anything
 * else as it is.
 */
export function asJournalError(error: unknown, file: string): unknown {
  if (error instanceof CasebackError || !(error instanceof Error)) return error;
  const { code, message } = error as NodeJS.ErrnoException;
  const result = resultCode(error);
  const key = result ?? code ?? '';
  const trouble = TROUBLES.get(key);
  // Whatever else SQLite says of our own few statements, such as that a table is missing, comes of damage.
  const reason = trouble ?? DAMAGES.get(key) ?? (isOfSqlite(error) ? DAMAGES.get(CORRUPT) : undefined);
  if (reason === undefined) return error;
  return new CasebackError(
    trouble === undefined ? 'DAMAGED_JOURNAL' : 'UNAVAILABLE',
    `The journal ${file} ${reason} (${message})`,
  );
}

/** Whether the rights of a file or its folder are the reason. */
export function isUnwritable(error: unknown): boolean {
  const { code } = error as NodeJS.ErrnoException;
  return (
    [READONLY, CANTOPEN].includes(resultCode(error) ?? 0) || ['EACCES', 'EPERM', 'EROFS'].includes(code ?? '')
  );
}

export function isBusy(error: unknown): boolean {
  return [BUSY, LOCKED].includes(resultCode(error) ?? 0);
}

/** Whether the content of the file itself is wrong. */
export function isDamage(error: unknown): boolean {
  // A number that JavaScript cannot hold exactly stands nowhere in a whole entry.
  const isTooLarge = (error as NodeJS.ErrnoException).code === 'ERR_OUT_OF_RANGE';
  return isTooLarge || [CORRUPT, NOTADB].includes(resultCode(error) ?? 0);
}

function isOfSqlite(error: unknown): boolean {
  const { code } = error as NodeJS.ErrnoException;
  return resultCode(error) !== undefined || code === 'ERR_SQLITE_ERROR';
}

function resultCode(error: unknown): number | undefined {
  const { errcode } = error as { readonly errcode?: number };
  return errcode === undefined ? undefined : errcode & 0xff;
}
