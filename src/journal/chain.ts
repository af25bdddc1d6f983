import { createHash, randomFillSync } from 'node:crypto';
import type { Change, Entry } from '../model/entry.ts';
import { canonicalJson } from './canonical.ts';
import type { Head } from './journal.ts';

/** SHA-256 over the previous hash and the entry's own content in canonical form. */
export function hashOf(entry: Omit<Entry, 'hash'>): string {
  const { sequence, id, instant, actor, reason, kind, payload, previousHash } = entry;
  return createHash('sha256')
    .update(previousHash)
    .update(canonicalJson({ sequence, id, instant, actor, reason, kind, payload }))
    .digest('hex');
}

/** Entries that follow `head`: numbered, dated with one instant, chained by hash. */
export function chain(changes: readonly Change[], head: Head, instant: string): readonly Entry[] {
  let { sequence, hash } = head;
  return changes.map(({ actor, reason, kind, payload }) => {
    sequence++;
    const id = uuidVersion7(Date.parse(instant));
    const unsealed = { sequence, id, instant, actor, reason, kind, payload, previousHash: hash } as Omit<
      Entry,
      'hash'
    >;
    hash = hashOf(unsealed);
    return { ...unsealed, hash } as Entry;
  });
}

/** The instant of a new entry: now, or that of the last entry where the clock has stepped back behind it. */
export function instantAfter(last: string, now: Date): string {
  const instant = now.toISOString();
  return instant < last ? last : instant;
}

/** UUID version 7 (RFC 9562, section 5.7): 48 bits of Unix milliseconds, the rest random. */
function uuidVersion7(milliseconds: number): string {
  const bytes = randomFillSync(Buffer.alloc(16));
  bytes.writeUIntBE(milliseconds, 0, 6);
  bytes[6] = 0x70 | (bytes[6] & 0x0f);
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
