import { createHash } from 'node:crypto';
import type { Entry, EntryKind } from '../model/entry.ts';
import { canonicalJson, NotJson } from './canonical.ts';
import { DamagedEntry } from './errors.ts';
import { currentPayload, PAYLOAD_VERSION } from './payload/payload.ts';

/** An entry as a journal stores it, with the very text that its hash covers. */
export interface StoredEntry {
  readonly sequence: number;
  readonly id: string;
  /** ISO 8601 in UTC with milliseconds. */
  readonly instant: string;
  readonly actor: string;
  readonly reason: string;
  readonly kind: EntryKind;
  /** Version of the payload's form; 1 for entries from before there were versions. */
  readonly version: number;
  /** Canonical JSON. */
  readonly payload: string;
  readonly previousHash: string;
  readonly hash: string;
}

/**
 * The entry with its payload in today's form, whatever version it was written in.
 * @throws DamagedEntry when the payload is not JSON, or of a version that this program does not know
 */
export function entryOf(stored: StoredEntry): Entry {
  const { version, payload, ...rest } = stored;
  if (!Number.isInteger(version) || version < 1 || version > PAYLOAD_VERSION)
    throw new DamagedEntry(
      stored.sequence,
      `it is of version ${version}, and this program reads versions 1 to ${PAYLOAD_VERSION}; use a newer program`,
    );
  try {
    return { ...rest, payload: currentPayload(stored.kind, JSON.parse(payload), version) } as Entry;
  } catch (error) {
    throw new DamagedEntry(stored.sequence, (error as Error).message);
  }
}

/**
 * What the hash of an entry should be: SHA-256, in hexadecimal, over the UTF-8 bytes of the previous hash in
 * hexadecimal and the canonical JSON of `{ actor, id, instant, kind, payload, reason, sequence, version }`, the payload
 * as stored; `version` is left out in version 1.
 * @throws NotJson for content that JSON cannot hold
 */
export function hashOf(stored: StoredEntry): string {
  const { previousHash, payload, sequence, version } = stored;
  const [actor, id, instant, kind, reason] = [
    stored.actor,
    stored.id,
    stored.instant,
    stored.kind,
    stored.reason,
  ].map(canonicalJson);
  const numbers = version === 1 ? `"sequence":${sequence}` : `"sequence":${sequence},"version":${version}`;
  return createHash('sha256')
    .update(`${previousHash}{"actor":${actor},"id":${id},"instant":${instant},"kind":${kind},"payload":`)
    .update(payload)
    .update(`,"reason":${reason},${numbers}}`)
    .digest('hex');
}

/** Whether an entry is what its hash covers. */
export function hasItsHash(entry: StoredEntry): boolean {
  try {
    return hashOf(entry) === entry.hash;
  } catch (error) {
    if (error instanceof NotJson) return false;
    throw error;
  }
}

/**
 * A row of a store as an entry.
 * @throws DamagedEntry where a column has not the kind of value that was written
 */
export function storedFrom(row: Readonly<Record<string, unknown>>): StoredEntry {
  const isWhole =
    Number.isSafeInteger(row.sequence) &&
    Number.isSafeInteger(row.version) &&
    TEXTS.every((name) => typeof row[name] === 'string');
  if (isWhole) return row as unknown as StoredEntry;
  throw new DamagedEntry(
    Number(row.sequence),
    'part of it is missing or of another kind than what was written',
  );
}

const TEXTS = ['id', 'instant', 'actor', 'reason', 'kind', 'payload', 'previousHash', 'hash'] as const;
