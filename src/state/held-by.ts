import { Set as PersistentSet } from 'immutable';

const NOTHING: PersistentSet<string> = PersistentSet();

/** Ids as they were read from a snapshot, which never change. */
class Beginning {
  readonly ids: readonly string[];
  #set: ReadonlySet<string> | undefined;

  constructor(ids: readonly string[]) {
    this.ids = ids;
  }

  has(id: string): boolean {
    this.#set ??= new Set(this.ids);
    return this.#set.has(id);
  }
}

/**
 * Specimens that may hold a part, by id. A value: what was given as a list stays that, and what came and went since is kept beside
 * it, so that a change costs nothing for those that it does not touch.
 */
export class HeldBy implements Iterable<string> {
  static readonly nothing = new HeldBy(new Beginning([]), NOTHING, NOTHING);
  readonly #beginning: Beginning;
  readonly #gone: PersistentSet<string>;
  readonly #added: PersistentSet<string>;

  private constructor(beginning: Beginning, gone: PersistentSet<string>, added: PersistentSet<string>) {
    this.#beginning = beginning;
    this.#gone = gone;
    this.#added = added;
  }

  /** @param ids without repetition */
  static restored(ids: readonly string[]): HeldBy {
    return new HeldBy(new Beginning(ids), NOTHING, NOTHING);
  }

  get size(): number {
    return this.#beginning.ids.length - this.#gone.size + this.#added.size;
  }

  *[Symbol.iterator](): Generator<string> {
    for (const id of this.#beginning.ids) if (this.#gone.size === 0 || !this.#gone.has(id)) yield id;
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
  readonly #beginning: Beginning;
  readonly #gone: PersistentSet<string>;
  readonly #added: PersistentSet<string>;
  readonly #made: (gone: PersistentSet<string>, added: PersistentSet<string>) => HeldBy;

  constructor(
    beginning: Beginning,
    gone: PersistentSet<string>,
    added: PersistentSet<string>,
    made: (gone: PersistentSet<string>, added: PersistentSet<string>) => HeldBy,
  ) {
    this.#beginning = beginning;
    this.#gone = gone;
    this.#added = added;
    this.#made = made;
  }

  add(id: string): void {
    if (this.#beginning.has(id)) this.#gone.delete(id);
    else this.#added.add(id);
  }

  delete(id: string): void {
    if (this.#beginning.has(id)) this.#gone.add(id);
    else this.#added.delete(id);
  }

  *[Symbol.iterator](): Generator<string> {
    for (const id of this.#beginning.ids) if (!this.#gone.has(id)) yield id;
    yield* this.#added;
  }

  seal(): HeldBy {
    return this.#made(this.#gone.asImmutable(), this.#added.asImmutable());
  }
}
