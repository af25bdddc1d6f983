/**
 * The columns of a graph, as both the writer and the readers on worker threads see them.
 *
 * A *segment* owns one range of each column. Node numbers are positions in the node columns, unique in the whole graph;
 * nodes of a segment are adjacent, sorted by kind, so the nodes of a label are a few runs. Adjacency is compressed
 * sparse rows (Tinney and Walker, "Direct solutions of sparse network equations", Proc. IEEE 1967): the entries of a
 * node end where those of the next one start, and are sorted by code (edge label and direction), then by neighbour. A
 * neighbour in another segment is written as `~handle`; the handle leads to the node that has the id now, so replacing
 * the other segment rewrites handles and nothing else. For the way back, the edges that point to a handle are doubly
 * linked lists, which one segment can enter and leave at the cost of its own edges; there is one list, a *port*, for
 * each kind of edge and far node, so that a walk to one label does not pass all others.
 */
import { Catalog, type CatalogDelta, type Field } from './catalog.ts';
import { ByteColumn, type ColumnParts, IntColumn, WordColumn } from './column.ts';
import type { Properties, PropertyValue } from './input.ts';
import { StringPool, type StringPoolParts } from './string-pool.ts';

/** Words of one row of the segment table. */
export const SEGMENT_ROW = 20;
/** Fields of the segment table. */
export const S = {
  nodes: 0,
  nodeCount: 1,
  edges: 2,
  edgeCount: 3,
  adjacency: 4,
  adjacencyCount: 5,
  words: 6,
  wordCount: 7,
  idBytes: 8,
  idByteCount: 9,
  runs: 10,
  runCount: 11,
  crossings: 12,
  crossingCount: 13,
  /** Where the segment's row of handles starts, or -1 when no other segment points into it. */
  exports: 14,
  grouped: 15,
  /** Number of the string that all node ids of the segment start with. */
  prefix: 16,
  /** String number of the segment's key. */
  key: 17,
  /** Differs for every segment that was ever written. */
  version: 18,
  /** State of hashing a node's id after the prefix; see `node-index.ts`. */
  prefixHash: 19,
} as const;

/** Names of the integer columns, in the order in which they cross to a worker. */
const INT_COLUMNS = [
  'nodeRow',
  'adjRow',
  'nodeIdStart',
  'adjEdge',
  'edgeRow',
  'runRow',
  'segmentTable',
  'handleNode',
  'handlePort',
  'portCode',
  'portSet',
  'portFirst',
  'portLast',
  'portNext',
  'exportHandle',
  'crossingNext',
  'crossingPrevious',
  'crossingEdge',
  'crossingSegment',
] as const;

export type ColumnName = (typeof INT_COLUMNS)[number] | 'idBytes' | 'records';
export const COLUMN_NAMES: readonly ColumnName[] = [...INT_COLUMNS, 'idBytes', 'records'];

/** Entries in use, by what a column is about. */
export type UsedEntries = Readonly<
  Record<
    | 'nodes'
    | 'adjacency'
    | 'edges'
    | 'words'
    | 'idBytes'
    | 'runs'
    | 'crossings'
    | 'segments'
    | 'exports'
    | 'handles'
    | 'ports',
    number
  >
>;

/** What each integer column is about, and its words an entry. */
const LENGTHS: Readonly<
  Record<(typeof INT_COLUMNS)[number], readonly [of: keyof UsedEntries, words: number]>
> = {
  nodeRow: ['nodes', 4],
  nodeIdStart: ['nodes', 1],
  adjRow: ['adjacency', 2],
  adjEdge: ['adjacency', 1],
  edgeRow: ['edges', 4],
  runRow: ['runs', 2],
  segmentTable: ['segments', SEGMENT_ROW],
  handleNode: ['handles', 1],
  handlePort: ['handles', 1],
  portCode: ['ports', 1],
  portSet: ['ports', 1],
  portFirst: ['ports', 1],
  portLast: ['ports', 1],
  portNext: ['ports', 1],
  exportHandle: ['exports', 1],
  crossingNext: ['crossings', 1],
  crossingPrevious: ['crossings', 1],
  crossingEdge: ['crossings', 1],
  crossingSegment: ['crossings', 1],
};

/** What a worker needs to read a store. */
export interface StoreParts {
  readonly ints: readonly ColumnParts[];
  readonly idBytes: ColumnParts;
  readonly records: ColumnParts;
  readonly strings: StringPoolParts;
  readonly catalog: CatalogDelta;
}

const decoder = new TextDecoder();

export class Store {
  readonly catalog: Catalog;
  readonly strings: StringPool;

