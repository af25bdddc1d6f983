import { Map as Persistent } from 'immutable';

/** An outgoing link: its label, such as `MADE_BY`, and the id of its target. */
export type Link = readonly [label: string, target: string];

/** Incoming links of a thing: labels by the id of the origin. */
type Into = Persistent<string, readonly string[]>;

interface Maps {
  readonly out: Persistent<string, readonly Link[]>;
  readonly into: Persistent<string, Into>;
}

/**
 * Links above single components: makers, product lines, devices, specimens, parts, sources, publications and claims, by
 * global id. A value. Outgoing links belong to a thing: describing it again replaces them and touches nothing else;
 * what is named before it is described has incoming links only.
 */
export class Links {
  static readonly none = new Links({ out: Persistent(), into: Persistent() });
  #made: Maps | (() => Maps);

  private constructor(made: Maps | (() => Maps)) {
    this.#made = made;
  }

  /** Links of which all outgoing ones are given, made when first asked for. */
  static restored(read: () => Iterable<readonly [string, readonly Link[]]>): Links {
    return new Links(() => {
      const draft = Links.none.draft();
      for (const [id, links] of read()) draft.describe(id, links);
      return draft.seal().#maps;
    });
  }

  get #maps(): Maps {
    if (typeof this.#made === 'function') this.#made = this.#made();
    return this.#made;
  }

  get #out(): Maps['out'] {
    return this.#maps.out;
  }

  get #into(): Maps['into'] {
    return this.#maps.into;
  }

  /** Whether something has been described under an id. */
  describes(id: string): boolean {
    return this.#out.has(id);
  }

  /** Outgoing links of a thing; none when it was never described. */
  outOf(id: string): readonly Link[] {
    return this.#out.get(id) ?? [];
  }

  /** Ids of the things that link to a thing by a label, such as the claims `SUPPORTED_BY` an observation; sorted. */
  into(id: string, label: string): readonly string[] {
    const found: string[] = [];
    for (const [from, labels] of this.#into.get(id) ?? []) if (labels.includes(label)) found.push(from);
    return found.sort();
  }

  /** Every thing that was described, with its outgoing links. */
  [Symbol.iterator](): IterableIterator<[string, readonly Link[]]> {
    return this.#out[Symbol.iterator]();
  }

  draft(): LinksDraft {
    return new LinksDraft(this.#out, this.#into, (out, into) => new Links({ out, into }));
  }
}

/** Links while they are being changed. */
export class LinksDraft {
  readonly #out: Persistent<string, readonly Link[]>;
  readonly #into: Persistent<string, Into>;
  readonly #made: (out: Persistent<string, readonly Link[]>, into: Persistent<string, Into>) => Links;
  /** Incoming links of things that this draft has changed, still mutable. */
  readonly #changed = new Map<string, Into>();

  constructor(
    out: Persistent<string, readonly Link[]>,
    into: Persistent<string, Into>,
    made: (out: Persistent<string, readonly Link[]>, into: Persistent<string, Into>) => Links,
  ) {
    this.#out = out.asMutable();
    this.#into = into.asMutable();
    this.#made = made;
  }

  /** Whether something links to a thing, for which `passes` holds. */
  someInto(id: string, passes: (from: string) => boolean): boolean {
    for (const [from] of this.#changed.get(id) ?? this.#into.get(id) ?? []) if (passes(from)) return true;
    return false;
  }

  /** Adds or updates a thing and replaces its outgoing links. */
  describe(id: string, links: readonly Link[]): void {
    const before = this.#out.get(id);
    if (before && same(before, links)) return;
    this.#drop(id);
    this.#out.set(id, links);
    for (const [label, target] of links) {
      const into = this.#open(target);
      into.set(id, [...(into.get(id) ?? []), label]);
    }
  }

  remove(id: string): void {
    this.#drop(id);
    this.#out.delete(id);
  }

  seal(): Links {
    for (const [id, into] of this.#changed) {
      if (into.size > 0) this.#into.set(id, into.asImmutable());
      else this.#into.delete(id);
    }
    return this.#made(this.#out.asImmutable(), this.#into.asImmutable());
  }

  #drop(id: string): void {
    for (const [, target] of this.#out.get(id) ?? []) this.#open(target).delete(id);
  }

  #open(id: string): Into {
    let into = this.#changed.get(id);
    if (!into) {
      into = (this.#into.get(id) ?? (Persistent() as Into)).asMutable();
      this.#changed.set(id, into);
    }
    return into;
  }
}

function same(a: readonly Link[], b: readonly Link[]): boolean {
  return a.length === b.length && a.every(([label, target], i) => label === b[i][0] && target === b[i][1]);
}
