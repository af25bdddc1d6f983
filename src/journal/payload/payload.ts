import type { Entry, EntryKind } from '../../model/entry.ts';
import { fromVersion1 } from './from-version-1.ts';
import { fromVersion2 } from './from-version-2.ts';
import { fromVersion3 } from './from-version-3.ts';

/** Turns a payload of one version into that of the next; a payload that did not change comes back as it is. */
export type PayloadStep = (kind: EntryKind, payload: unknown) => unknown;

/** Steps from each version to the next, the first from version 1 to 2. */
const STEPS: readonly PayloadStep[] = [fromVersion1, fromVersion2, fromVersion3];

/** The version that new entries carry. Adding a step above makes it one higher. */
export const PAYLOAD_VERSION = STEPS.length + 1;

/**
 * A stored payload in today's form. What is stored and hashed stays as it was written; whoever renames a stored field
 * or changes its meaning adds a step.
 * @param version 1 to `PAYLOAD_VERSION`
 */
export function currentPayload(kind: EntryKind, payload: unknown, version: number): Entry['payload'] {
  const current = STEPS.slice(version - 1).reduce((older, step) => step(kind, older), payload);
  return current as Entry['payload'];
}
