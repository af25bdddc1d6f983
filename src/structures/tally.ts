import type { Code } from './dfs-code.ts';

/** What may be added to a structure, and the number of groups in which it may. */
export interface Counted {
  /** An edge between two of its nodes, an edge to a new node, or a narrower label of a node. */
  readonly kind: 'inner' | 'outer' | 'narrower';
  readonly place: number;
  /** Label of the edge, as seen from `place`. */
  readonly link: number;
  /** The other node of an inner edge, else the label of the new node or the narrower label. */
  readonly other: number;
  readonly count: number;
}

/** Counts groups, each once, in plain arrays that serve one structure after another. Groups come in order. */
export class Tally {
  readonly #size: number;
  readonly #nodeLabels: number;
  readonly #edgeLabels: number;
  readonly #outerFrom: number;
  readonly #narrowerFrom: number;
  readonly #counts: Int32Array;
  readonly #last: Int32Array;
  /** Embeddings, beside groups, of what is met at most once in each: inner edges and narrower labels. */
  readonly #rows: Int32Array;
  /** Places of the arrays that are not 0. */
  #touched: number[] = [];

  constructor(size: number, nodeLabels: number, edgeLabels: number) {
    this.#size = size;
    this.#nodeLabels = nodeLabels;
    this.#edgeLabels = edgeLabels;
    this.#outerFrom = size * size * edgeLabels;
    this.#narrowerFrom = this.#outerFrom + size * edgeLabels * nodeLabels;
    this.#counts = new Int32Array(this.#narrowerFrom + size * nodeLabels);
    this.#last = new Int32Array(this.#counts.length).fill(-1);
    this.#rows = new Int32Array(this.#counts.length);
  }

  /** Forgets what was counted; the edges that the structure has already will not be counted. */
  begin({ edges }: Code, reverse: ArrayLike<number>): void {
    for (const key of this.#touched) {
      this.#counts[key] = 0;
      this.#last[key] = -1;
      this.#rows[key] = 0;
    }
    this.#touched = [];
    for (const { from, to, link } of edges) {
      const key = from < to ? this.#innerKey(from, to, link) : this.#innerKey(to, from, reverse[link]);
      this.#counts[key] = -1;
      this.#touched.push(key);
    }
  }

  inner(place: number, other: number, link: number, group: number): void {
    const key = this.#innerKey(place, other, link);
    if (this.#counts[key] < 0) return;
    this.#rows[key]++;
    this.#add(key, group);
  }

  outer(place: number, link: number, label: number, group: number): void {
    this.#add(this.#outerFrom + (place * this.#edgeLabels + link) * this.#nodeLabels + label, group);
  }

  narrower(place: number, label: number, group: number): void {
    const key = this.#narrowerFrom + place * this.#nodeLabels + label;
    this.#rows[key]++;
    this.#add(key, group);
  }

  /** Greatest count of each kind, 0 where there is none. */
  mostOfEach(): readonly [inner: number, outer: number, narrower: number] {
    const most: [number, number, number] = [0, 0, 0];
    for (const key of this.#touched) {
      const kind = key < this.#outerFrom ? 0 : key < this.#narrowerFrom ? 1 : 2;
      most[kind] = Math.max(most[kind], this.#counts[key]);
    }
    return most;
  }

  /** Inner edges and narrower labels that every one of so many embeddings allows, in a fixed order. */
  inAll(rows: number): readonly Counted[] {
    return this.#touched
      .filter((key) => this.#rows[key] === rows)
      .sort((a, b) => a - b)
      .map((key) => this.#read(key));
  }

  /** Everything counted, in a fixed order. */
  counted(): readonly Counted[] {
    return this.#touched
      .filter((key) => this.#counts[key] > 0)
      .sort((a, b) => a - b)
      .map((key) => this.#read(key));
  }

  #add(key: number, group: number): void {
    if (this.#last[key] === group) return;
    if (this.#counts[key] === 0) this.#touched.push(key);
    this.#last[key] = group;
    this.#counts[key]++;
  }

  #innerKey(place: number, other: number, link: number): number {
    return (place * this.#size + other) * this.#edgeLabels + link;
  }

  #read(key: number): Counted {
    const count = this.#counts[key];
    if (key < this.#outerFrom) {
      const pair = Math.floor(key / this.#edgeLabels);
      const link = key % this.#edgeLabels;
      return { kind: 'inner', place: Math.floor(pair / this.#size), other: pair % this.#size, link, count };
    }
    if (key < this.#narrowerFrom) {
      const rest = key - this.#outerFrom;
      const end = Math.floor(rest / this.#nodeLabels);
      const other = rest % this.#nodeLabels;
      const [place, link] = [Math.floor(end / this.#edgeLabels), end % this.#edgeLabels];
      return { kind: 'outer', place, other, link, count };
    }
    const rest = key - this.#narrowerFrom;
    const place = Math.floor(rest / this.#nodeLabels);
    return { kind: 'narrower', place, other: rest % this.#nodeLabels, link: -1, count };
  }
}
