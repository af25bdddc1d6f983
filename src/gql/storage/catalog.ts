/**
 * The small tables of names behind the columns: labels, edge labels, property keys, and the *kinds* of nodes and
 * edges. A kind is what a node has in common with many others: which labels (certain or not) and which properties
 * of which type in which order. A node stores its kind as one number, so any label expression becomes one look-up
 * in a table over kinds, and a property read is an offset found once a kind (the "hidden classes" of Chambers,
 * Ungar and Lee, "An efficient implementation of SELF", OOPSLA 1989).
 *
 * All tables only grow, so a worker is brought up to date by the entries it has not seen.
 */

/** How a property is stored. */
export type Storage = 'number' | 'string' | 'boolean' | 'whole';

/** One property of a layout: `slot` counts doubles for numbers, and words from the record's start for the rest. */
export interface Field {
  readonly key: number;
  readonly storage: Storage;
  readonly slot: number;
}

export interface Layout {
  readonly fields: readonly Field[];
  /** Length of a record in words. */
  readonly words: number;
}

export interface LabelSet {
  /** All label numbers, ascending, uncertain ones included. */
  readonly labels: readonly number[];
  /** Those whose weight is below 1. */
  readonly uncertain: readonly number[];
}

export interface NodeKind {
  readonly labelSet: number;
  readonly layout: number;
}

export interface EdgeKind {
  /** Edge label number; 0 for no label. */
  readonly label: number;
  readonly directed: boolean;
  readonly layout: number;
}

/** Entries a worker has not seen, and where they start. */
export interface CatalogDelta {
  readonly from: CatalogSizes;
  readonly labels: readonly string[];
  readonly edgeLabels: readonly string[];
  readonly keys: readonly string[];
  readonly layouts: readonly Layout[];
  readonly labelSets: readonly LabelSet[];
  readonly nodeKinds: readonly NodeKind[];
  readonly edgeKinds: readonly EdgeKind[];
}

export interface CatalogSizes {
  readonly labels: number;
  readonly edgeLabels: number;
  readonly keys: number;
  readonly layouts: number;
  readonly labelSets: number;
  readonly nodeKinds: number;
  readonly edgeKinds: number;
}

export const NOTHING_SEEN: CatalogSizes = {
  labels: 0,
  edgeLabels: 0,
  keys: 0,
  layouts: 0,
  labelSets: 0,
  nodeKinds: 0,
  edgeKinds: 0,
};

/** Direction of an adjacency entry, seen from the node whose list it is in. */
export const OUT = 0;
export const IN = 1;
export const UNDIRECTED = 2;

/** Begins the entry of an edge label for edges that may not be there. No name in a text begins so. */
const MAYBE = '\u0000';

/** The code of an adjacency entry: edge label and direction in one number. */
export function codeOf(edgeLabel: number, direction: number): number {
  return edgeLabel * 3 + direction;
}

export class Catalog {
  readonly labels: string[] = [];
  /** Entry 0 is the empty name: an edge without a label. Edges that may not be there have an entry of their own, see `MAYBE`. */
  readonly edgeLabels: string[] = [];
  readonly keys: string[] = [];
  readonly layouts: Layout[] = [];
  readonly labelSets: LabelSet[] = [];
  readonly nodeKinds: NodeKind[] = [];
  readonly edgeKinds: EdgeKind[] = [];

  readonly #labelIds = new Map<string, number>();
  readonly #edgeLabelIds = new Map<string, number>();
  readonly #keyIds = new Map<string, number>();
  readonly #layoutIds = new Map<string, number>();
  readonly #labelSetIds = new Map<string, number>();
  readonly #nodeKindIds = new Map<number, number>();
  readonly #edgeKindIds = new Map<number, number>();
  readonly #labelSetTexts: string[] = [];

  constructor(delta?: CatalogDelta) {
    if (delta) this.apply(delta);
    else this.edgeLabel('');
  }

  /** Number of a label, or -1. */
  findLabel(name: string): number {
    return this.#labelIds.get(name) ?? -1;
  }
  /** The label of an edge as it was given. */
  edgeLabelName(label: number): string {
    const name = this.edgeLabels[label]!;
    return name.startsWith(MAYBE) ? name.slice(MAYBE.length) : name;
  }
  /** Whether edges with this label number may not be there. */
  isMaybe(label: number): boolean {
    return this.edgeLabels[label]!.startsWith(MAYBE);
  }
  /** Number of a property key, or -1. */
  findKey(name: string): number {
    return this.#keyIds.get(name) ?? -1;
  }

