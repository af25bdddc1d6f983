import { CasebackError } from '../../model/problems.ts';

// Codes of PostgreSQL (SQLSTATE), https://www.postgresql.org/docs/current/errcodes-appendix.html, and of the system.

/** Another transaction was in the way: the same again may succeed at once. */
const REPEATABLE = new Set(['40001', '40P01', '55P03']);

/** The server is there no more, not yet, or has ended this connection. */
const OUT_OF_REACH = new Set([
  ...['57P01', '57P02', '57P03', '57P05', '25P03', '53300'],
  ...['ECONNREFUSED', 'ECONNRESET', 'EPIPE', 'ETIMEDOUT', 'EHOSTUNREACH', 'ENETUNREACH', 'ENETDOWN'],
  ...['EAI_AGAIN', 'ENOTFOUND'],
]);

/** What `pg` itself says of a connection that has gone; it gives these no code. */
const GONE =
  /connection terminated|connection ended|query read timeout|timeout exceeded|timeout expired|client has encountered|socket/iu;

const IN_USE = 'is in use by another process that is writing to it; try again when that has finished';

const TROUBLES: ReadonlyMap<string, string> = new Map([
  ['40001', IN_USE],
  ['40P01', IN_USE],
  ['55P03', IN_USE],
  ['57014', 'took longer than the server allows a statement; try again, or raise statement_timeout'],
  ['25006', 'can only be read there: the server is a standby or read-only; name the primary'],
  ['42501', 'may not be read or written by this user; grant the user its tables'],
  ['28000', 'does not let this user in; check DATABASE_URL'],
  ['28P01', 'does not accept the password; check DATABASE_URL'],
  ['3D000', 'does not exist; create it, or name another in DATABASE_URL'],
  ['53100', 'cannot grow, for the disk of the server is full; free some space and try again'],
  ['53200', 'is out of memory on the server; try again'],
  ['58030', 'could not be read or written by the server; check its disk'],
]);

const DAMAGES: ReadonlyMap<string, string> = new Map([
  ['23505', 'refuses what is not a new entry after its last one'],
  ['42P01', 'has lost a table of the journal; restore it from a copy'],
  ['42703', 'has lost a column of the journal; restore it from a copy'],
  ['XX001', 'is damaged; restore it from a copy'],
  ['XX002', 'has a damaged index; rebuild it or restore it from a copy'],
]);

/** Whether another transaction was in the way, so that the same may be tried again at once. */
export function isRepeatable(error: unknown): boolean {
  return REPEATABLE.has(codeOf(error));
}

/** Whether the connection is what failed: the statement may or may not have been carried out. */
export function isOutOfReach(error: unknown): boolean {
  if (error instanceof CasebackError) return false;
  const code = codeOf(error);
  if (code !== '') return OUT_OF_REACH.has(code) || code.startsWith('08');
  return error instanceof Error && GONE.test(error.message);
}

/** Whether a table is not there. */
export function isMissingTable(error: unknown): boolean {
  return codeOf(error) === '42P01';
}

/** Whether something that was to be made had been made by another process just before. */
export function isMadeAlready(error: unknown): boolean {
  return ['23505', '42P07', '42710'].includes(codeOf(error));
}

/**
 * An error of the server or of the way there as one of ours: UNAVAILABLE for what may pass, DAMAGED_JOURNAL for damage. Anything
 * else as it is.
 * @param name of the database, without a password
 */
export function asJournalError(error: unknown, name: string): unknown {
  if (error instanceof CasebackError || !(error instanceof Error)) return error;
  const code = codeOf(error);
  const trouble = isOutOfReach(error) ? 'is out of reach; try again' : TROUBLES.get(code);
  const reason = trouble ?? DAMAGES.get(code);
  if (reason === undefined) return error;
  return new CasebackError(
    trouble === undefined ? 'DAMAGED_JOURNAL' : 'UNAVAILABLE',
    `The database ${name} ${reason} (${messageOf(error)})`,
  );
}

/** What the system says where several addresses were tried is in the parts. */
function messageOf(error: Error): string {
  return error.message === '' && error instanceof AggregateError
    ? (error.errors as readonly Error[]).map(({ message }) => message).join('; ')
    : error.message;
}

function codeOf(error: unknown): string {
  return (error as { readonly code?: string } | undefined)?.code ?? '';
}
