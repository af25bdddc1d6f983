import { NotJson } from './canonical.ts';
import { DamagedEntry } from './errors.ts';
import { type Head, type Journal, NO_HASH } from './journal.ts';
import { entryOf, hashOf, type StoredEntry } from './stored.ts';

/** Result of checking the entire chain; `sequence` names the first entry that does not fit. */
export type Verification =
  | { readonly intact: true; readonly entries: number }
  | { readonly intact: false; readonly sequence: number; readonly why: string };

/**
 * Recomputes the entire chain over what is stored, and reads every payload. Entries cut off at the end leave a valid
 * chain: compare the last hash with one noted elsewhere to detect that.
 * @param onProgress called with the number of entries checked so far, once a batch
 */
export async function verify(
  journal: Journal,
  onProgress?: (checked: number) => void,
): Promise<Verification> {
  let last: Head & { readonly instant: string } = { sequence: 0, hash: NO_HASH, instant: '' };
  try {
    for await (const entries of journal.readStored()) {
      for (const entry of entries) {
        entryOf(entry);
        const why = chainBreak(entry, last);
        if (why !== undefined) return { intact: false, sequence: entry.sequence, why };
        last = entry;
      }
      onProgress?.(last.sequence);
    }
  } catch (error) {
    if (!(error instanceof DamagedEntry)) throw error;
    return { intact: false, sequence: error.sequence, why: `cannot be read (${error.message})` };
  }
  const head = await journal.head();
  // The store knows of an entry that reading did not give.
  if (head.sequence < last.sequence || (head.sequence === last.sequence && head.hash !== last.hash))
    return { intact: false, sequence: last.sequence, why: 'is not what the store gives as the last entry' };
  return { intact: true, entries: last.sequence };
}

/** Why an entry does not follow the one before, or undefined. */
function chainBreak(entry: StoredEntry, last: Head & { readonly instant: string }): string | undefined {
  if (entry.sequence !== last.sequence + 1) return `does not follow entry ${last.sequence}`;
  if (entry.previousHash !== last.hash) return 'does not carry the hash of the entry before';
  if (entry.instant < last.instant) return 'is dated before the entry before';
  return hasItsHash(entry) ? undefined : 'has been altered: its hash does not match its content';
}

function hasItsHash(entry: StoredEntry): boolean {
  try {
    return hashOf(entry) === entry.hash;
  } catch (error) {
    if (error instanceof NotJson) return false;
    throw error;
  }
}
