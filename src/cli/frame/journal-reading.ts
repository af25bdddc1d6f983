import type { Journal, ReadOptions } from '../../journal/journal.ts';
import { Progress } from './progress.ts';

/** A journal whose first reading from the start shows a progress bar. */
export function withProgress(journal: Journal): Journal {
  let shown = false;
  return {
    append: (changes, options) => journal.append(changes, options),
    head: () => journal.head(),
    identity: () => journal.identity(),
    appended: (key) => journal.appended(key),
    keys: () => journal.keys(),
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
