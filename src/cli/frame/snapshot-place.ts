import { join } from 'node:path';
import type { SnapshotPlace } from '../../archive/opening.ts';
import type { Archive } from '../../archive.ts';
import type { BegunSnapshot } from '../../snapshot/read-early.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { written } from './data-folder.ts';
import type { Terminal } from './terminal.ts';

/** Name of the snapshot in a data folder. */
export function snapshotFile(folder: string): string {
  return join(folder, 'snapshot');
}

/**
 * Where the snapshot of a data folder is.
 * @param ahead audiences whose pattern index will be wanted soon
 * @param begun the file, where a thread reads it already
 */
export function snapshotPlace(
  folder: string,
  ahead: readonly Audience[],
  terminal: Terminal,
  begun?: BegunSnapshot,
): SnapshotPlace {
  return {
    file: snapshotFile(folder),
    ahead,
    begun,
    onUnusable: (why) =>
      terminal.message(
        `The snapshot in ${written(folder)} is not used: ${why}. The journal is read instead, and a new snapshot is made.\n`,
      ),
  };
}

/** Writes the snapshot behind a command that had to read a long journal, so that the next one need not. */
export async function spareNextReading(archive: Archive): Promise<void> {
  if (!archive.snapshotIsDue([])) return;
  // A folder that cannot be written to, or a full disk, is no reason to end otherwise.
  await archive.saveSnapshot([]).catch(() => false);
}
