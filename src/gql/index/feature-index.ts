/**
 * The inverted index: from label sets, edge shapes and property values to the segments that have them. It is the
 * filter of "filter, then verify" (Shasha, Wang and Giugno, "Algorithmics and applications of tree and graph
 * searching", PODS 2002; features as short as one edge suffice when segments are small). The totals it
 * keeps beside the segments are the statistics of the join order.
 *
 * Features are kept per label *set* and not per label, so an edge is one feature however deep the taxonomy; a query
 * unites the few sets that satisfy its label expression.
 */
import { type Field, type Layout, OUT, UNDIRECTED } from '../storage/catalog.ts';
import { S, type Store } from '../storage/store.ts';
import type { Rest } from '../storage/string-pool.ts';
import { Postings } from './postings.ts';

/** Values of one key fold into this many features, so a key whose values are all unlike stays small. */
const FOLD = 4096;
/** Places for shapes of edges that are found by their kinds, to begin with. */
const LATELY = 64;

/** What a saved posting list belongs to. */
const [IN_NODES, IN_SHAPES, IN_CROSSINGS, IN_VALUES] = [0, 1, 2, 3] as const;

/** One edge shape: label sets at both ends. `from` is the source when directed, the smaller number when not. */
export interface Shape {
  readonly from: number;
  readonly to: number;
  readonly postings: Postings;
}

/** One end of a crossing edge: the label set of the end that owns it, and how the edge leaves it. */
export interface Crossing {
  readonly from: number;
  readonly code: number;
  readonly postings: Postings;
}

interface LateShape {
  readonly edgeKind: number;
  readonly sourceKind: number;
  readonly targetKind: number;
  readonly shape: Shape;
}

export class FeatureIndex {
  /** Per label set. */
  readonly nodes: (Postings | undefined)[] = [];
  /** Per edge label, times two, plus one when undirected: by `from` label set, the shapes. */
  readonly shapes: (Map<number, Shape[]> | undefined)[] = [];
  /** The same by `to` label set. */
  readonly shapesByTo: (Map<number, Shape[]> | undefined)[] = [];
  /** Per adjacency code of the end that owns the edge: crossing edges by label set of that end. */
  readonly crossings: (Map<number, Crossing> | undefined)[] = [];
  /** Per key, per folded value. */
  readonly values: ((Postings | undefined)[] | undefined)[] = [];
  /** Nodes, and edges, of all segments. */
  nodeTotal = 0;
  edgeTotal = 0;

  /** By layout. */
  readonly #fields: (readonly Field[] | undefined)[] = [];
  /** By code, then by the label sets of both ends. */
  readonly #shapeIds: (Map<number, Shape> | undefined)[] = [];
  #shapeCount = 0;
  /** Shapes of late, by a hash of kinds. */
  #lately: (LateShape | undefined)[] = new Array(LATELY).fill(undefined);

  /** Per list of shapes, how many edges they are; until the index changes. */
  #edgesOf = new WeakMap<readonly Shape[], number>();

  /** Adds (`sign` 1) or takes out (-1) everything that a segment's columns hold. */
  update(store: Store, segment: number, sign: 1 | -1): void {
    this.#edgesOf = new WeakMap();
    this.#updateNodes(store, segment, sign);
    this.#updateEdges(store, segment, sign);
  }

  /** The postings of string or boolean value `value` (string number, or 0 and 1) of a key; undefined when none. */
  valuePostings(key: number, value: number): Postings | undefined {
    return this.values[key]?.[value & (FOLD - 1)];
  }

  /** Shapes between some label sets, of an edge label times two, plus one when undirected. */
  *shapesBetween(code: number, from: readonly number[], to: readonly number[]): Generator<Shape> {
    const byFrom = this.shapes[code];
    const byEnds = this.#shapeIds[code];
    if (!byFrom || !byEnds) return;
    const wanted = to.length > 8 ? new Set(to) : undefined;
    for (const set of from) {
      const shapes = byFrom.get(set);
      if (!shapes) continue;
      // A label has many neighbours, and few of them are asked for.
      if (to.length < shapes.length) {
        for (const end of to) {
          const shape = byEnds.get(endsOf(set, end));
          if (shape) yield shape;
        }
      } else for (const shape of shapes) if (wanted?.has(shape.to) ?? to.includes(shape.to)) yield shape;
    }
  }

  /** Edges that are of these shapes, one of the lists of `shapes` or `shapesByTo`. */
  edgesOf(shapes: readonly Shape[] | undefined): number {
    if (!shapes) return 0;
    let sum = this.#edgesOf.get(shapes);
    if (sum === undefined) {
      sum = shapes.reduce((all, { postings }) => all + postings.total, 0);
      this.#edgesOf.set(shapes, sum);
    }
    return sum;
  }

