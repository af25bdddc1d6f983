import { CasebackError } from '../model/problems.ts';
import type { ReadOptions } from './journal.ts';

/** The bounds of a read, checked, with defaults filled in. */
export interface Bounds {
  readonly after: number;
  readonly upTo: number;
  readonly batchSize: number;
}

/** @throws CasebackError BAD_INPUT that names the option */
export function boundsOf({
  after = 0,
  upTo = Number.MAX_SAFE_INTEGER,
  batchSize = 500,
}: ReadOptions): Bounds {
  if (!Number.isSafeInteger(after) || after < 0) throw bad('after', after, 'a sequence or 0');
  if (!Number.isSafeInteger(upTo) || upTo < 0) throw bad('upTo', upTo, 'a sequence or 0');
  if (!Number.isSafeInteger(batchSize) || batchSize < 1) throw bad('batchSize', batchSize, 'at least 1');
  return { after, upTo, batchSize };
}

function bad(name: string, value: unknown, form: string): CasebackError {
  return new CasebackError('BAD_INPUT', `${name} is ${JSON.stringify(value)}; it must be ${form}`);
}
