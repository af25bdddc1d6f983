import { Set as PersistentSet } from 'immutable';

/** Specimens that may hold a part, by id. A value; one that was given as a list becomes a set when it is first changed. */
export class HeldBy implements Iterable<string> {
  static readonly nothing = new HeldBy([]);
  readonly #ids: PersistentSet<string> | readonly string[];

  /** @param ids without repetition */
  constructor(ids: PersistentSet<string> | readonly string[]) {
    this.#ids = ids;
  }

  get size(): number {
    return PersistentSet.isSet(this.#ids) ? this.#ids.size : this.#ids.length;
  }

  [Symbol.iterator](): IterableIterator<string> {
    return this.#ids[Symbol.iterator]();
  }

  /** The same ids, open for changes; this stays as it is. */
  draft(): PersistentSet<string> {
    return PersistentSet(this.#ids).asMutable();
  }
}
