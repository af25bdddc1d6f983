import { oneLine } from '../text/plain-text.ts';

/**
 * Every error code that leaves the project, with the HTTP status a service answers and what the code means.
 * Machine-readable codes are promises: add, never rename.
 */
export const ERROR_CODES = {
  BAD_INPUT: { status: 400, means: 'The input does not have the form asked for.' },
  BAD_FILE: { status: 400, means: 'A file could not be read or has problems; each is listed.' },
  BAD_PATTERN: { status: 400, means: 'The pattern text has an error; its place is given.' },
  SIGNED_OUT: { status: 401, means: 'Nobody has signed in, or the token or session is not valid any more.' },
  NOT_ALLOWED: {
    status: 403,
    means: "The asker's role does not allow this, or the service takes no changes.",
  },
  UNKNOWN_DOCUMENT: {
    status: 400,
    means: 'No document that the asker may ask for has this documentId.',
  },
  DOCUMENTS_ONLY: {
    status: 403,
    means: 'The service answers readers only documents that it knows, and this is none of them.',
  },
  NOT_FOUND: { status: 404, means: 'Nothing visible has this id.' },
  CONFLICT: { status: 409, means: 'The change contradicts what the archive already holds.' },
  TOO_LARGE: { status: 413, means: 'The input is larger than the stated limit.' },
  TOO_MANY: { status: 429, means: 'Too many requests or failed attempts; wait as long as is said.' },
  OUT_OF_BUDGET: { status: 422, means: 'The question asks for more work than is allowed at once.' },
  DAMAGED_JOURNAL: { status: 500, means: 'The journal does not match its own hashes.' },
  INTERNAL: { status: 500, means: "A mistake of the program; it is logged under the request's id." },
  UNAVAILABLE: {
    status: 503,
    means: 'The store cannot be read or written just now: busy, full, not writable, out of reach. Try again.',
  },
  NOT_READY: { status: 503, means: 'The archive is still being read.' },
  STOPPING: { status: 503, means: 'The service is stopping; ask another, or again soon.' },
} as const;

export type ErrorCode = keyof typeof ERROR_CODES;

/** One thing wrong with an input: where, what, and how to fix it. */
export interface Problem {
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** 1-based. */
  readonly column?: number;
  /** Path inside the document, such as `components[3].at.x`. */
  readonly path?: string;
  /** What is wrong, with the offending value. */
  readonly what: string;
  /** How to fix it. */
  readonly fix?: string;
}

/** Characters of each text of a problem as it is told: about a line, however long what was wrong is. */
const TOLD = 300;

/** The problem as it is told, each of its texts on one line. */
export function toldProblem(problem: Problem): Problem {
  const told = Object.entries(problem).map(([name, value]) => [
    name,
    typeof value === 'string' ? oneLine(value, TOLD) : value,
  ]);
  return Object.fromEntries(told);
}

/** `file:line:column path: what — fix` */
export function formatProblem(problem: Problem): string {
  const { file, line, column, path, what, fix } = toldProblem(problem);
  const place = [file, line, column].filter((part) => part !== undefined).join(':');
  const where = [place, path].filter((part) => part !== undefined && part !== '').join(' ');
  return `${where}${where ? ': ' : ''}${what}${fix ? ` — ${fix}` : ''}`;
}

/** The one error class that callers outside see. */
export class CasebackError extends Error {
  override readonly name = 'CasebackError';
  readonly code: ErrorCode;
  readonly problems: readonly Problem[];

  constructor(code: ErrorCode, message: string, problems: readonly Problem[] = []) {
    super(message);
    this.code = code;
    this.problems = problems;
  }
}
