/**
 * Nodes and edges as kinds and values ready to be written.
 */
import type { Storage } from './catalog.ts';
import {
  type EdgeInput,
  GraphInputError,
  type NodeInput,
  type Properties,
  type PropertyValue,
} from './input.ts';
import { expandLabels } from './labels.ts';
import { EDGE_ID_KEY, type Store } from './store.ts';

/** A value ready to be written: the number itself, a string number, or 0 and 1. */
interface Cell {
  readonly key: number;
  readonly storage: Storage;
  readonly value: number;
}

export interface Prepared {
  readonly kind: number;
  readonly cells: readonly Cell[];
  /** Words of the properties; weights follow on the next even word. */
  readonly words: number;
  readonly weights: readonly number[];
}

interface LabelsPrepared {
  readonly set: number;
  readonly weights: readonly number[];
}

export class Preparer {
  readonly #store: Store;
  readonly #ancestors: ReadonlyMap<string, readonly string[]>;
  readonly #plainLabels = new Map<string, LabelsPrepared>();

  constructor(store: Store, ancestors: ReadonlyMap<string, readonly string[]>) {
    this.#store = store;
    this.#ancestors = ancestors;
  }

  #ranks = new Int32Array(0);

  /**
   * Where each kind stands in a segment. Kinds are sorted by their labels from the most general to the most special
   * one, so that the nodes of a super-label mostly stand side by side.
   */
  kindRanks(): Int32Array {
    const { nodeKinds, labelSets, labels } = this.#store.catalog;
    if (this.#ranks.length === nodeKinds.length) return this.#ranks;
    const depth = (label: number) => this.#ancestors.get(labels[label]!)?.length ?? 0;
    const names = nodeKinds.map(({ labelSet, layout }) => {
      const sorted = [...labelSets[labelSet]!.labels].sort((a, b) => depth(a) - depth(b) || a - b);
      return `${sorted.map((label) => labels[label]).join('\u0001')}\u0000${labelSet} ${layout}`;
    });
    const order = names.map((_, kind) => kind).sort((a, b) => (names[a]! < names[b]! ? -1 : 1));
    this.#ranks = new Int32Array(nodeKinds.length);
    order.forEach((kind, place) => {
      this.#ranks[kind] = place;
    });
    return this.#ranks;
  }

  node(node: NodeInput): Prepared {
    const labels = this.#labels(node);
    const cells = this.#cells(node.properties, undefined, `node ${node.id}`);
    const layout = this.#layout(cells);
    const kind = this.#store.catalog.nodeKind(labels.set, layout);
    return { kind, cells, words: this.#store.catalog.layouts[layout]!.words, weights: labels.weights };
  }

  edge(edge: EdgeInput): Prepared {
    const { catalog } = this.#store;
    const cells = this.#cells(edge.properties, edge.id, `edge ${edge.source} to ${edge.target}`);
    const layout = this.#layout(cells);
    const kind = catalog.edgeKind(catalog.edgeLabel(edge.label ?? ''), edge.directed !== false, layout);
    return { kind, cells, words: catalog.layouts[layout]!.words, weights: [] };
  }

  #labels(node: NodeInput): LabelsPrepared {
    const labels = node.labels ?? [];
    let name = '';
    for (const label of labels) {
      if (typeof label !== 'string') return this.#weighted(node);
      name += `${label}\0`;
    }
    let known = this.#plainLabels.get(name);
    if (!known) {
      known = this.#weighted(node);
      this.#plainLabels.set(name, known);
    }
    return known;
  }

  #weighted(node: NodeInput): LabelsPrepared {
    const { catalog } = this.#store;
    const weights = new Map<number, number>();
    for (const [label, weight] of expandLabels(node.labels ?? [], this.#ancestors))
      weights.set(catalog.label(label), weight);
    const ids = [...weights.keys()].sort((a, b) => a - b);
    const uncertain = ids.filter((id) => weights.get(id)! < 1);
    return { set: catalog.labelSet(ids, uncertain), weights: uncertain.map((id) => weights.get(id)!) };
  }

  #cells(properties: Properties | undefined, id: string | undefined, what: string): Cell[] {
    const { catalog, strings } = this.#store;
    const cells: Cell[] = [];
    if (id !== undefined)
      cells.push({ key: catalog.key(EDGE_ID_KEY), storage: 'string', value: strings.intern(id) });
    for (const name in properties) {
      const value = properties[name];
      if (value === null || value === undefined) continue;
      const storage = storageOf(value, name, what);
      cells.push({ key: catalog.key(name), storage, value: this.#encoded(value) });
    }
    return cells.sort((a, b) => a.key - b.key);
  }

  #encoded(value: PropertyValue): number {
    if (typeof value === 'number') return value;
    if (typeof value === 'boolean') return value ? 1 : 0;
    return this.#store.strings.intern(typeof value === 'string' ? value : JSON.stringify(value));
  }

  #layout(cells: readonly Cell[]): number {
    let shape = '';
    for (const cell of cells) shape += `${cell.key}${cell.storage},`;
    return this.#store.catalog.layout(shape, () => cells.map(({ key, storage }) => ({ key, storage })));
  }
}

function storageOf(value: PropertyValue, name: string, what: string): Storage {
  switch (typeof value) {
    case 'number':
      if (!Number.isFinite(value))
        throw new GraphInputError(`Property ${name} of ${what} is ${value}, which is no finite number`);
      return 'number';
    case 'string':
      return 'string';
    case 'boolean':
      return 'boolean';
    case 'object':
      return 'whole';
    default:
      throw new GraphInputError(`Property ${name} of ${what} has a value of type ${typeof value}`);
  }
}
