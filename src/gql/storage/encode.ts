/**
 * Nodes and edges as kinds and numbers ready to be written.
 *
 * Most nodes have the same labels and properties as others, in the same order. So the order in which names come leads
 * down a tree, whose leaf knows the labels or the layout (V8 finds the hidden class of an object literal like this); a
 * node costs a look-up for each name and string, and nothing is made for it.
 */
import type { Storage } from './catalog.ts';
import {
  type EdgeInput,
  GraphInputError,
  type LabelInput,
  type NodeInput,
  type Properties,
  type PropertyValue,
} from './input.ts';
import { expandLabels } from './labels.ts';
import { notPlain } from './plain-value.ts';
import { EDGE_ID_KEY, evenUp, type Store } from './store.ts';

const STORAGES: readonly Storage[] = ['number', 'string', 'boolean', 'whole'];
/** Places in `STORAGES`. */
export const NUMBER = 0;
export const STRING = 1;

/** Where the names of properties with their storages, in the order of an object, have led so far. */
class Shape {
  readonly #next = new Map<string, (Shape | undefined)[]>();
  /** What came last is mostly what comes next. */
  #lastName = '';
  #lastStorage = -1;
  #last: Shape = this;
  readonly names: readonly string[];
  readonly storages: readonly number[];
  layout: Layout | undefined;

  constructor(names: readonly string[] = [], storages: readonly number[] = []) {
    this.names = names;
    this.storages = storages;
  }

  with(name: string, storage: number): Shape {
    if (storage !== this.#lastStorage || name !== this.#lastName) {
      this.#last = this.#found(name, storage);
      this.#lastName = name;
      this.#lastStorage = storage;
    }
    return this.#last;
  }

  #found(name: string, storage: number): Shape {
    let byStorage = this.#next.get(name);
    if (!byStorage) {
      byStorage = [];
      this.#next.set(name, byStorage);
    }
    let next = byStorage[storage];
    if (!next) {
      next = new Shape([...this.names, name], [...this.storages, storage]);
      byStorage[storage] = next;
    }
    return next;
  }
}

/** What follows from the names and storages of an object's properties. */
interface Layout {
  readonly number: number;
  /** Place among the encoder's layouts. */
  readonly place: number;
  /** Length of a record in words, without weights. */
  readonly words: number;
  /** Place of each property in the record, and whether it is a double; in the order of the object. */
  readonly slots: Int32Array;
  readonly isNumber: Uint8Array;
  /** Node kind by label set, and edge kind by label and direction. */
  readonly nodeKinds: Map<number, number>;
  readonly edgeKinds: Map<number, number>;
}

/** Where labels, certain or not, have led so far. */
class LabelPath {
  lastLabel = '';
  last: LabelPath | undefined;
  readonly certain = new Map<string, LabelPath>();
  readonly uncertain = new Map<string, LabelPath>();
  /** Null where labels and weights have to be calculated for each node. */
  known: LabelsKnown | null | undefined;
}

interface LabelsKnown {
  readonly set: number;
  /** Places of the uncertain labels among those of the set. */
  readonly places: readonly number[];
}

export class Encoder {
  /** Of nodes and edges in the order in which they came: kind, layout, first value, first weight; kept for the next segment. */
  kinds: Int32Array = new Int32Array(64);
  #layoutAt: Int32Array = new Int32Array(64);
  #firstValue: Int32Array = new Int32Array(64);
  #firstWeight: Int32Array = new Int32Array(64);
  #values: Float64Array = new Float64Array(64);
  #weights: Float64Array = new Float64Array(16);
  #count = 0;
  #valueCount = 0;
  #weightCount = 0;
  /** Of the node or edge that is open. */
  #shape: Shape;

  readonly #store: Store;
  readonly #ancestors: ReadonlyMap<string, readonly string[]>;
  readonly #shapes = new Shape();
  readonly #labels = new LabelPath();
  readonly #layouts: Layout[] = [];
  readonly #kindNames: string[] = [];

