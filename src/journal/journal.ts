import type { Change, Entry } from '../model/entry.ts';
import type { StoredEntry } from './stored.ts';

/**
 * The append-only journal, the single source of truth. Stores live in folders of their own with equal file names; all
 * are asynchronous, so that one may be across a network. Functions built on these methods have files of their own:
 * `findEntry`, `verify`.
 */
export interface Journal {
  /**
   * Appends changes as one transaction: all are durable when it resolves, or none was written. The entries returned
   * carry the payloads given, not copies. Under a key that was used before for the same, nothing is written and the entries
   * written then are the answer.
   * @throws CasebackError CONFLICT (HeadMoved) when `expectedHead` is given and is not the last sequence any more, and when
   * the key was used for something else; BAD_INPUT when a change holds what JSON cannot; UNAVAILABLE when the store cannot be
   * written, with the reason
   */
  append(changes: readonly Change[], options?: AppendOptions): Promise<readonly Entry[]>;
  /**
   * Entries in order, with payloads in today's form, in batches, so that long journals need not fit in memory. What another process appends while
   * the reading goes on is read, too: reading again from the last sequence seen follows a journal.
   * @throws CasebackError BAD_INPUT for options out of bounds; DamagedEntry where an entry cannot be read, after
   * those before it
   */
  read(options?: ReadOptions): AsyncIterable<readonly Entry[]>;
  /** The same entries as they are stored, with the text that their hashes cover. */
  readStored(options?: ReadOptions): AsyncIterable<readonly StoredEntry[]>;
  /** Sequence and hash of the last entry; 0 and 64 zeros for an empty journal. */
  head(): Promise<Head>;
  /**
   * The archive's own random id, a UUID, made with it and the same in every copy; undefined while a journal without
   * entries is yet to be made.
   */
  identity(): Promise<string | undefined>;
  /** What was appended under a key; undefined when nothing was. */
  appended(key: string): Promise<Appended | undefined>;
  /** Every idempotency key with what was appended under it, in the order of that. */
  keys(): Promise<readonly KeptKey[]>;
  /**
   * The journal as it is at one instant, from one transaction, where the store has such; what is appended meanwhile does not show.
   * Whoever asked releases it.
   */
  hold?(): Promise<HeldJournal>;
  /**
   * 32 random bytes, made with the archive and known to whoever can read its store, no one else: the key of its state tokens.
   * Undefined while a journal without entries is yet to be made.
   */
  secret(): Promise<Uint8Array | undefined>;
  /**
   * Calls back when others may have appended something. A hint that may be missed or come for nothing: whoever follows a
   * journal also looks from time to time.
   * @returns the function that ends it
   */
  watch(hint: () => void): () => void;
  /** What the store finds when it checks itself, beside the chain of entries; a store that has nothing to check leaves it out. */
  inspect?(): Promise<Inspection>;
  /** Releases files and connections. */
  close(): Promise<void>;
}

/** What a store finds of itself, beside its entries. */
export interface Inspection {
  /** What is wrong, in sentences. */
  readonly damage: readonly string[];
  /** What is worth knowing and no damage. */
  readonly notes: readonly string[];
}

export interface AppendOptions {
  /** The sequence the caller believes to be the last. */
  readonly expectedHead?: number;
  /**
   * An idempotency key, 1 to 200 characters: whoever lost the answer can append again under the same key, and it is done
   * once. It is kept with the entries, and for no changes, too.
   */
  readonly key?: string;
  /** What must be equal in a repeat under the key. @default a digest of the changes */
  readonly fingerprint?: string;
}

/** What was appended under a key. */
export interface Appended {
  readonly fingerprint: string;
  /** Sequence before the first entry. */
  readonly after: number;
  readonly entries: readonly Entry[];
}

/** An idempotency key as it is kept. */
export interface KeptKey {
  readonly key: string;
  readonly fingerprint: string;
  /** Sequences of the first and last entry appended under it; `last` is `first` - 1 where there were none. */
  readonly first: number;
  readonly last: number;
}

/** What a copy is made of. */
export type CopiedJournal = Pick<Journal, 'head' | 'identity' | 'readStored' | 'keys'>;

export interface HeldJournal extends CopiedJournal {
  /** Ends the transaction. */
  release(): Promise<void>;
}

export interface ReadOptions {
  /** Only entries with a higher sequence. @default 0 */
  readonly after?: number;
  /** Hash of the entry `after`, where the caller has read it: what follows must carry it. */
  readonly afterHash?: string | undefined;
  /** Only entries up to this sequence, itself included. */
  readonly upTo?: number;
  /** Maximum number of entries at once. @default 500 */
  readonly batchSize?: number;
}

export interface Head {
  readonly sequence: number;
  readonly hash: string;
}

export const NO_HASH = '0'.repeat(64);
