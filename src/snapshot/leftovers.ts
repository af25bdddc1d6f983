import { existsSync, readdirSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { isRunning } from '../journal/sqlite/system.ts';

// A process that is killed while it writes a snapshot leaves what it had made so far: a folder in which things are put together, and
// the file that was to take the snapshot's place. Both have the id of the process in their names.

/** What nobody has touched for this long, ms, is left over, though a process of that id runs: ids are given again. */
const OLD = 600_000;

/** Where a snapshot is written before it takes its place. */
export function partOf(file: string): string {
  return `${file}.part-${process.pid}`;
}

/** How the name of a folder begins in which a snapshot is put together. */
export function folderFor(file: string): string {
  return join(dirname(file), `.snapshot-${process.pid}-`);
}

/**
 * Removes what processes that no longer run have left of this snapshot. What cannot be removed stays.
 * @param file the snapshot's place; its folder need not be there
 */
export function removeLeftovers(file: string): void {
  const folder = dirname(file);
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    try {
      const maker = makerOf(name, basename(file));
      if (maker !== undefined && (!isRunning(maker) || Date.now() - touched(path) > OLD))
        rmSync(path, { recursive: true, force: true });
    } catch {
      // Somebody else removes it at this moment, or it is not ours to remove.
    }
  }
}

/** Id of the process that made a file or folder on the way to a snapshot; undefined for anything else. */
function makerOf(name: string, snapshot: string): number | undefined {
  const [, ofFolder] = /^\.snapshot-(\d+)-\w{6}$/u.exec(name) ?? [];
  const rest = name.startsWith(`${snapshot}.part-`) ? name.slice(snapshot.length) : '';
  const [, ofPart] = /^\.part-(\d+)$/u.exec(rest) ?? [];
  const maker = ofFolder ?? ofPart;
  return maker === undefined ? undefined : Number(maker);
}

/** When a file, or anything in a folder, was last written, in milliseconds. */
function touched(path: string): number {
  const own = statSync(path);
  const inside = own.isDirectory() ? readdirSync(path).map((name) => touched(join(path, name))) : [];
  return Math.max(own.mtimeMs, ...inside);
}
