import { Map as Persistent } from 'immutable';

/** An outgoing link: its label, such as `MADE_BY`, and the id of its target. */
export type Link = readonly [label: string, target: string];

/** Links as they were read, which never change; read and turned round when first asked for. */
class Beginning {
  readonly #read: () => Iterable<readonly [string, readonly Link[]]>;
  #out: ReadonlyMap<string, readonly Link[]> | undefined;
  #into: ReadonlyMap<string, readonly Link[]> | undefined;

  constructor(read: () => Iterable<readonly [string, readonly Link[]]>) {
    this.#read = read;
  }

  get out(): ReadonlyMap<string, readonly Link[]> {
    this.#out ??= new Map(this.#read());
    return this.#out;
  }

  /** By target: labels, each with the id of its origin; links of one origin stand together. */
  get into(): ReadonlyMap<string, readonly Link[]> {
    this.#into ??= turned(this.out);
    return this.#into;
  }

  openInto(id: string): Into {
    const into = (Persistent() as Into).asMutable();
    for (const [label, from] of this.into.get(id) ?? []) into.set(from, [...(into.get(from) ?? []), label]);
    return into.asImmutable();
  }
}

function turned(out: ReadonlyMap<string, readonly Link[]>): ReadonlyMap<string, readonly Link[]> {
  const into = new Map<string, Link[]>();
  for (const [from, links] of out)
    for (const [label, target] of links) {
      const known = into.get(target);
      if (known) known.push([label, from]);
      else into.set(target, [[label, from]]);
    }
  return into;
}

/** Incoming links of a thing: labels by the id of the origin. */
type Into = Persistent<string, readonly string[]>;

/** What changed since a beginning. Where a thing is not in here, the beginning has its links. */
interface Maps {
  /** Null for what was removed. */
  readonly out: Persistent<string, readonly Link[] | null>;
  readonly into: Persistent<string, Into>;
}

const NOTHING: Maps = { out: Persistent(), into: Persistent() };

/**
 * Links above single components: makers, product lines, devices, specimens, parts, sources, publications and claims, by
 * global id. A value. Outgoing links belong to a thing: describing it again replaces them and touches nothing else;
 * what is named before it is described has incoming links only.
 */
export class Links {
  static readonly none = new Links(new Beginning(() => []), NOTHING);
  /** Links that were read from a snapshot: plain maps, which are made ten times as fast as persistent ones. */
  readonly #beginning: Beginning;
  readonly #since: Maps;

  private constructor(beginning: Beginning, since: Maps) {
    this.#beginning = beginning;
    this.#since = since;
  }

  /** Links of which all outgoing ones are given, read when first asked for. */
  static restored(read: () => Iterable<readonly [string, readonly Link[]]>): Links {
    return new Links(new Beginning(read), NOTHING);
  }

  /** Whether something has been described under an id. */
  describes(id: string): boolean {
    return outOf(id, this.#beginning, this.#since.out) !== undefined;
  }

  /** Outgoing links of a thing; none when it was never described. */
  outOf(id: string): readonly Link[] {
    return outOf(id, this.#beginning, this.#since.out) ?? [];
  }

  /** Ids of the things that link to a thing by a label, such as the claims `SUPPORTED_BY` an observation; sorted. */
  into(id: string, label: string): readonly string[] {
    const since = this.#since.into.get(id);
    const found: string[] = [];
    if (since) {
      for (const [from, labels] of since) if (labels.includes(label)) found.push(from);
    } else {
      const before = this.#beginning.into.get(id) ?? [];
      for (const [by, from] of before) if (by === label && found.at(-1) !== from) found.push(from);
    }
    return found.sort();
  }

  /** Every thing that was described, with its outgoing links. */
  *[Symbol.iterator](): Generator<[string, readonly Link[]]> {
    const { out } = this.#since;
    for (const [id, links] of this.#beginning.out) if (!out.has(id)) yield [id, links];
    for (const [id, links] of out) if (links) yield [id, links];
  }

  draft(): LinksDraft {
    return new LinksDraft(this.#beginning, this.#since, (since) => new Links(this.#beginning, since));
  }
}

/** Links while they are being changed. */
export class LinksDraft {
  readonly #beginning: Beginning;
  readonly #out: Maps['out'];
  readonly #into: Maps['into'];
  readonly #made: (since: Maps) => Links;
  /** Incoming links of things that this draft has changed, still mutable. */
  readonly #changed = new Map<string, Into>();

  constructor(beginning: Beginning, since: Maps, made: (since: Maps) => Links) {
    this.#beginning = beginning;
    this.#out = since.out.asMutable();
    this.#into = since.into.asMutable();
    this.#made = made;
  }

  /** Whether something links to a thing, for which `passes` holds. */
  someInto(id: string, passes: (from: string) => boolean): boolean {
    const since = this.#changed.get(id) ?? this.#into.get(id);
    if (!since) return this.#beginning.into.get(id)?.some(([, from]) => passes(from)) ?? false;
    for (const [from] of since) if (passes(from)) return true;
    return false;
  }

  /** Adds or updates a thing and replaces its outgoing links. */
  describe(id: string, links: readonly Link[]): void {
    const before = outOf(id, this.#beginning, this.#out);
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
    if (this.#beginning.out.has(id)) this.#out.set(id, null);
    else this.#out.delete(id);
  }

  seal(): Links {
    for (const [id, into] of this.#changed) {
      if (into.size > 0 || this.#beginning.into.has(id)) this.#into.set(id, into.asImmutable());
      else this.#into.delete(id);
    }
    return this.#made({ out: this.#out.asImmutable(), into: this.#into.asImmutable() });
  }

  #drop(id: string): void {
    for (const [, target] of outOf(id, this.#beginning, this.#out) ?? []) this.#open(target).delete(id);
  }

  #open(id: string): Into {
    let into = this.#changed.get(id);
    if (!into) {
      into = (this.#into.get(id) ?? this.#beginning.openInto(id)).asMutable();
      this.#changed.set(id, into);
    }
    return into;
  }
}

/** Undefined for what is not described. */
function outOf(id: string, beginning: Beginning, since: Maps['out']): readonly Link[] | undefined {
  const links = since.get(id);
  return links === undefined ? beginning.out.get(id) : (links ?? undefined);
}

function same(a: readonly Link[], b: readonly Link[]): boolean {
  return a.length === b.length && a.every(([label, target], i) => label === b[i][0] && target === b[i][1]);
}
