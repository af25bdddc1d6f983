import { createHash } from 'node:crypto';

/** Largest file of a photo, bytes. */
export const MOST_BYTES = 64 * 2 ** 20;

/** SHA-256 in lower-case hexadecimal. */
export function digestOf(content: Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

/** Files above this are digested by another thread. */
const LARGE = 2 ** 20;

/** As {@link digestOf}, without holding up anything else while a large file is gone through. */
export async function digested(content: Uint8Array): Promise<string> {
  if (content.length < LARGE) return digestOf(content);
  const digest = await crypto.subtle.digest('SHA-256', content as Uint8Array<ArrayBuffer>);
  return Buffer.from(digest).toString('hex');
}
