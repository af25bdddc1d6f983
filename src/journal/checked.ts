import type { Entry } from '../model/entry.ts';
import { DamagedEntry } from './errors.ts';
import { type Head, NO_HASH } from './journal.ts';
import { entryOf, hasItsHash, type StoredEntry } from './stored.ts';

/** Why a stored entry does not follow the one before, or is not what its hash covers; undefined where all is well. */
export function chainBreak(entry: StoredEntry, before: Head): string | undefined {
  if (entry.sequence !== before.sequence + 1) return `does not follow entry ${before.sequence}`;
  if (entry.previousHash !== before.hash) return 'does not carry the hash of the entry before';
  return hasItsHash(entry) ? undefined : 'has been altered: its hash does not match its content';
}

/**
 * Stored entries as entries, each checked as it is read: a journal in which anything was altered gives what stands before that
 * and no more.
 * @param before the entry before the first; sequence 0 and 64 zeros at the start of the journal
 * @throws DamagedEntry with the first that is not what was written, after those before it
 */
export async function* checkedEntries(
  stored: AsyncIterable<readonly StoredEntry[]>,
  before: Head = { sequence: 0, hash: NO_HASH },
): AsyncGenerator<readonly Entry[]> {
  let last = before;
  for await (const batch of stored) {
    const entries: Entry[] = [];
    let failure: DamagedEntry | undefined;
    for (const one of batch) {
      const why = chainBreak(one, last);
      if (why !== undefined) failure = new DamagedEntry(one.sequence, `it ${why}`);
      if (failure) break;
      try {
        entries.push(entryOf(one));
      } catch (error) {
        if (!(error instanceof DamagedEntry)) throw error;
        failure = error;
        break;
      }
      last = one;
    }
    if (entries.length > 0) yield entries;
    if (failure) throw failure;
  }
}

/**
 * A stored entry as an entry.
 * @throws DamagedEntry when it is not what its hash covers
 */
export function wholeEntry(stored: StoredEntry): Entry {
  if (hasItsHash(stored)) return entryOf(stored);
  throw new DamagedEntry(stored.sequence, 'it has been altered: its hash does not match its content');
}