  /**
   * Four words a node: kind, first adjacency entry, first word of its record, row of the segment table. What is read
   * together stands together, since a search waits for memory more than for anything else.
   */
  readonly nodeRow: IntColumn;
  readonly nodeIdStart: IntColumn;
  /** Two words an entry: code and neighbour (node, or `~handle`). */
  readonly adjRow: IntColumn;
  readonly adjEdge: IntColumn;
  /** Four words an edge: kind, source, target (node, or `~handle`), first word of its record. */
  readonly edgeRow: IntColumn;
  /** Two words a run of equal nodes in a segment: kind and first node; one closing run. */
  readonly runRow: IntColumn;
  readonly segmentTable: IntColumn;
  /** The node that has the handle's id now, or -1. */
  readonly handleNode: IntColumn;
  /** First port of the handle, or -1. */
  readonly handlePort: IntColumn;
  /** A port holds the crossings of a handle that are alike: adjacency code seen from the handle's node, and */
  readonly portCode: IntColumn;
  /** label set of the node at the other end, -1 when that is in a third segment. */
  readonly portSet: IntColumn;
  /** List of its crossings, -1 where empty. */
  readonly portFirst: IntColumn;
  readonly portLast: IntColumn;
  /** Next port of the handle, or -1. */
  readonly portNext: IntColumn;
  /** Per node of an exporting segment: its handle or -1. */
  readonly exportHandle: IntColumn;
  readonly crossingNext: IntColumn;
  readonly crossingPrevious: IntColumn;
  /** Edge number times two, plus 1 when the foreign end is the edge's target. */
  readonly crossingEdge: IntColumn;
  /** The segment that owns the edge. */
  readonly crossingSegment: IntColumn;
  readonly idBytes: ByteColumn;
  readonly records: WordColumn;

  readonly #whole = new Map<number, PropertyValue>();

  constructor(parts?: StoreParts) {
    this.catalog = new Catalog(parts?.catalog);
    this.strings = new StringPool(parts?.strings);
    const int = (name: (typeof INT_COLUMNS)[number]) => new IntColumn(parts?.ints[INT_COLUMNS.indexOf(name)]);
    this.nodeRow = int('nodeRow');
    this.adjRow = int('adjRow');
    this.nodeIdStart = int('nodeIdStart');
    this.adjEdge = int('adjEdge');
    this.edgeRow = int('edgeRow');
    this.runRow = int('runRow');
    this.segmentTable = int('segmentTable');
    this.handleNode = int('handleNode');
    this.handlePort = int('handlePort');
    this.portCode = int('portCode');
    this.portSet = int('portSet');
    this.portFirst = int('portFirst');
    this.portLast = int('portLast');
    this.portNext = int('portNext');
    this.exportHandle = int('exportHandle');
    this.crossingNext = int('crossingNext');
    this.crossingPrevious = int('crossingPrevious');
    this.crossingEdge = int('crossingEdge');
    this.crossingSegment = int('crossingSegment');
    this.idBytes = new ByteColumn(parts?.idBytes);
    this.records = new WordColumn(parts?.records);
  }

  /** What to hand to a worker that has seen `seen` of the catalog. */
  parts(seen: CatalogDelta['from']): StoreParts {
    return {
      ints: INT_COLUMNS.map((name) => ({ buffer: this[name].buffer })),
      idBytes: { buffer: this.idBytes.buffer },
      records: { buffer: this.records.buffer },
      strings: this.strings.parts(),
      catalog: this.catalog.deltaSince(seen),
    };
  }

  /** Brings a worker's view up to date. */
  update(parts: StoreParts): void {
    this.catalog.apply(parts.catalog);
    this.strings.update(parts.strings);
    INT_COLUMNS.forEach((name, i) => {
      this[name].attach(parts.ints[i]!);
    });
    this.idBytes.attach(parts.idBytes);
    this.records.attach(parts.records);
  }

  /** Columns by name, each as far as it is used. @param used entries in use, by what a column is about */
  usedColumns(used: UsedEntries): Record<ColumnName, ArrayBufferView> {
    const ints = Object.fromEntries(
      INT_COLUMNS.map((name) => {
        const [of, words] = LENGTHS[name];
        return [name, this[name].view.subarray(0, used[of] * words)];
      }),
    ) as unknown as Record<(typeof INT_COLUMNS)[number], ArrayBufferView>;
    const idBytes = this.idBytes.view.subarray(0, used.idBytes);
    return { ...ints, idBytes, records: this.records.words.subarray(0, used.words) };
  }

  /** Takes columns over as the store's memory. */
  attachColumns(buffers: Readonly<Record<ColumnName, SharedArrayBuffer>>): void {
    for (const name of COLUMN_NAMES) this[name].attach({ buffer: buffers[name] });
  }

  segmentField(slot: number, field: number): number {
    return this.segmentTable.view[slot * SEGMENT_ROW + field]!;
  }

  /** The id the caller gave a node. */
  nodeId(node: number): string {
    const starts = this.nodeIdStart.view;
    const prefix = this.strings.text(this.segmentField(this.nodeRow.view[node * 4 + 3]!, S.prefix));
    const bytes = this.idBytes.view;
    const end = starts[node + 1]!;
    let id = prefix;
    for (let i = starts[node]!; i < end; i++) {
      // Decoders are slow at a few bytes, and refuse shared memory; most ids are plain ASCII.
      if (bytes[i]! > 127) return prefix + decoder.decode(bytes.slice(starts[node], end));
      id += String.fromCharCode(bytes[i]!);
    }
    return id;
  }

