/** What the operating system reports, in plain words. */
const TROUBLES: Readonly<Record<string, string>> = {
  ENOENT: 'does not exist',
  EACCES: 'may not be used by you: permission denied',
  EPERM: 'may not be used by you: permission denied',
  EISDIR: 'is a folder',
  ENOTDIR: 'lies under something that is not a folder',
  EEXIST: 'exists already',
  ENOSPC: 'lies on a full disk',
  EDQUOT: 'lies on a disk of which your share is used up',
  EROFS: 'lies on a read-only disk',
  EMFILE: 'cannot be opened while so many files are open',
  ENAMETOOLONG: 'has too long a name',
  ELOOP: 'is a link that leads back to itself',
  ERR_INVALID_ARG_VALUE: 'is not a valid path',
};

/**
 * What went wrong with a file or the system, from an error of Node.
 * @returns undefined for an error that the system did not report; `what` continues a sentence that begins with the path
 */
export function systemTrouble(
  error: unknown,
): { readonly path: string | undefined; readonly what: string } | undefined {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return undefined;
  // Errors of ours have codes, too, and say by themselves what went wrong.
  if (error.name === 'CasebackError') return undefined;
  const path = 'path' in error && typeof error.path === 'string' ? error.path : undefined;
  return { path, what: TROUBLES[error.code] ?? `cannot be used: ${error.message}` };
}