  constructor(store: Store, ancestors: ReadonlyMap<string, readonly string[]>) {
    this.#store = store;
    this.#ancestors = ancestors;
    this.#shape = this.#shapes;
  }

  /** Begins a segment. */
  begin(): void {
    this.#count = 0;
    this.#valueCount = 0;
    this.#weightCount = 0;
  }

  /**
   * What kinds are sorted by within a segment: their labels from the most general to the most special one, so that the
   * nodes of a super-label are mostly adjacent. In names alone: numbers follow from what the graph held before, and the order of
   * nodes is that in which matches are found.
   */
  kindName(kind: number): string {
    let name = this.#kindNames[kind];
    if (name === undefined) {
      const { catalog } = this.#store;
      const { labelSet, layout } = catalog.nodeKinds[kind]!;
      const depth = (label: string) => this.#ancestors.get(label)?.length ?? 0;
      const sorted = catalog.labelSets[labelSet]!.labels.map((label) => catalog.labels[label]!).sort(
        (a, b) => depth(a) - depth(b) || (a < b ? -1 : 1),
      );
      name = `${sorted.join('\u0001')}\u0000${catalog.labelSetText(labelSet)}\u0000${catalog.layoutText(layout)}`;
      this.#kindNames[kind] = name;
    }
    return name;
  }

  node(node: NodeInput): void {
    this.open();
    const set = this.#labelSet(node.labels ?? []);
    this.#properties(node.properties, () => `node ${node.id}`);
    this.closeNode(set);
  }

