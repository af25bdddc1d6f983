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
const NUMBER = 0;

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
  /** Words of all records. */
  words = 0;

  readonly #store: Store;
  readonly #ancestors: ReadonlyMap<string, readonly string[]>;
  readonly #shapes = new Shape();
  readonly #labels = new LabelPath();
  readonly #layouts: Layout[] = [];
  readonly #kindNames: string[] = [];

  constructor(store: Store, ancestors: ReadonlyMap<string, readonly string[]>) {
    this.#store = store;
    this.#ancestors = ancestors;
  }

  /** Begins a segment of so many nodes and edges. */
  begin(items: number): void {
    if (items > this.kinds.length) {
      const length = Math.max(items, this.kinds.length * 2);
      this.kinds = new Int32Array(length);
      this.#layoutAt = new Int32Array(length);
      this.#firstValue = new Int32Array(length);
      this.#firstWeight = new Int32Array(length);
    }
    this.#count = 0;
    this.#valueCount = 0;
    this.#weightCount = 0;
    this.words = 0;
  }

  /**
   * What kinds are sorted by within a segment: their labels from the most general to the most special one, so that the
   * nodes of a super-label are mostly adjacent.
   */
  kindName(kind: number): string {
    let name = this.#kindNames[kind];
    if (name === undefined) {
      const { nodeKinds, labelSets, labels } = this.#store.catalog;
      const { labelSet, layout } = nodeKinds[kind]!;
      const depth = (label: number) => this.#ancestors.get(labels[label]!)?.length ?? 0;
      const sorted = [...labelSets[labelSet]!.labels].sort((a, b) => depth(a) - depth(b) || a - b);
      name = `${sorted.map((label) => labels[label]).join('\u0001')}\u0000${labelSet} ${layout}`;
      this.#kindNames[kind] = name;
    }
    return name;
  }

  node(node: NodeInput): void {
    this.#firstWeight[this.#count] = this.#weightCount;
    const set = this.#labelSet(node.labels ?? []);
    const layout = this.#properties(node.properties, undefined, () => `node ${node.id}`);
    let kind = layout.nodeKinds.get(set);
    if (kind === undefined) {
      kind = this.#store.catalog.nodeKind(set, layout.number);
      layout.nodeKinds.set(set, kind);
    }
    this.#push(kind, layout);
  }

  edge(edge: EdgeInput): void {
    this.#firstWeight[this.#count] = this.#weightCount;
    const { catalog } = this.#store;
    const layout = this.#properties(edge.properties, edge.id, () => `edge ${edge.source} to ${edge.target}`);
    const label = catalog.edgeLabel(edge.label ?? '', edge.uncertain === true);
    const directed = edge.directed !== false;
    const name = label * 2 + (directed ? 1 : 0);
    let kind = layout.edgeKinds.get(name);
    if (kind === undefined) {
      kind = catalog.edgeKind(label, directed, layout.number);
      layout.edgeKinds.set(name, kind);
    }
    this.#push(kind, layout);
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

  #push(kind: number, layout: Layout): void {
    const item = this.#count++;
    this.kinds[item] = kind;
    this.#layoutAt[item] = layout.place;
    this.words += evenUp(layout.words) + (this.#weightCount - this.#firstWeight[item]!) * 2;
  }

  #value(value: number): void {
    if (this.#valueCount === this.#values.length) this.#values = doubled(this.#values);
    this.#values[this.#valueCount++] = value;
  }

  #weight(weight: number): void {
    if (this.#weightCount === this.#weights.length) this.#weights = doubled(this.#weights);
    this.#weights[this.#weightCount++] = weight;
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
      if (weight < 1) this.#weight(weight);
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
    const { set, weights } = this.#weighted(labels);
    for (const weight of weights) this.#weight(weight);
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
    const { set, uncertain } = this.#weighted(labels);
    const { catalog } = this.#store;
    const places = given
      .filter(([, weight]) => weight < 1)
      .map(([label]) => uncertain.indexOf(catalog.label(label)));
    return { set, places };
  }

  #weighted(labels: NonNullable<NodeInput['labels']>): {
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

  /** Takes the values of an object down; answers its layout. */
  #properties(properties: Properties | undefined, id: string | undefined, what: () => string): Layout {
    this.#firstValue[this.#count] = this.#valueCount;
    let shape = this.#shapes;
    if (id !== undefined) {
      shape = shape.with(EDGE_ID_KEY, 1);
      this.#value(this.#store.strings.intern(id));
    }
    for (const name in properties) {
      const value = properties[name];
      if (value === null || value === undefined) continue;
      shape = shape.with(name, storageOf(value, name, what));
      this.#value(this.#encoded(value));
    }
    shape.layout ??= this.#layoutOf(shape);
    return shape.layout;
  }

  #encoded(value: PropertyValue): number {
    if (typeof value === 'number') return value;
    if (typeof value === 'boolean') return value ? 1 : 0;
    return this.#store.strings.intern(typeof value === 'string' ? value : JSON.stringify(value));
  }

  #layoutOf({ names, storages }: Shape): Layout {
    const { catalog } = this.#store;
    const fields = names.map((name, i) => ({ key: catalog.key(name), storage: STORAGES[storages[i]!]! }));
    const sorted = [...fields].sort((a, b) => a.key - b.key);
    let shape = '';
    for (const { key, storage } of sorted) shape += `${key}${storage},`;
    const number = catalog.layout(shape, () => sorted);
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

function doubled(values: Float64Array): Float64Array {
  const bigger = new Float64Array(values.length * 2);
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

/** Place in `STORAGES`. */
function storageOf(value: PropertyValue, name: string, what: () => string): number {
  switch (typeof value) {
    case 'number':
      if (!Number.isFinite(value))
        throw new GraphInputError(`Property ${name} of ${what()} is ${value}, which is not a finite number`);
      return NUMBER;
    case 'string':
      return 1;
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
