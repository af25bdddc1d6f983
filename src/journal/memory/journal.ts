import type { Change, Entry } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import { chain, instantAfter } from '../chain.ts';
import { type AppendOptions, type Head, type Journal, NO_HASH, type ReadOptions } from '../journal.ts';

/** A journal that lasts as long as the process: for tests and for trying changes out. */
export class MemoryJournal implements Journal {
  readonly #entries: Entry[] = [];
  readonly #clock: () => Date;

  constructor(clock: () => Date = () => new Date()) {
    this.#clock = clock;
  }

  async append(changes: readonly Change[], { expectedHead }: AppendOptions = {}): Promise<readonly Entry[]> {
    const head = await this.head();
    if (expectedHead !== undefined && expectedHead !== head.sequence)
      throw movedOn(expectedHead, head.sequence);
    const entries = chain(changes, head, instantAfter(this.#entries.at(-1)?.instant ?? '', this.#clock()));
    // Through JSON, so that what comes back is what a store on disk would give.
    this.#entries.push(...entries.map((entry) => JSON.parse(JSON.stringify(entry)) as Entry));
    return this.#entries.slice(head.sequence);
  }

  async *read({ after = 0, until, batchSize = 500 }: ReadOptions = {}): AsyncGenerator<readonly Entry[]> {
    for (let at = after; at < this.#entries.length; at += batchSize) {
      const batch = this.#entries.slice(at, at + batchSize);
      const within = until === undefined ? batch : batch.filter(({ instant }) => instant <= until);
      if (within.length > 0) yield within;
      if (within.length < batch.length) return;
    }
  }

  async head(): Promise<Head> {
    const last = this.#entries.at(-1);
    return last ? { sequence: last.sequence, hash: last.hash } : { sequence: 0, hash: NO_HASH };
  }

  async close(): Promise<void> {}
}

/** The error for a caller whose picture of the journal is out of date. */
export function movedOn(expected: number, actual: number): CasebackError {
  return new CasebackError(
    'CONFLICT',
    `The archive has moved on from entry ${expected} to ${actual} meanwhile; nothing was written. Read it again, then repeat the change.`,
  );
}
