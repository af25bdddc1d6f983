import { createHash } from 'node:crypto';

/** Largest file of a photo, bytes. */
export const MOST_BYTES = 64 * 2 ** 20;

/** SHA-256 in lower-case hexadecimal. */
export function digestOf(content: Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
