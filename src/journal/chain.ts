import { createHash } from 'node:crypto';
import type { Change, Entry } from '../model/entry.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { canonicalJson, NotJson } from './canonical.ts';
import type { Head } from './journal.ts';
import { uuidVersion7 } from './uuid.ts';

/** A change made ready for the chain: the long work, which needs no lock on the journal. */
export interface Prepared {
  readonly change: Change;
  /** Canonical texts of what the change holds. */
  readonly actor: string;
  readonly reason: string;
  readonly payload: string;
}

/** A new entry, with its payload as it is stored. */
export interface Link {
  readonly entry: Entry;
  readonly payload: string;
}

/**
 * Writes changes in canonical form.
 * @throws CasebackError BAD_INPUT for content that JSON cannot hold, such as half a surrogate pair
 */
export function prepare(changes: readonly Change[]): readonly Prepared[] {
  return changes.map((change, index) => {
    try {
      return {
        change,
        actor: canonicalJson(change.actor),
        reason: canonicalJson(change.reason),
        payload: canonicalJson(change.payload),
      };
    } catch (error) {
      throw error instanceof NotJson ? unfit(error, change, index) : error;
    }
  });
}

/** Entries that follow `head`: numbered, dated with one instant, chained by hash. */
export function chain(prepared: readonly Prepared[], head: Head, instant: string): readonly Link[] {
  const milliseconds = Date.parse(instant);
  let { sequence, hash } = head;
  return prepared.map(({ change, actor, reason, payload }) => {
    sequence++;
    const previousHash = hash;
    const id = uuidVersion7(milliseconds);
    hash = sealed(previousHash, { sequence, id, instant, kind: change.kind }, { actor, reason, payload });
    const { actor: by, reason: why, kind, payload: what } = change;
    const entry = { sequence, id, instant, actor: by, reason: why, kind, payload: what, previousHash, hash };
    return { payload, entry: entry as Entry };
  });
}

/**
 * What the hash of an entry should be: SHA-256, in hexadecimal, over the UTF-8 bytes of the previous hash in
 * hexadecimal and the canonical JSON of `{ actor, id, instant, kind, payload, reason, sequence }`.
 * @throws NotJson for content that JSON cannot hold
 */
export function hashOf(entry: Entry): string {
  return sealed(entry.previousHash, entry, {
    actor: canonicalJson(entry.actor),
    reason: canonicalJson(entry.reason),
    payload: canonicalJson(entry.payload),
  });
}

/** The instant of a new entry: now, or that of the last entry where the clock has stepped back behind it. */
export function instantAfter(last: string, now: Date): string {
  const instant = now.toISOString();
  return instant < last ? last : instant;
}

/** Puts the canonical text together from its parts, so that a payload is written only once. */
function sealed(
  previousHash: string,
  { sequence, id, instant, kind }: Pick<Entry, 'sequence' | 'id' | 'instant' | 'kind'>,
  { actor, reason, payload }: Pick<Prepared, 'actor' | 'reason' | 'payload'>,
): string {
  const [idText, instantText, kindText] = [id, instant, kind].map(canonicalJson);
  return createHash('sha256')
    .update(
      `${previousHash}{"actor":${actor},"id":${idText},"instant":${instantText},"kind":${kindText},"payload":`,
    )
    .update(payload)
    .update(`,"reason":${reason},"sequence":${canonicalJson(sequence)}}`)
    .digest('hex');
}

function unfit({ path, what }: NotJson, { kind }: Change, index: number): CasebackError {
  const problem: Problem = {
    path,
    what: `${what} (change ${index + 1}, ${kind})`,
    mend: 'write it in characters and numbers that JSON can hold',
  };
  return new CasebackError('BAD_INPUT', `The change cannot be stored: ${path || 'it'} ${what}`, [problem]);
}
