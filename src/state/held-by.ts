import { Set as PersistentSet } from 'immutable';

const NOTHING: PersistentSet<string> = PersistentSet();

/**
 * Specimens that may hold a part, by id. A value: what was given as a list stays that, and what came and went since is kept beside
 * it, so that a change costs nothing for those that it does not touch.
 */
export class HeldBy implements Iterable<string> {
  static readonly nothing = new HeldBy([], NOTHING, NOTHING);
  readonly #beginning: readonly string[];
  readonly #gone: PersistentSet<string>;
  readonly #added: PersistentSet<string>;

  private constructor(
    beginning: readonly string[],
    gone: PersistentSet<string>,
    added: PersistentSet<string>,
  ) {
    this.#beginning = beginning;
    this.#gone = gone;
    this.#added = added;
  }

  /** @param ids without repetition */
  static restored(ids: readonly string[]): HeldBy {
    return new HeldBy(ids, NOTHING, NOTHING);
  }

  get size(): number {
    return this.#beginning.length - this.#gone.size + this.#added.size;
  }

  *[Symbol.iterator](): Generator<string> {
    for (const id of this.#beginning) if (this.#gone.size === 0 || !this.#gone.has(id)) yield id;
    yield* this.#added;
  }

  /** The same ids, open for changes; this stays as it is. */
  draft(): HeldByDraft {
    const made = (gone: PersistentSet<string>, added: PersistentSet<string>) =>
      new HeldBy(this.#beginning, gone, added);
    return new HeldByDraft(this.#beginning, this.#gone.asMutable(), this.#added.asMutable(), made);
  }
}

/** The same while it is being changed. */
export class HeldByDraft implements Iterable<string> {
  readonly #beginning: readonly string[];
  readonly #gone: PersistentSet<string>;
  readonly #added: PersistentSet<string>;
  readonly #made: (gone: PersistentSet<string>, added: PersistentSet<string>) => HeldBy;

  constructor(
    beginning: readonly string[],
    gone: PersistentSet<string>,
    added: PersistentSet<string>,
    made: (gone: PersistentSet<string>, added: PersistentSet<string>) => HeldBy,
  ) {
    this.#beginning = beginning;
    this.#gone = gone;
    this.#added = added;
    this.#made = made;
  }

  /** @param id one that is not there */
  add(id: string): void {
    if (this.#gone.has(id)) this.#gone.delete(id);
    else this.#added.add(id);
  }

  /** @param id one that is there */
  delete(id: string): void {
    if (this.#added.has(id)) this.#added.delete(id);
    else this.#gone.add(id);
  }

  *[Symbol.iterator](): Generator<string> {
    for (const id of this.#beginning) if (!this.#gone.has(id)) yield id;
    yield* this.#added;
  }

  seal(): HeldBy {
    return this.#made(this.#gone.asImmutable(), this.#added.asImmutable());
  }
}
