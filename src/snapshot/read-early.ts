import { existsSync } from 'node:fs';
import type { Audience } from '../state/visibility/audience.ts';
import { SnapshotFile } from './snapshot-file.ts';

// Reading a snapshot while the program that will use it is still being loaded: this file must need little of it.

/** Name of the section with the index of words. */
export const SEARCH = 'search';

/** A snapshot that a thread reads. */
export interface BegunSnapshot {
  readonly opened: SnapshotFile;
  /** Resolves when everything is read. */
  readonly read: Promise<void>;
}

/**
 * Begins to read a snapshot: all of it, since it holds what the service that wrote it was asked for.
 * @returns undefined without one, or with one that cannot be opened; whoever wants it is told why
 */
export function readEarly(file: string): BegunSnapshot | undefined {
  if (!existsSync(file)) return undefined;
  try {
    const opened = new SnapshotFile(file);
    return { opened, read: readAhead(opened, ['reader', 'desk']) };
  } catch {
    return undefined;
  }
}

/** Reads what every state needs, then the indexes of audiences, on a thread. @returns resolves when all is read */
export function readAhead(opened: SnapshotFile, audiences: readonly Audience[]): Promise<void> {
  const names = opened.header.sections.map(([name]) => name);
  const of = (audience: Audience) => names.filter((name) => name.startsWith(`${audience}.`));
  const common = names.filter((name) => !/^(?:reader|desk)\./u.test(name));
  const indexes = audiences.flatMap(of);
  const isNeededFirst = (name: string) => name === 'names' || name.includes('.kinds');
  const isSoon = [...common, ...indexes].filter(isNeededFirst);
  return opened.readAhead([...new Set([...isSoon, ...common, ...indexes])]);
}