  edge(edge: EdgeInput): void {
    this.open();
    if (edge.id !== undefined) this.value(EDGE_ID_KEY, STRING, this.#store.strings.intern(edge.id));
    this.#properties(edge.properties, () => `edge ${edge.source} to ${edge.target}`);
    const label = this.#store.catalog.edgeLabel(edge.label ?? '', edge.uncertain === true);
    this.closeEdge(label, edge.directed !== false);
  }

  /** Begins a node or edge whose values and weights follow one by one. */
  open(): void {
    const item = this.#count;
    if (item === this.kinds.length) {
      this.kinds = doubled(this.kinds, Int32Array);
      this.#layoutAt = doubled(this.#layoutAt, Int32Array);
      this.#firstValue = doubled(this.#firstValue, Int32Array);
      this.#firstWeight = doubled(this.#firstWeight, Int32Array);
    }
    this.#firstValue[item] = this.#valueCount;
    this.#firstWeight[item] = this.#weightCount;
    this.#shape = this.#shapes;
  }

  /** A property of the open node or edge; each name once. The value as `encoded` makes it. */
  value(name: string, storage: number, value: number): void {
    this.#shape = this.#shape.with(name, storage);
    if (this.#valueCount === this.#values.length) this.#values = doubled(this.#values, Float64Array);
    this.#values[this.#valueCount++] = value;
  }

  /** A weight of the open node, in the order of the uncertain labels in its set. */
  weight(weight: number): void {
    if (this.#weightCount === this.#weights.length) this.#weights = doubled(this.#weights, Float64Array);
    this.#weights[this.#weightCount++] = weight;
  }

  closeNode(set: number): void {
    this.#shape.layout ??= this.#layoutOf(this.#shape);
    const { layout } = this.#shape;
    let kind = layout.nodeKinds.get(set);
    if (kind === undefined) {
      kind = this.#store.catalog.nodeKind(set, layout.number);
      layout.nodeKinds.set(set, kind);
    }
    this.#close(kind, layout);
  }

  /** @param label number of the edge label */
  closeEdge(label: number, directed: boolean): void {
    this.#shape.layout ??= this.#layoutOf(this.#shape);
    const { layout } = this.#shape;
    const name = label * 2 + (directed ? 1 : 0);
    let kind = layout.edgeKinds.get(name);
    if (kind === undefined) {
      kind = this.#store.catalog.edgeKind(label, directed, layout.number);
      layout.edgeKinds.set(name, kind);
    }
    this.#close(kind, layout);
  }

  /** Words of the record of a node or edge. */
  wordsOf(item: number): number {
    const end = item + 1 < this.#count ? this.#firstWeight[item + 1]! : this.#weightCount;
    return evenUp(this.#layouts[this.#layoutAt[item]!]!.words) + (end - this.#firstWeight[item]!) * 2;
  }

  /** Writes the record of a node or edge, by the order in which they came; answers the word behind it. */
  write(item: number, at: number): number {
    const { doubles, words } = this.#store.records;
    const layout = this.#layouts[this.#layoutAt[item]!]!;
    const { slots, isNumber } = layout;
    const first = this.#firstValue[item]!;
    for (let i = 0; i < slots.length; i++) {
      const value = this.#values[first + i]!;
      if (isNumber[i] === 1) doubles[(at >> 1) + slots[i]!] = value;
      else words[at + slots[i]!] = value;
    }
    let next = at + evenUp(layout.words);
    const end = item + 1 < this.#count ? this.#firstWeight[item + 1]! : this.#weightCount;
    for (let w = this.#firstWeight[item]!; w < end; w++) {
      doubles[next >> 1] = this.#weights[w]!;
      next += 2;
    }
    return next;
  }

  #close(kind: number, layout: Layout): void {
    const item = this.#count++;
    this.kinds[item] = kind;
    this.#layoutAt[item] = layout.place;
  }

  #labelSet(labels: NonNullable<NodeInput['labels']>): number {
    let path = this.#labels;
    const first = this.#weightCount;
    const step = (label: string, weight: number): void => {
      if (!(weight >= 0 && weight <= 1))
        throw new GraphInputError(`Weight ${weight} of label ${label} is not within 0 and 1`);
      if (weight === 0) return;
      if (weight === 1 && path.last && path.lastLabel === label) {
        path = path.last;
        return;
      }
      const next = weight === 1 ? path.certain : path.uncertain;
      let known = next.get(label);
      if (!known) {
        known = new LabelPath();
        next.set(label, known);
      }
      if (weight < 1) this.weight(weight);
      else {
        path.lastLabel = label;
        path.last = known;
      }
      path = known;
    };
    if (isMap(labels)) for (const [label, weight] of labels) step(label, weight);
    else
      for (const label of labels) {
        if (typeof label === 'string') step(label, 1);
        else step(label.label, label.weight);
      }
    if (path.known === undefined) path.known = this.#labelsKnown(labels, this.#weightCount > first);
    const { known } = path;
    if (known) {
      this.#arrange(first, known.places);
      return known.set;
    }
    this.#weightCount = first;
    const { set, weights } = this.weighted(labels);
    for (const weight of weights) this.weight(weight);
    return set;
  }

  /** Puts the weights from a place on into the order of the labels in the set. */
  #arrange(first: number, places: readonly number[]): void {
    if (places.length < 2) return;
    const given = this.#weights.slice(first, this.#weightCount);
    for (let i = 0; i < places.length; i++) this.#weights[first + places[i]!] = given[i]!;
  }

  #labelsKnown(labels: NonNullable<NodeInput['labels']>, isUncertain: boolean): LabelsKnown | null {
    const given = entriesOf(labels).filter(([, weight]) => weight > 0);
    const names = new Set(given.map(([label]) => label));
    // Weights of super-labels are sums, and may be certain or not; of a label that is given twice, the last weight stands.
    const isPlain = names.size === given.length && (this.#ancestors.size === 0 || !isUncertain);
    if (!isPlain) return null;
    const { set, uncertain } = this.weighted(labels);
    const { catalog } = this.#store;
    const places = given
      .filter(([, weight]) => weight < 1)
      .map(([label]) => uncertain.indexOf(catalog.label(label)));
    return { set, places };
  }

  /** The label set of a node, super-labels included, and the weights of the uncertain ones. Throws GraphInputError. */
  weighted(labels: NonNullable<NodeInput['labels']>): {
    readonly set: number;
    readonly uncertain: readonly number[];
    readonly weights: readonly number[];
  } {
    const { catalog } = this.#store;
    const weights = new Map<number, number>();
    const inputs = entriesOf(labels).map(([label, weight]): LabelInput => ({ label, weight }));
    for (const [label, weight] of expandLabels(inputs, this.#ancestors))
      weights.set(catalog.label(label), weight);
    const ids = [...weights.keys()].sort((a, b) => a - b);
    const uncertain = ids.filter((id) => weights.get(id)! < 1);
    return {
      set: catalog.labelSet(ids, uncertain),
      uncertain,
      weights: uncertain.map((id) => weights.get(id)!),
    };
  }

  #properties(properties: Properties | undefined, what: () => string): void {
    for (const name in properties) {
      const value = properties[name];
      if (value !== null && value !== undefined)
        this.value(name, storageOf(value, name, what), this.encoded(value));
    }
  }

  /** A value as the number that a record holds. */
  encoded(value: PropertyValue): number {
    if (typeof value === 'number') return value;
    if (typeof value === 'boolean') return value ? 1 : 0;
    return this.#store.strings.intern(typeof value === 'string' ? value : JSON.stringify(value));
  }

  #layoutOf({ names, storages }: Shape): Layout {
    const { catalog } = this.#store;
    const fields = names.map((name, i) => ({ key: catalog.key(name), storage: STORAGES[storages[i]!]! }));
    const sorted = [...fields].sort((a, b) => a.key - b.key);
    const number = catalog.layout(sorted);
    const { fields: placed, words } = catalog.layouts[number]!;
    const layout: Layout = {
      number,
      place: this.#layouts.length,
      words,
      slots: Int32Array.from(fields, ({ key }) => placed.find((field) => field.key === key)!.slot),
      isNumber: Uint8Array.from(storages, (storage) => (storage === NUMBER ? 1 : 0)),
      nodeKinds: new Map(),
      edgeKinds: new Map(),
    };
    this.#layouts.push(layout);
    return layout;
  }
}

function doubled<T extends Int32Array | Float64Array>(values: T, type: new (length: number) => T): T {
  const bigger = new type(values.length * 2);
  bigger.set(values);
  return bigger;
}

function isMap(labels: NonNullable<NodeInput['labels']>): labels is ReadonlyMap<string, number> {
  return labels instanceof Map;
}

function entriesOf(labels: NonNullable<NodeInput['labels']>): (readonly [label: string, weight: number])[] {
  if (isMap(labels)) return [...labels];
  return labels.map((one) => (typeof one === 'string' ? [one, 1] : [one.label, one.weight]));
}

/** How a value is stored: a place in `STORAGES`. Throws GraphInputError. */
export function storageOf(value: PropertyValue, name: string, what: () => string): number {
  switch (typeof value) {
    case 'number':
      if (!Number.isFinite(value))
        throw new GraphInputError(`Property ${name} of ${what()} is ${value}, which is not a finite number`);
      return NUMBER;
    case 'string':
      return STRING;
    case 'boolean':
      return 2;
    case 'object':
      checkWhole(value, name, what);
      return 3;
    default:
      throw new GraphInputError(`Property ${name} of ${what()} has a value of type ${typeof value}`);
  }
}

/** Lists and records are kept as JSON, which leaves out or cannot write what is not plain data. */
function checkWhole(value: unknown, name: string, what: () => string): void {
  const wrong = notPlain([[name, value]], { most: Number.POSITIVE_INFINITY, undefinedIsAbsent: true });
  if (wrong) throw new GraphInputError(`Of ${what()}, property ${wrong}`);
}
