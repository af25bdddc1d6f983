import { randomBytes, randomUUID } from 'node:crypto';
import type { Change, Entry } from '../../model/entry.ts';
import { chain, instantAfter, prepare } from '../chain.ts';
import { HeadMoved } from '../errors.ts';
import {
  type Appended,
  type AppendOptions,
  type Head,
  type Journal,
  type KeptKey,
  NO_HASH,
  type ReadOptions,
} from '../journal.ts';
import { keyedOf, keyReused } from '../keys.ts';
import { boundsOf } from '../read-options.ts';
import { entryOf, type StoredEntry } from '../stored.ts';

/** A journal that lasts as long as the process: for tests and for trying changes out. */
export class MemoryJournal implements Journal {
  readonly #entries: StoredEntry[] = [];
  readonly #clock: () => Date;
  readonly #identity = randomUUID();
  readonly #secret = randomBytes(32);
  /** By key: what was appended, as sequences. */
  readonly #keys = new Map<string, { fingerprint: string; after: number; last: number }>();
  readonly #watchers = new Set<() => void>();

  constructor({ clock = () => new Date() }: { readonly clock?: () => Date } = {}) {
    this.#clock = clock;
  }

  async append(changes: readonly Change[], options: AppendOptions = {}): Promise<readonly Entry[]> {
    const prepared = prepare(changes);
    const keyed = keyedOf(prepared, options);
    if (changes.length === 0 && keyed === undefined) return [];
    const before = keyed && this.#appended(keyed.key);
    if (before) {
      if (before.fingerprint !== keyed.fingerprint) throw keyReused();
      return before.entries;
    }
    const { expectedHead } = options;
    const head = this.#head();
    if (expectedHead !== undefined && expectedHead !== head.sequence)
      throw new HeadMoved(expectedHead, head.sequence);
    const instant = instantAfter(this.#entries.at(-1)?.instant ?? '', this.#clock());
    const links = chain(prepared, head, instant);
    // Text is kept, so that what the caller does later to its objects is not history.
    for (const { stored } of links) this.#entries.push(stored);
    if (keyed)
      this.#keys.set(keyed.key, {
        fingerprint: keyed.fingerprint,
        after: head.sequence,
        last: this.#entries.length,
      });
    for (const hint of this.#watchers) hint();
    return links.map(({ entry }) => entry);
  }

  async *read(options?: ReadOptions): AsyncGenerator<readonly Entry[]> {
    for await (const batch of this.readStored(options)) yield batch.map(entryOf);
  }

  async *readStored(options: ReadOptions = {}): AsyncGenerator<readonly StoredEntry[]> {
    const { after, upTo, batchSize } = boundsOf(options);
    for (let at = after; at < Math.min(this.#entries.length, upTo); at += batchSize)
      yield this.#entries.slice(at, Math.min(at + batchSize, upTo));
  }

  async head(): Promise<Head> {
    return this.#head();
  }

  async identity(): Promise<string> {
    return this.#identity;
  }

  async appended(key: string): Promise<Appended | undefined> {
    return this.#appended(key);
  }

  async keys(): Promise<readonly KeptKey[]> {
    return [...this.#keys].map(([key, { fingerprint, after, last }]) => ({
      key,
      fingerprint,
      first: after + 1,
      last,
    }));
  }

  async secret(): Promise<Uint8Array> {
    return this.#secret;
  }

  watch(hint: () => void): () => void {
    this.#watchers.add(hint);
    return () => this.#watchers.delete(hint);
  }

  async close(): Promise<void> {}

  #appended(key: string): Appended | undefined {
    const kept = this.#keys.get(key);
    return (
      kept && {
        fingerprint: kept.fingerprint,
        after: kept.after,
        entries: this.#entries.slice(kept.after, kept.last).map(entryOf),
      }
    );
  }

  #head(): Head {
    const last = this.#entries.at(-1);
    return last ? { sequence: last.sequence, hash: last.hash } : { sequence: 0, hash: NO_HASH };
  }
}
