import { randomUUID } from 'node:crypto';
import type { Change, Entry } from '../../model/entry.ts';
import { chain, instantAfter, prepare } from '../chain.ts';
import { headMoved } from '../errors.ts';
import { type AppendOptions, type Head, type Journal, NO_HASH, type ReadOptions } from '../journal.ts';
import { boundsOf } from '../read-options.ts';
import { entryOf, type StoredEntry } from '../stored.ts';

/** A journal that lasts as long as the process: for tests and for trying changes out. */
export class MemoryJournal implements Journal {
  readonly #entries: StoredEntry[] = [];
  readonly #clock: () => Date;
  readonly #identity = randomUUID();

  constructor({ clock = () => new Date() }: { readonly clock?: () => Date } = {}) {
    this.#clock = clock;
  }

  async append(changes: readonly Change[], { expectedHead }: AppendOptions = {}): Promise<readonly Entry[]> {
    if (changes.length === 0) return [];
    const head = this.#head();
    if (expectedHead !== undefined && expectedHead !== head.sequence)
      throw headMoved(expectedHead, head.sequence);
    const instant = instantAfter(this.#entries.at(-1)?.instant ?? '', this.#clock());
    const links = chain(prepare(changes), head, instant);
    // Text is kept, so that what the caller does later to its objects is not history.
    for (const { stored } of links) this.#entries.push(stored);
    return links.map(({ entry }) => entry);
  }

  async *read(options?: ReadOptions): AsyncGenerator<readonly Entry[]> {
    for await (const batch of this.readStored(options)) yield batch.map(entryOf);
  }

  async *readStored(options: ReadOptions = {}): AsyncGenerator<readonly StoredEntry[]> {
    const { after, since = '', until, batchSize } = boundsOf(options);
    let at = after;
    while (at < this.#entries.length && this.#entries[at].instant < since) at++;
    for (; at < this.#entries.length; at += batchSize) {
      const batch = this.#entries.slice(at, at + batchSize);
      const within = until === undefined ? batch : batch.filter(({ instant }) => instant <= until);
      if (within.length > 0) yield within;
      if (within.length < batch.length) return;
    }
  }

  async head(): Promise<Head> {
    return this.#head();
  }

  async identity(): Promise<string> {
    return this.#identity;
  }

  async close(): Promise<void> {}

  #head(): Head {
    const last = this.#entries.at(-1);
    return last ? { sequence: last.sequence, hash: last.hash } : { sequence: 0, hash: NO_HASH };
  }
}