  /** The labels of a node with their weights. */
  nodeLabels(node: number): { label: string; weight: number }[] {
    const set = this.catalog.labelSets[this.catalog.nodeKinds[this.nodeRow.view[node * 4]!]!.labelSet]!;
    return set.labels.map((label) => ({
      label: this.catalog.labels[label]!,
      weight: this.labelWeight(node, label),
    }));
  }

  /** Weight of a label (by number) of a node; 0 when the node does not have it. */
  labelWeight(node: number, label: number): number {
    const kind = this.catalog.nodeKinds[this.nodeRow.view[node * 4]!]!;
    const set = this.catalog.labelSets[kind.labelSet]!;
    const at = set.uncertain.indexOf(label);
    if (at >= 0) {
      const words = evenUp(this.catalog.layouts[kind.layout]!.words);
      return this.records.doubles[((this.nodeRow.view[node * 4 + 2]! + words) >> 1) + at]!;
    }
    return set.labels.includes(label) ? 1 : 0;
  }

  nodeProperties(node: number): Properties {
    const layout = this.catalog.nodeKinds[this.nodeRow.view[node * 4]!]!.layout;
    return this.#properties(layout, this.nodeRow.view[node * 4 + 2]!);
  }

  edgeProperties(edge: number): Properties {
    const layout = this.catalog.edgeKinds[this.edgeRow.view[edge * 4]!]!.layout;
    return this.#properties(layout, this.edgeRow.view[edge * 4 + 3]!);
  }

  /** A property of a node, undefined when absent. */
  nodeProperty(node: number, key: number): PropertyValue | undefined {
    const layout = this.catalog.nodeKinds[this.nodeRow.view[node * 4]!]!.layout;
    const field = this.catalog.layouts[layout]!.fields.find((f) => f.key === key);
    return field && this.read(field, this.nodeRow.view[node * 4 + 2]!);
  }

  /** One property of an edge, undefined when absent. */
  edgeProperty(edge: number, key: number): PropertyValue | undefined {
    const layout = this.catalog.edgeKinds[this.edgeRow.view[edge * 4]!]!.layout;
    const field = this.catalog.layouts[layout]!.fields.find((f) => f.key === key);
    return field && this.read(field, this.edgeRow.view[edge * 4 + 3]!);
  }

  /** The id the caller gave an edge, or undefined. */
  edgeId(edge: number): string | undefined {
    const key = this.catalog.findKey(EDGE_ID_KEY);
    return key < 0 ? undefined : (this.edgeProperty(edge, key) as string | undefined);
  }

  /** Row of the segment table that a node belongs to. */
  segmentOf(node: number): number {
    return this.nodeRow.view[node * 4 + 3]!;
  }

  /** The ends of an edge: a node, or `~handle` for one in another segment; see `end`. */
  edgeSource(edge: number): number {
    return this.edgeRow.view[edge * 4 + 1]!;
  }

  edgeTarget(edge: number): number {
    return this.edgeRow.view[edge * 4 + 2]!;
  }

  edgeLabelNumber(edge: number): number {
    return this.catalog.edgeKinds[this.edgeRow.view[edge * 4]!]!.label;
  }

  edgeLabel(edge: number): string {
    return this.catalog.edgeLabelName(this.edgeLabelNumber(edge));
  }

  /** Whether an edge may not be there. */
  isMaybe(edge: number): boolean {
    return this.catalog.isMaybe(this.edgeLabelNumber(edge));
  }

  isDirected(edge: number): boolean {
    return this.catalog.edgeKinds[this.edgeRow.view[edge * 4]!]!.directed;
  }

  /** The node at an end of an edge, following a handle; -1 when the node is missing. */
  end(reference: number): number {
    return reference >= 0 ? reference : this.handleNode.view[~reference]!;
  }

  /** Reads one field of the record that starts at a word. */
  read(field: Field, record: number): PropertyValue {
    switch (field.storage) {
      case 'number':
        return this.records.doubles[(record >> 1) + field.slot]!;
      case 'string':
        return this.strings.text(this.records.words[record + field.slot]!);
      case 'boolean':
        return this.records.words[record + field.slot] === 1;
      case 'whole':
        return this.whole(this.records.words[record + field.slot]!);
      default:
        return field.storage satisfies never;
    }
  }

  /** A list, object or other value stored whole, by the number of its string. */
  whole(string: number): PropertyValue {
    let value = this.#whole.get(string);
    if (value === undefined) {
      value = JSON.parse(this.strings.text(string)) as PropertyValue;
      this.#whole.set(string, value);
    }
    return value;
  }

  #properties(layout: number, record: number): Properties {
    const values: Record<string, PropertyValue> = {};
    for (const field of this.catalog.layouts[layout]!.fields) {
      const key = this.catalog.keys[field.key]!;
      if (key !== EDGE_ID_KEY) values[key] = this.read(field, record);
    }
    return values;
  }
}

/** The hidden property that keeps the id of an edge that has one. */
export const EDGE_ID_KEY = '';

export function evenUp(words: number): number {
  return (words + 1) & ~1;
}
