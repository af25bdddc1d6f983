import type { Change, Entry } from '../model/entry.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { canonicalJson, NotJson } from './canonical.ts';
import type { Head } from './journal.ts';
import { PAYLOAD_VERSION } from './payload/payload.ts';
import { hashOf, type StoredEntry } from './stored.ts';
import { nextUuid } from './uuid.ts';

/** A change made ready for the chain: the long work, which needs no lock on the journal. */
export interface Prepared {
  /** As it will be read again: its payload is what the canonical text says, members in that order. */
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
 * Writes changes in canonical form. An entry that was just appended is then the very one that is read later, with its members in the
 * same order: answers that list them do not tell whether the archive was opened since, or which version of a record came last.
 * @throws CasebackError BAD_INPUT for content that JSON cannot hold, such as half a surrogate pair
 */
export function prepare(changes: readonly Change[]): readonly Prepared[] {
  return changes.map((change, index) => {
    try {
      // Checked here, written with the hash.
      canonicalJson([change.actor, change.reason]);
      const payload = canonicalJson(change.payload);
      return { change: { ...change, payload: JSON.parse(payload) }, payload };
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

/** A clock that has gone further ahead than this since the last entry is more likely wrong than right. */
const LONGEST_LEAP = 366 * 24 * 60 * 60 * 1000;

/**
 * The instant of a new entry: what the clock says, which may be before the last entry. Order is the sequence's.
 * @param last instant of the last entry, ISO 8601 in UTC; empty for none
 * @param allowsLeap whether it may be more than a year past the last entry
 * @throws CasebackError UNAVAILABLE for a leap that is not allowed: entries would be dated wrongly for ever
 */
export function instantAfter(last: string, now: Date, allowsLeap: boolean = mayLeap()): string {
  const instant = now.toISOString();
  if (last !== '' && !allowsLeap && now.getTime() - Date.parse(last) > LONGEST_LEAP)
    throw new CasebackError(
      'UNAVAILABLE',
      `The clock of this machine says ${instant}, over a year past the last entry (${last}); nothing was written. Set the clock; where it is right, run the command with --allow-clock-leap, or the service with CASEBACK_ALLOW_CLOCK_LEAP=1.`,
    );
  return instant;
}

/** Whether the environment allows a leap of the clock, for a service that cannot be asked. */
function mayLeap(): boolean {
  return process.env.CASEBACK_ALLOW_CLOCK_LEAP === '1';
}

function unstorable({ path, what }: NotJson, { kind }: Change, index: number): CasebackError {
  const problem: Problem = {
    path,
    what: `${what} (change ${index + 1}, ${kind})`,
    fix: 'write it in characters and numbers that JSON can hold',
  };
  return new CasebackError('BAD_INPUT', `The change cannot be stored: ${path || 'it'} ${what}`, [problem]);
}