  label(name: string): number {
    return interned(this.#labelIds, this.labels, name, name);
  }
  edgeLabel(name: string, maybe = false): number {
    const entry = maybe ? MAYBE + name : name;
    return interned(this.#edgeLabelIds, this.edgeLabels, entry, entry);
  }
  key(name: string): number {
    return interned(this.#keyIds, this.keys, name, name);
  }

  /** @param list sorted by key */
  layout(list: readonly { readonly key: number; readonly storage: Storage }[]): number {
    const shape = shapeOf(list);
    const known = this.#layoutIds.get(shape);
    if (known !== undefined) return known;
    // Doubles first, so that they are on even words.
    let doubles = 0;
    for (const field of list) if (field.storage === 'number') doubles++;
    let nextDouble = 0;
    let nextWord = doubles * 2;
    const placed = list.map(({ key, storage }) => ({
      key,
      storage,
      slot: storage === 'number' ? nextDouble++ : nextWord++,
    }));
    return interned(this.#layoutIds, this.layouts, shape, { fields: placed, words: nextWord });
  }

  labelSet(labels: readonly number[], uncertain: readonly number[]): number {
    const name = labelSetName(labels, uncertain);
    return interned(this.#labelSetIds, this.labelSets, name, { labels, uncertain });
  }

  /** A label set in names: equal for equal sets of all graphs, whatever came first. -1, no set, is not the empty one. */
  labelSetText(set: number): string {
    if (set < 0) return '';
    let text = this.#labelSetTexts[set];
    if (text === undefined) {
      const { labels, uncertain } = this.labelSets[set]!;
      text = [labels, uncertain]
        .map((some) =>
          some
            .map((label) => this.labels[label])
            .sort()
            .join('\u0001'),
        )
        .join('\u0002');
      this.#labelSetTexts[set] = text;
    }
    return text;
  }

  /** A layout in names of properties and how they are stored. */
  layoutText(layout: number): string {
    return this.layouts[layout]!.fields.map(({ key, storage }) => `${this.keys[key]} ${storage}`)
      .sort()
      .join('\u0001');
  }

  nodeKind(labelSet: number, layout: number): number {
    const name = labelSet * 2 ** 26 + layout;
    return interned(this.#nodeKindIds, this.nodeKinds, name, { labelSet, layout });
  }

  edgeKind(label: number, directed: boolean, layout: number): number {
    const name = edgeKindName(label, directed, layout);
    return interned(this.#edgeKindIds, this.edgeKinds, name, { label, directed, layout });
  }

  sizes(): CatalogSizes {
    return {
      labels: this.labels.length,
      edgeLabels: this.edgeLabels.length,
      keys: this.keys.length,
      layouts: this.layouts.length,
      labelSets: this.labelSets.length,
      nodeKinds: this.nodeKinds.length,
      edgeKinds: this.edgeKinds.length,
    };
  }

  /** What a reader that has seen `from` lacks. */
  deltaSince(from: CatalogSizes): CatalogDelta {
    return {
      from,
      labels: this.labels.slice(from.labels),
      edgeLabels: this.edgeLabels.slice(from.edgeLabels),
      keys: this.keys.slice(from.keys),
      layouts: this.layouts.slice(from.layouts),
      labelSets: this.labelSets.slice(from.labelSets),
      nodeKinds: this.nodeKinds.slice(from.nodeKinds),
      edgeKinds: this.edgeKinds.slice(from.edgeKinds),
    };
  }

  /** Makes an empty catalog the one that another one's {@link deltaSince} nothing tells of, ready for more. */
  restore(saved: CatalogDelta): void {
    if (this.edgeLabels.length > 1) throw new Error('only an empty catalog can be restored');
    this.apply({ ...saved, edgeLabels: saved.edgeLabels.slice(1) });
    this.layouts.forEach(({ fields }, id) => {
      this.#layoutIds.set(shapeOf(fields), id);
    });
    this.labelSets.forEach(({ labels, uncertain }, id) => {
      this.#labelSetIds.set(labelSetName(labels, uncertain), id);
    });
    this.nodeKinds.forEach(({ labelSet, layout }, id) => {
      this.#nodeKindIds.set(labelSet * 2 ** 26 + layout, id);
    });
    this.edgeKinds.forEach(({ label, directed, layout }, id) => {
      this.#edgeKindIds.set(edgeKindName(label, directed, layout), id);
    });
  }

  /** Adds a delta that starts where this catalog ends. */
  apply(delta: CatalogDelta): void {
    for (const name of delta.labels) this.label(name);
    for (const entry of delta.edgeLabels) interned(this.#edgeLabelIds, this.edgeLabels, entry, entry);
    for (const name of delta.keys) this.key(name);
    this.layouts.push(...delta.layouts);
    this.labelSets.push(...delta.labelSets);
    this.nodeKinds.push(...delta.nodeKinds);
    this.edgeKinds.push(...delta.edgeKinds);
  }
}

/** Keys with storages, as `3number,5string,`. */
function shapeOf(fields: readonly { readonly key: number; readonly storage: Storage }[]): string {
  let shape = '';
  for (const { key, storage } of fields) shape += `${key}${storage},`;
  return shape;
}

function labelSetName(labels: readonly number[], uncertain: readonly number[]): string {
  return `${labels.join(' ')}|${uncertain.join(' ')}`;
}

function edgeKindName(label: number, directed: boolean, layout: number): number {
  return (label * 2 + (directed ? 1 : 0)) * 2 ** 26 + layout;
}

function interned<N, E>(ids: Map<N, number>, entries: E[], name: N, entry: E): number {
  const known = ids.get(name);
  if (known !== undefined) return known;
  const id = entries.length;
  ids.set(name, id);
  entries.push(entry);
  return id;
}
