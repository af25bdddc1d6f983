import { type Head, type Journal, NO_HASH, type ReadOptions } from '../../journal/journal.ts';
import { Progress } from './progress.ts';

/** A journal whose first reading from the start shows a progress bar. */
export function withProgress(journal: Journal): Journal {
  let shown = false;
  return {
    append: (changes, options) => journal.append(changes, options),
    head: () => journal.head(),
    identity: () => journal.identity(),
    appended: (key) => journal.appended(key),
    secret: () => journal.secret(),
    watch: (hint) => journal.watch(hint),
    close: () => journal.close(),
    readStored: (options) => journal.readStored(options),
    async *read(options?: ReadOptions) {
      const first = !shown;
      shown = true;
      const progress = new Progress('reading the archive', first ? (await journal.head()).sequence : 0);
      let done = 0;
      try {
        for await (const entries of journal.read(options)) {
          yield entries;
          done += entries.length;
          if (first) progress.update(done);
        }
      } finally {
        progress.end();
      }
    },
  };
}

/** Instant of the first entry of a journal; undefined while it has none. */
export async function beginningOf(journal: Journal): Promise<string | undefined> {
  for await (const [first] of journal.read({ batchSize: 1 })) return first.instant;
  return undefined;
}

/**
 * The journal as it stood at an instant; nothing can be appended to it.
 * @param until ISO 8601 in UTC with milliseconds
 */
export function asItStood(journal: Journal, until: string): Journal {
  return {
    append: () => Promise.reject(new Error('the past cannot be changed')),
    async head() {
      let last: Head = { sequence: 0, hash: NO_HASH };
      for await (const entries of journal.read({ until })) last = entries[entries.length - 1];
      return { sequence: last.sequence, hash: last.hash };
    },
    identity: () => journal.identity(),
    appended: (key) => journal.appended(key),
    secret: () => journal.secret(),
    watch: (hint) => journal.watch(hint),
    close: () => journal.close(),
    read: (options) => journal.read({ ...options, until }),
    readStored: (options) => journal.readStored({ ...options, until }),
  };
}
