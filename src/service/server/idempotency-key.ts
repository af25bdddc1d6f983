import { createHash } from 'node:crypto';
import { CasebackError } from '../../model/problems.ts';

const LONGEST = 200;

/**
 * The key of an `Idempotency-Key` header: a string in quotes (RFC 9651, section 3.3.3), as the IETF draft
 * draft-ietf-httpapi-idempotency-key-header has it, or bare, as many clients send it.
 * @throws CasebackError BAD_INPUT for one that is empty, too long or not text
 */
export function keyInHeader(header: string | readonly string[] | undefined): string | undefined {
  if (header === undefined) return undefined;
  const written = typeof header === 'string' ? header.trim() : '';
  const quoted = /^"((?:[\x20\x21\x23-\x5b\x5d-\x7e]|\\["\\])*)"$/u.exec(written)?.[1];
  const key = quoted?.replaceAll(/\\(.)/gu, '$1') ?? (/^[\x21\x23-\x7e]*$/u.test(written) ? written : '');
  if (key !== '' && key.length <= LONGEST) return key;
  throw new CasebackError(
    'BAD_INPUT',
    `The header Idempotency-Key is not a key; write one of 1 to ${LONGEST} characters in quotes, such as a UUID`,
  );
}

/** The key as the journal keeps it: two askers may choose the same. */
export function keyOf(asker: string, key: string): string {
  return createHash('sha256').update(`${asker}\n${key}`).digest('hex');
}
