import { CasebackError } from '../model/problems.ts';
import type { ReadOptions } from './journal.ts';

/** The bounds of a read, checked, with defaults filled in. */
export interface Bounds {
  readonly after: number;
  readonly upTo: number;
  readonly since: string | undefined;
  readonly until: string | undefined;
  readonly batchSize: number;
}

/** @throws CasebackError BAD_INPUT that names the option */
export function boundsOf({
  after = 0,
  upTo = Number.MAX_SAFE_INTEGER,
  since,
  until,
  batchSize = 500,
}: ReadOptions): Bounds {
  if (!Number.isSafeInteger(after) || after < 0) throw bad('after', after, 'a sequence or 0');
  if (!Number.isSafeInteger(upTo) || upTo < 0) throw bad('upTo', upTo, 'a sequence or 0');
  if (!Number.isSafeInteger(batchSize) || batchSize < 1) throw bad('batchSize', batchSize, 'at least 1');
  for (const [name, instant] of Object.entries({ since, until })) {
    if (instant !== undefined && !isInstant(instant))
      throw bad(name, instant, 'an instant in UTC such as 2026-03-01T00:00:00.000Z');
  }
  return { after, upTo, since, until, batchSize };
}

/** Instants are compared as text, which is right for this one form only. */
function isInstant(text: string): boolean {
  const date = new Date(text);
  return !Number.isNaN(date.getTime()) && date.toISOString() === text && /^\d/u.test(text);
}

function bad(name: string, value: unknown, form: string): CasebackError {
  return new CasebackError('BAD_INPUT', `${name} is ${JSON.stringify(value)}; it must be ${form}`);
}
