import { existsSync } from 'node:fs';
import type { Journal, ReadOptions } from '../journal/journal.ts';
import type { BegunSnapshot } from '../snapshot/read-early.ts';
import { Holder } from '../state/holder.ts';
import type { Audience } from '../state/visibility/audience.ts';

// How an archive comes to its first state: from a snapshot and what came since, or from the whole journal.

/** Entries folded at a time while others may run. */
const FOLD_BATCH = 50;

/** Entries below which folding takes less than a second. */
const WORTH_A_SNAPSHOT = 2_000;
/** Specimens that a command read for what they teach, from which on the next one is spared that: about a second. */
const WORTH_KEEPING = 500;
/** A snapshot is written anew when so many entries, and this share of all, came since. */
const MUCH_SINCE = 500;
const SHARE_SINCE = 0.05;

/** Where the snapshot of an archive is, and how it is read. */
export interface SnapshotPlace {
  /** Beside the journal, or in the data folder of a replica. */
  readonly file: string;
  /** Audiences whose indexes will be wanted soon, so that another thread reads them meanwhile. */
  readonly ahead: readonly Audience[];
  /** The file, where a thread reads it already. */
  readonly begun?: BegunSnapshot | undefined;
  /** Called with the reason when the snapshot cannot be used; what it would have held is made anew. */
  readonly onUnusable: (why: string) => void;
}

/** The snapshot of an archive that is open. */
export interface KeptSnapshot {
  readonly place: SnapshotPlace;
  /** The last entry in it. */
  readonly sequence?: number;
  /** Audiences whose indexes it holds. */
  readonly indexed?: readonly Audience[];
  readonly close?: () => void;
}

/**
 * Whether a snapshot would be worth writing anew at an entry.
 * @param audiences those whose indexes it should hold
 * @param read specimens that were read in this process for what they teach the desk
 */
export function isDue(
  kept: KeptSnapshot,
  version: number,
  audiences: readonly Audience[],
  read: number,
): boolean {
  if (version < WORTH_A_SNAPSHOT) return false;
  const { sequence = 0, indexed = [] } = kept;
  if (indexed.length === 0 && read >= WORTH_KEEPING) return true;
  if (sequence === 0 || !audiences.every((audience) => indexed.includes(audience))) return true;
  const behind = version - sequence;
  // One with indexes is not given up for one without.
  return indexed.length <= audiences.length && behind >= Math.max(MUCH_SINCE, version * SHARE_SINCE);
}

/** What the snapshot of a place holds, if it can be used. The code that reads it is not loaded where there is none. */
export async function restoredFrom(place: SnapshotPlace, journal: Journal, clock: () => Date) {
  if (!existsSync(place.file)) return undefined;
  const { restoreSnapshot } = await import('../snapshot/snapshot.ts');
  return restoreSnapshot(place.file, journal, { ...place, now: clock() });
}

/** @param holder what is folded already */
export async function folded(
  journal: Journal,
  within: ReadOptions = {},
  holder = new Holder(),
): Promise<Holder> {
  const folding = holder.fold();
  const reading = { batchSize: FOLD_BATCH, after: holder.sequence, ...within };
  for await (const entries of journal.read(reading)) folding.add(entries);
  folding.done();
  return holder;
}
