import { createHash } from 'node:crypto';
import { CasebackError } from '../model/problems.ts';
import { canonicalJson } from './canonical.ts';
import type { Prepared } from './chain.ts';
import type { AppendOptions } from './journal.ts';

const LONGEST = 200;

/** An idempotency key with what a repeat must be equal in. */
export interface Keyed {
  readonly key: string;
  readonly fingerprint: string;
}

/**
 * The key of an append, if it has one.
 * @throws CasebackError BAD_INPUT for one that is empty, too long or not text
 */
export function keyedOf(
  prepared: readonly Prepared[],
  { key, fingerprint }: AppendOptions,
): Keyed | undefined {
  if (key === undefined) return undefined;
  if (key.length < 1 || key.length > LONGEST || !key.isWellFormed() || key.includes('\0'))
    throw new CasebackError(
      'BAD_INPUT',
      `An idempotency key of ${key.length} characters; write 1 to ${LONGEST} characters, such as a UUID`,
    );
  return { key, fingerprint: fingerprint ?? digestOf(prepared) };
}

/** The error for a key that is used again for something else. */
export function keyReused(): CasebackError {
  return new CasebackError(
    'CONFLICT',
    'The idempotency key was used for another change; nothing was written. Give every change a key of its own.',
  );
}

/** SHA-256, in hexadecimal, over the canonical JSON of who, why and what, line by line. */
function digestOf(prepared: readonly Prepared[]): string {
  const hash = createHash('sha256');
  for (const { change, payload } of prepared)
    hash
      .update(canonicalJson([change.actor, change.reason, change.kind]))
      .update(payload)
      .update('\n');
  return hash.digest('hex');
}