  /**
   * Everything in one row of words, to be taken up by {@link restore}; worthless when the index changes meanwhile.
   * @param rest called often, so that others have their turn
   */
  async save(rest: Rest): Promise<Int32Array> {
    const all: (readonly [where: readonly number[], postings: Postings])[] = [];
    this.nodes.forEach((postings, set) => {
      if (postings) all.push([[IN_NODES, set, 0, 0], postings]);
    });
    this.#shapeIds.forEach((byEnds, code) => {
      for (const { from, to, postings } of byEnds?.values() ?? [])
        all.push([[IN_SHAPES, code, from, to], postings]);
    });
    this.crossings.forEach((bySet, code) => {
      for (const { from, postings } of bySet?.values() ?? [])
        all.push([[IN_CROSSINGS, code, from, 0], postings]);
    });
    this.values.forEach((byValue, key) => {
      byValue?.forEach((postings, value) => {
        if (postings) all.push([[IN_VALUES, key, value, 0], postings]);
      });
    });
    const words = new Int32Array(3 + all.reduce((sum, [, postings]) => sum + 4 + postings.savedWords, 0));
    words.set([this.nodeTotal, this.edgeTotal, all.length]);
    let at = 3;
    for (const [where, postings] of all) {
      await rest();
      // A list that has grown meanwhile would not fit.
      if (at + 4 + postings.savedWords > words.length) break;
      words.set(where, at);
      at = postings.save(words, at + 4);
    }
    return words;
  }

  /** Makes an empty index the one that another one saved; the words become its memory. */
  restore(words: Int32Array): void {
    this.nodeTotal = words[0]!;
    this.edgeTotal = words[1]!;
    let at = 3;
    for (let left = words[2]!; left > 0; left--) {
      const [where, a, b, c] = [words[at], words[at + 1]!, words[at + 2]!, words[at + 3]!];
      const { postings, next } = Postings.restored(words, at + 4);
      at = next;
      switch (where) {
        case IN_NODES:
          this.nodes[a] = postings;
          break;
        case IN_SHAPES:
          this.#shape(a, b, c, postings);
          break;
        case IN_CROSSINGS: {
          this.crossings[a] ??= new Map();
          this.crossings[a].set(b, { from: b, code: a, postings });
          break;
        }
        default: {
          this.values[a] ??= [];
          while (this.values[a].length <= b) this.values[a].push(undefined);
          this.values[a][b] = postings;
        }
      }
    }
  }

  bytesUsed(): number {
    let bytes = 0;
    for (const postings of this.nodes) bytes += postings?.bytesUsed() ?? 0;
    for (const byEnds of this.#shapeIds)
      for (const shape of byEnds?.values() ?? []) bytes += shape.postings.bytesUsed() + 120;
    for (const map of this.crossings)
      for (const c of map?.values() ?? []) bytes += c.postings.bytesUsed() + 60;
    for (const byValue of this.values) for (const p of byValue ?? []) bytes += (p?.bytesUsed() ?? 0) + 8;
    return bytes;
  }

  #updateNodes(store: Store, segment: number, sign: 1 | -1): void {
    const { words } = store.records;
    const { nodeKinds, layouts } = store.catalog;
    const runs = store.runRow.view;
    const rows = store.nodeRow.view;
    this.nodeTotal += sign * store.segmentField(segment, S.nodeCount);
    const firstRun = store.segmentField(segment, S.runs);
    for (let run = firstRun; run < firstRun + store.segmentField(segment, S.runCount); run++) {
      const kind = nodeKinds[runs[run * 2]!]!;
      const first = runs[run * 2 + 1]!;
      const end = runs[run * 2 + 3]!;
      let postings = this.nodes[kind.labelSet];
      if (!postings) {
        postings = new Postings();
        this.nodes[kind.labelSet] = postings;
      }
      touch(postings, segment, sign, end - first);
      for (const { key, slot } of this.#indexed(kind.layout, layouts)) {
        let byValue = this.values[key];
        if (!byValue) {
          byValue = [];
          this.values[key] = byValue;
        }
        for (let node = first; node < end; node++) {
          const folded = words[rows[node * 4 + 2]! + slot]! & (FOLD - 1);
          while (byValue.length <= folded) byValue.push(undefined);
          let held = byValue[folded];
          if (!held) {
            held = new Postings();
            byValue[folded] = held;
          }
          touch(held, segment, sign, 1);
        }
      }
    }
  }

  /** Fields of a layout whose values are looked up. */
  #indexed(number: number, layouts: readonly Layout[]): readonly Field[] {
    let fields = this.#fields[number];
    if (!fields) {
      fields = layouts[number]!.fields.filter(({ storage }) => storage === 'string' || storage === 'boolean');
      this.#fields[number] = fields;
    }
    return fields;
  }

  #updateEdges(store: Store, segment: number, sign: 1 | -1): void {
    const first = store.segmentField(segment, S.edges);
    const count = store.segmentField(segment, S.edgeCount);
    const { edgeKinds } = store.catalog;
    const rows = store.nodeRow.view;
    const edges = store.edgeRow.view;
    this.edgeTotal += sign * count;
    for (let edge = first; edge < first + count; edge++) {
      const kind = edges[edge * 4]!;
      const source = edges[edge * 4 + 1]!;
      const target = edges[edge * 4 + 2]!;
      if (source >= 0 && target >= 0) {
        const { postings } = this.#shapeOf(store, kind, rows[source * 4]!, rows[target * 4]!);
        touch(postings, segment, sign, 1);
        continue;
      }
      const { label, directed } = edgeKinds[kind]!;
      // An edge between two other segments is noted for both of its ends under label set -1.
      if (source >= 0 || target < 0)
        this.#cross(source, label * 3 + (directed ? OUT : UNDIRECTED), store, segment, sign);
      if ((target >= 0 || source < 0) && (directed || source !== target))
        this.#cross(target, label * 3 + (directed ? OUT + 1 : UNDIRECTED), store, segment, sign);
    }
  }

  /** The shape of an edge, by its kind and those of its ends. */
  #shapeOf(store: Store, edgeKind: number, sourceKind: number, targetKind: number): Shape {
    // A segment has few shapes, and the next one mostly has the same.
    const mixed = Math.imul(Math.imul(edgeKind, 0x9e3779b1) ^ (sourceKind * 4099 + targetKind), 0x85ebca6b);
    const place = (mixed >>> 12) & (this.#lately.length - 1);
    const known = this.#lately[place];
    if (
      known &&
      known.edgeKind === edgeKind &&
      known.sourceKind === sourceKind &&
      known.targetKind === targetKind
    )
      return known.shape;
    const { nodeKinds, edgeKinds } = store.catalog;
    const { label, directed } = edgeKinds[edgeKind]!;
    const a = nodeKinds[sourceKind]!.labelSet;
    const b = nodeKinds[targetKind]!.labelSet;
    const swap = !directed && a > b;
    const shape = this.#shape(label * 2 + (directed ? 0 : 1), swap ? b : a, swap ? a : b);
    // Its length may have changed.
    this.#lately[(mixed >>> 12) & (this.#lately.length - 1)] = { edgeKind, sourceKind, targetKind, shape };
    return shape;
  }

  #cross(end: number, code: number, store: Store, segment: number, sign: 1 | -1): void {
    const from = end < 0 ? -1 : store.catalog.nodeKinds[store.nodeRow.view[end * 4]!]!.labelSet;
    let bySet = this.crossings[code];
    if (!bySet) {
      bySet = new Map();
      this.crossings[code] = bySet;
    }
    let crossing = bySet.get(from);
    if (!crossing) {
      crossing = { from, code, postings: new Postings() };
      bySet.set(from, crossing);
    }
    touch(crossing.postings, segment, sign, 1);
  }

  #shape(code: number, from: number, to: number, postings?: Postings): Shape {
    let byEnds = this.#shapeIds[code];
    if (!byEnds) {
      byEnds = new Map();
      this.#shapeIds[code] = byEnds;
    }
    const name = endsOf(from, to);
    const known = byEnds.get(name);
    if (known) return known;
    const shape = { from, to, postings: postings ?? new Postings() };
    byEnds.set(name, shape);
    if (++this.#shapeCount > this.#lately.length)
      this.#lately = new Array(this.#lately.length * 4).fill(undefined);
    list(this.shapes, code, from).push(shape);
    list(this.shapesByTo, code, to).push(shape);
    return shape;
  }
}

/** Label sets stay below 2^20. For the first ones the name is a small integer, which is found faster. */
function endsOf(from: number, to: number): number {
  return from * 2 ** 20 + to;
}

function list(table: (Map<number, Shape[]> | undefined)[], code: number, set: number): Shape[] {
  let map = table[code];
  if (!map) {
    map = new Map();
    table[code] = map;
  }
  let shapes = map.get(set);
  if (!shapes) {
    shapes = [];
    map.set(set, shapes);
  }
  return shapes;
}

function touch(postings: Postings, segment: number, sign: 1 | -1, count: number): void {
  postings.total += sign * count;
  if (sign > 0) postings.add(segment);
  else postings.delete(segment);
}
