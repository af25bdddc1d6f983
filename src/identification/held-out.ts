import { createHash } from 'node:crypto';
import { type Part, partIdOf } from '../model/catalogue.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { State } from '../state/state.ts';

/** What an identifier learns from: a state, or part of one. */
export type Lessons = Pick<State, 'parts' | 'specimenRows' | 'device' | 'specimen'>;

/** What is left of a state when parts or devices are held out of it. */
export interface HeldOut {
  /** Whether a part stays in the catalogue. @default all stay */
  readonly keepsPart?: (id: string) => boolean;
  /** Whether a device goes on teaching. @default all do */
  readonly keepsDevice?: (id: string) => boolean;
}

/**
 * A state as it would be without some parts and devices. A part that is held out is in no catalogue, and chips settled as that
 * part teach nothing any more, wherever they are.
 */
export function without(view: State, { keepsPart, keepsDevice }: HeldOut): Lessons {
  const parts: readonly Part[] =
    keepsPart === undefined ? view.parts() : view.parts().filter((part) => keepsPart(partIdOf(part)));
  const rows: readonly SpecimenRow[] =
    keepsDevice === undefined
      ? view.specimenRows()
      : view.specimenRows().filter(({ deviceId }) => keepsDevice(deviceId));
  return {
    parts: () => parts,
    specimenRows: () => rows,
    device: (id) => view.device(id),
    specimen: (id) => view.specimen(id),
  };
}

/**
 * Deals ids out: one of `groups` numbers for each id, which the id and the seed alone decide, so that a new record changes the
 * number of no other.
 * @returns a whole number from 0 to groups - 1
 */
export function dealt(id: string, groups: number, seed: number): number {
  return createHash('sha256').update(`${seed} ${id}`).digest().readUInt32BE(0) % groups;
}
