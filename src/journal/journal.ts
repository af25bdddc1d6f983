import type { Change, Entry } from '../model/entry.ts';

/**
 * The append-only journal, the one place where truth is stored. Stores live in folders of their own with equal
 * file names; all answer asynchronously, so that one may be across a network.
 */
export interface Journal {
  /**
   * Appends changes as one transaction: all are durable when it resolves, or none was written.
   * @throws CasebackError CONFLICT when `expectedHead` is given and is not the last sequence any more
   */
  append(changes: readonly Change[], options?: AppendOptions): Promise<readonly Entry[]>;
  /** Entries in order, in batches, so that long journals need not fit in memory. */
  read(options?: ReadOptions): AsyncIterable<readonly Entry[]>;
  /** Sequence and hash of the last entry; 0 and 64 zeros for an empty journal. */
  head(): Promise<Head>;
  close(): Promise<void>;
}

export interface AppendOptions {
  /** The sequence the caller believes to be the last. */
  readonly expectedHead?: number;
}

export interface ReadOptions {
  /** Only entries with a higher sequence. */
  readonly after?: number;
  /** Only entries up to this instant, itself included; ISO 8601 in UTC with milliseconds. */
  readonly until?: string;
  /** @default 500 */
  readonly batchSize?: number;
}

export interface Head {
  readonly sequence: number;
  readonly hash: string;
}

export const NO_HASH = '0'.repeat(64);
