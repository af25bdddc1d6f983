import type { Change, Entry } from '../model/entry.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { canonicalJson, NotJson } from './canonical.ts';
import type { Head } from './journal.ts';
import { PAYLOAD_VERSION } from './payload/payload.ts';
import { hashOf, type StoredEntry } from './stored.ts';
import { nextUuid } from './uuid.ts';

/** A change made ready for the chain: the long work, which needs no lock on the journal. */
export interface Prepared {
  readonly change: Change;
  /** Canonical text of the payload. */
  readonly payload: string;
}

/** A new entry, with what is stored of it. */
export interface Link {
  readonly entry: Entry;
  readonly stored: StoredEntry;
}

/**
 * Writes changes in canonical form.
 * @throws CasebackError BAD_INPUT for content that JSON cannot hold, such as half a surrogate pair
 */
export function prepare(changes: readonly Change[]): readonly Prepared[] {
  return changes.map((change, index) => {
    try {
      // Checked here, written with the hash.
      canonicalJson([change.actor, change.reason]);
      return { change, payload: canonicalJson(change.payload) };
    } catch (error) {
      throw error instanceof NotJson ? unstorable(error, change, index) : error;
    }
  });
}

/** Entries that follow `head`: numbered, dated with one instant, chained by hash. */
export function chain(prepared: readonly Prepared[], head: Head, instant: string): readonly Link[] {
  const milliseconds = Date.parse(instant);
  let { sequence, hash } = head;
  return prepared.map(({ change, payload: text }) => {
    sequence++;
    const { actor, reason, kind, payload } = change;
    const rest = { sequence, id: nextUuid(milliseconds), instant, actor, reason, kind, previousHash: hash };
    const unsealed = { ...rest, version: PAYLOAD_VERSION, payload: text, hash: '' };
    hash = hashOf(unsealed);
    return { stored: { ...unsealed, hash }, entry: { ...rest, payload, hash } as Entry };
  });
}

/** The instant of a new entry: now, or that of the last entry where the clock has stepped back behind it. */
export function instantAfter(last: string, now: Date): string {
  const instant = now.toISOString();
  return instant < last ? last : instant;
}

function unstorable({ path, what }: NotJson, { kind }: Change, index: number): CasebackError {
  const problem: Problem = {
    path,
    what: `${what} (change ${index + 1}, ${kind})`,
    fix: 'write it in characters and numbers that JSON can hold',
  };
  return new CasebackError('BAD_INPUT', `The change cannot be stored: ${path || 'it'} ${what}`, [problem]);
}
