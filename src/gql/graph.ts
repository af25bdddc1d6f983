/**
 * A graph to match patterns on: segments of nodes and edges that are put and removed one at a time. Nothing here
 * knows what the nodes mean.
 */
import { FeatureIndex } from './index/feature-index.ts';
import type { Postings } from './index/postings.ts';
import { type CatalogDelta, codeOf, IN, NOTHING_SEEN, OUT, UNDIRECTED } from './storage/catalog.ts';
import { Epochs } from './storage/epochs.ts';
import { GraphDraft } from './storage/graph-draft.ts';
import {
  danglingText,
  type EdgeInput,
  GraphInputError,
  type LabelHierarchy,
  type NodeInput,
  type SegmentInput,
} from './storage/input.ts';
import { ancestorsOf } from './storage/labels.ts';
import { NodeIndex } from './storage/node-index.ts';
import { PortTable } from './storage/port-table.ts';
import type { SavedRanges } from './storage/ranges.ts';
import { SegmentIds } from './storage/segment-ids.ts';
import { SegmentWriter } from './storage/segment-writer.ts';
import { Snapshot } from './storage/snapshot.ts';
import { COLUMN_NAMES, type ColumnName, S, SEGMENT_ROW, Store } from './storage/store.ts';
import type { Rest } from './storage/string-pool.ts';

export interface GraphOptions {
  /** Super-labels that nodes get besides those given. */
  readonly hierarchy?: LabelHierarchy;
  /** Expected edge labels. Graphs with the same labels in the same order share compiled searches and find matches in one order. */
  readonly edgeLabels?: readonly string[];
  /** What the segments are, in the plural, for notes on what was not searched. @default 'segments' */
  readonly segmentsName?: string;
}

/** A graph at rest. */
export interface SavedGraph {
  /** Whether the graph is still what was saved. */
  readonly isStill: () => boolean;
  /** Plain data, as JSON holds it. */
  readonly tables: {
    readonly catalog: CatalogDelta;
    readonly strings: number;
    readonly segments: readonly (readonly [key: string, slot: number])[];
    readonly ungrouped: readonly number[];
    readonly handles: readonly string[];
    readonly ranges: Readonly<Record<string, SavedRanges>>;
    readonly versions: number;
  };
  readonly columns: Readonly<Record<GraphColumn, ArrayBufferView>>;
}

/** A graph at rest on its way back: columns in shared memory, best growable. */
export interface RestoredGraph {
  readonly tables: SavedGraph['tables'];
  readonly columns: Readonly<Record<GraphColumn, SharedArrayBuffer>>;
}

const MORE_COLUMNS = [
  'stringStarts',
  'stringBytes',
  'stringTable',
  'index',
  'nodeTables',
  'nodeTableLengths',
  'nodeTablesUsed',
  'ports',
] as const;
type GraphColumn = ColumnName | (typeof MORE_COLUMNS)[number];
/** Names of all columns of a graph at rest. */
export const GRAPH_COLUMNS: readonly GraphColumn[] = [...COLUMN_NAMES, ...MORE_COLUMNS];

/** Key of the single segment that `buildGraph` makes. */
export const WHOLE = '';

export class PatternGraph {
  readonly store = new Store();
  readonly index = new FeatureIndex();
  readonly epochs = new Epochs();
  /** Grows with every change. */
  version = 0;
  /** Super-label expansion in use. */
  readonly hierarchy: LabelHierarchy;
  readonly segmentsName: string;
  readonly #segments = new Map<string, number>();
  readonly #handles = new Map<string, number>();
  /** Ids by handle. */
  readonly #handleIds: string[] = [];
  readonly #nodeIndex = new NodeIndex(this.store);
  readonly #writer: SegmentWriter;
  readonly #ports = new PortTable(this.store);
  readonly #ungrouped = new Set<number>();
  #ranks: { readonly rank: Int32Array; readonly keys: readonly string[] } | undefined;
  readonly #visibleOf = new WeakMap<
    Iterable<string>,
    { readonly version: number; readonly live: Uint8Array }
  >();
  #allVisible: { readonly version: number; readonly live: Uint8Array } | undefined;
  #ungroupedSets: { readonly version: number; readonly sets: Uint8Array } | undefined;
  #sortedKeys: readonly string[] | undefined;
  /** Ids that answers may still need, by segment row. */
  readonly #ids: (SegmentIds | undefined)[] = [];
  /** Whether a snapshot may hold the buffer that handles are now kept in. */
  #handlesLent = false;
  /** How often memory of a segment was released. */
  #releases = 0;

  /** @param saved what {@link save} gave of a graph with the same options: the new one takes it up as its own memory */
  constructor(options: GraphOptions = {}, saved?: RestoredGraph) {
    this.hierarchy = options.hierarchy ?? {};
    this.segmentsName = options.segmentsName ?? 'segments';
    if (saved) this.store.catalog.restore(saved.tables.catalog);
    for (const label of options.edgeLabels ?? []) this.store.catalog.edgeLabel(label);
    // A node's edges are in the order of these numbers, whichever segment was the first with an uncertain one.
    for (const label of options.edgeLabels ?? []) this.store.catalog.edgeLabel(label, true);
    this.#writer = new SegmentWriter(
      this.store,
      ancestorsOf(this.hierarchy),
      (id) => this.#handleFor(id),
      (handle) => this.#handleIds[handle]!,
    );
    if (saved) this.#restore(saved);
  }

  /**
   * The whole graph at rest, for a new one to take up. Columns are views of the graph's own memory: they are right as long as
   * `isStill` says so, and so is the rest.
   * @param rest called often, so that others have their turn
   * @returns undefined while queries run on what was replaced meanwhile
   */
  async save(rest: Rest): Promise<SavedGraph | undefined> {
    const { version, store } = this;
    const { epochs } = this;
    const isStill = () => this.version === version && epochs.isSettled;
    if (!isStill()) return undefined;
    const { ranges } = this.#writer;
    const ends = Object.fromEntries(Object.entries(ranges).map(([name, { end }]) => [name, end])) as Record<
      keyof typeof ranges,
      number
    >;
    const used = { ...ends, handles: this.#handles.size, ports: this.#ports.size };
    const strings = await store.strings.save(rest);
    const index = await this.index.save(rest);
    const nodeIndex = this.#nodeIndex.save();
    return {
      isStill,
      tables: {
        catalog: store.catalog.deltaSince(NOTHING_SEEN),
        strings: strings.size,
        segments: [...this.#segments],
        ungrouped: [...this.#ungrouped],
        handles: [...this.#handles.keys()],
        ranges: Object.fromEntries(Object.entries(ranges).map(([name, range]) => [name, range.save()])),
        versions: this.#writer.versions,
      },
      columns: {
        ...store.usedColumns(used),
        stringStarts: strings.starts,
        stringBytes: strings.bytes,
        stringTable: strings.table,
        index,
        nodeTables: nodeIndex.tables,
        nodeTableLengths: nodeIndex.lengths,
        nodeTablesUsed: nodeIndex.used,
        ports: this.#ports.save(),
      },
    };
  }

  #restore({ tables, columns }: RestoredGraph): void {
    const ints = (name: keyof RestoredGraph['columns']) => {
      const buffer = columns[name];
      // Of a fixed length: one that follows its buffer is slower to read.
      return new Int32Array(buffer, 0, buffer.byteLength >> 2);
    };
    this.store.attachColumns(columns);
    this.store.strings.restore({
      size: tables.strings,
      starts: columns.stringStarts,
      bytes: columns.stringBytes,
      table: ints('stringTable'),
    });
    this.index.restore(ints('index'));
    this.#nodeIndex.restore({
      tables: ints('nodeTables'),
      lengths: ints('nodeTableLengths'),
      used: ints('nodeTablesUsed'),
    });
    this.#ports.restore(ints('ports'));
    for (const [key, slot] of tables.segments) this.#segments.set(key, slot);
    for (const slot of tables.ungrouped) this.#ungrouped.add(slot);
    tables.handles.forEach((id, handle) => {
      this.#handles.set(id, handle);
      this.#handleIds[handle] = id;
    });
    for (const [name, range] of Object.entries(this.#writer.ranges)) range.restore(tables.ranges[name]!);
    this.#writer.versions = tables.versions;
    this.version = 1;
  }

  /**
   * Adds a segment, or replaces the one with this key. The cost depends on this segment only. Queries that run
   * meanwhile see the graph as it was. Throws GraphInputError, with the graph unchanged, when the input is wrong.
   */
  putSegment(key: string, input: SegmentInput): void {
    this.#take(key, this.#writer.write(key, input), input.grouped !== false);
  }

  /** A graph to be, of what is read from files; see `putDraft`. */
  draft(): GraphDraft {
    return new GraphDraft(this.store, ancestorsOf(this.hierarchy));
  }

  /** Adds or replaces all segments of a draft that was made by this graph. */
  putDraft(draft: GraphDraft, isGrouped: (key: string) => boolean): void {
    const isNew = this.#segments.size === 0 && this.#handles.size === 0;
    this.#nodeIndex.reserve(draft.nodeCount);
    for (const segment of draft.encoded(isGrouped, isNew, (id) => this.#handleFor(id)))
      this.#take(segment.key, this.#writer.writeEncoded(segment), segment.grouped);
  }

  /** Makes a segment that is written part of the graph, in place of the one with its key. */
  #take(key: string, slot: number, grouped: boolean): void {
    const before = this.#segments.get(key);
    if (before !== undefined) this.#retire(before);
    else this.#sortedKeys = undefined;
    this.#segments.set(key, slot);
    this.#ranks = undefined;
    if (!grouped) this.#ungrouped.add(slot);
    this.index.update(this.store, slot, 1);
    this.#publish(slot);
    this.version++;
  }

  /** Removes a segment; returns whether it existed. */
  removeSegment(key: string): boolean {
    const slot = this.#segments.get(key);
    if (slot === undefined) return false;
    this.#segments.delete(key);
    this.#sortedKeys = undefined;
    this.#ranks = undefined;
    this.#retire(slot);
    this.version++;
    return true;
  }

  /** Keys of all segments in the order of answers: by UTF-16 code unit. */
  segmentKeys(): readonly string[] {
    this.#sortedKeys ??= [...this.#segments.keys()].sort();
    return this.#sortedKeys;
  }

  /** Row of a segment in the segment table, or undefined. */
  segmentSlot(key: string): number | undefined {
    return this.#segments.get(key);
  }

  segmentKey(slot: number): string {
    return this.store.strings.text(this.store.segmentField(slot, S.key));
  }

  /** The node with this id, or -1. */
  findNode(id: string): number {
    return this.#nodeIndex.find(id);
  }

  /** Ids of edges' ends that are in no segment. */
  missingEnds(): string[] {
    const { view } = this.store.handleNode;
    return [...this.#handles].flatMap(([id, handle]) => (view[handle]! < 0 ? [id] : []));
  }

  get nodeCount(): number {
    return this.index.nodeTotal;
  }

  get edgeCount(): number {
    return this.index.edgeTotal;
  }

  get segmentCount(): number {
    return this.#segments.size;
  }

  /** Number of rows in the segment table, live or not. */
  get slotEnd(): number {
    return this.#writer.ranges.segments.end;
  }

  /** A byte per segment row: 1 for the segments that are live now (and among `keys`, when given). Read-only. */
  visible(keys?: Iterable<string>): Uint8Array {
    if (!keys && this.#allVisible?.version === this.version) return this.#allVisible.live;
    // The same array or set for the same graph gives the same result object.
    const kept = keys && this.#visibleOf.get(keys);
    if (kept?.version === this.version) return kept.live;
    const live = new Uint8Array(this.slotEnd);
    if (keys) {
      for (const key of keys) {
        const slot = this.#segments.get(key);
        if (slot !== undefined) live[slot] = 1;
      }
      this.#visibleOf.set(keys, { version: this.version, live });
      return live;
    }
    for (const slot of this.#segments.values()) live[slot] = 1;
    this.#allVisible = { version: this.version, live };
    return live;
  }

  /**
   * The graph as it is now, for a query: later changes do not show in it. Release it when the query is done.
   * @param keys segments that the query may see; all when not given
   */
  snapshot(keys?: Iterable<string>): Snapshot {
    const ticket = this.epochs.enter();
    this.#handlesLent = true;
    return new Snapshot(
      this.store,
      this.visible(keys),
      this.segmentRanks().rank,
      () => this.#releases,
      () => this.epochs.leave(ticket),
    );
  }

  /** The ids of a segment's nodes, which stay right when the segment is replaced. */
  idsOf(slot: number): SegmentIds {
    while (this.#ids.length <= slot) this.#ids.push(undefined);
    let ids = this.#ids[slot];
    if (!ids) {
      ids = new SegmentIds(this.store, slot);
      this.#ids[slot] = ids;
    }
    return ids;
  }

  /** Segments that are not grouped, of those that `visible` has a 1 for, in the order of their keys. */
  ungroupedSlots(visible: Uint8Array): Int32Array {
    const { rank } = this.segmentRanks();
    const slots = [...this.#ungrouped].filter((slot) => visible[slot] === 1);
    return Int32Array.from(slots.sort((a, b) => rank[a]! - rank[b]!));
  }

  /** Whether some grouped segment has a feature. */
  hasGrouped(postings: Postings): boolean {
    let ungrouped = 0;
    for (const slot of this.#ungrouped) if (postings.has(slot)) ungrouped++;
    return postings.size > ungrouped;
  }

  /** Per label set, 1 when a segment that is not grouped has such nodes. */
  ungroupedSets(): Uint8Array {
    if (this.#ungroupedSets?.version !== this.version) {
      const { catalog, nodeRow } = this.store;
      const sets = new Uint8Array(catalog.labelSets.length);
      for (const slot of this.#ungrouped) {
        const first = this.store.segmentField(slot, S.nodes);
        const end = first + this.store.segmentField(slot, S.nodeCount);
        for (let n = first; n < end; n++) sets[catalog.nodeKinds[nodeRow.view[n * 4]!]!.labelSet] = 1;
      }
      this.#ungroupedSets = { version: this.version, sets };
    }
    return this.#ungroupedSets.sets;
  }

  /** Place of each segment row in the order of keys, and the keys by place. */
  segmentRanks(): { readonly rank: Int32Array; readonly keys: readonly string[] } {
    if (!this.#ranks) {
      const keys = this.segmentKeys();
      // Shared, since every search on another thread is given it.
      const rank = new Int32Array(new SharedArrayBuffer(this.slotEnd * 4)).fill(-1);
      keys.forEach((key, place) => {
        rank[this.#segments.get(key)!] = place;
      });
      this.#ranks = { rank, keys };
    }
    return this.#ranks;
  }

  /** Bytes taken by columns, index and tables, by part; free ranges count as taken. */
  memory(): { readonly parts: Readonly<Record<string, number>>; readonly total: number } {
    const r = this.#writer.ranges;
    const parts: Record<string, number> = {
      nodes: r.nodes.end * 20,
      adjacency: r.adjacency.end * 12,
      edges: r.edges.end * 16,
      records: r.words.end * 4,
      ids: r.idBytes.end,
      runs: r.runs.end * 8,
      crossings: r.crossings.end * 16,
      exports: r.exports.end * 4,
      handles: this.#handles.size * (8 + 100),
      ports: this.#ports.bytesUsed(),
      segments: r.segments.end * (SEGMENT_ROW * 4 + 100),
      strings: this.store.strings.bytesUsed(),
      nodeIndex: this.#nodeIndex.bytesUsed(),
      invertedIndex: this.index.bytesUsed(),
    };
    return { parts, total: Object.values(parts).reduce((sum, bytes) => sum + bytes, 0) };
  }

  /** Connects a segment's nodes to the edges of other segments, and its edges to the nodes of others. */
  #publish(slot: number): void {
    const { store } = this;
    const first = store.segmentField(slot, S.nodes);
    const count = store.segmentField(slot, S.nodeCount);
    const { ids, handles } = this.#writer;
    for (let i = 0; i < count; i++) {
      this.#nodeIndex.add(first + i, ids[i]!);
      const handle = handles ? handles[i]! : (this.#handles.get(ids[i]!) ?? -1);
      if (handle >= 0) this.#bind(handle, first + i);
    }
    const { view: edges } = store.crossingEdge;
    const crossings = store.segmentField(slot, S.crossings);
    for (let c = crossings; c < crossings + store.segmentField(slot, S.crossingCount); c++) {
      const port = this.#portOf(edges[c]!, true);
      const last = store.portLast.view[port]!;
      store.crossingNext.view[c] = -1;
      store.crossingPrevious.view[c] = last;
      if (last < 0) store.portFirst.view[port] = c;
      else store.crossingNext.view[last] = c;
      store.portLast.view[port] = c;
    }
  }

  /** Removes a segment from the index now, and from memory when no query can be reading it. */
  #retire(slot: number): void {
    const { store } = this;
    this.#ungrouped.delete(slot);
    this.index.update(store, slot, -1);
    const first = store.segmentField(slot, S.nodes);
    const exports = store.segmentField(slot, S.exports);
    for (let i = 0; i < store.segmentField(slot, S.nodeCount); i++) {
      this.#nodeIndex.remove(first + i);
      const handle = exports < 0 ? -1 : store.exportHandle.view[exports + i]!;
      if (handle >= 0 && store.handleNode.view[handle] === first + i) this.#lead(handle, -1);
    }
    this.epochs.retire(() => {
      this.#unlink(slot);
      // A reader may be at a crossing that was just unlinked and continue from there, so wait once more.
      this.epochs.retire(() => this.#release(slot));
    });
  }

  #release(slot: number): void {
    this.#ids[slot]?.detach();
    if (slot < this.#ids.length) this.#ids[slot] = undefined;
    this.#releases++;
    this.#writer.release(slot);
  }

  /** Points a handle to another node, except for running queries. */
  #lead(handle: number, node: number): void {
    const { handleNode } = this.store;
    if (this.#handlesLent && this.epochs.readers > 0) handleNode.fork();
    this.#handlesLent = false;
    handleNode.view[handle] = node;
  }

  #unlink(slot: number): void {
    const { store } = this;
    const { view: next } = store.crossingNext;
    const { view: previous } = store.crossingPrevious;
    const crossings = store.segmentField(slot, S.crossings);
    for (let c = crossings; c < crossings + store.segmentField(slot, S.crossingCount); c++) {
      const port = this.#portOf(store.crossingEdge.view[c]!, false);
      if (previous[c]! < 0) store.portFirst.view[port] = next[c]!;
      else next[previous[c]!] = next[c]!;
      if (next[c]! < 0) store.portLast.view[port] = previous[c]!;
      else previous[next[c]!] = previous[c]!;
    }
  }

  /** The port of a crossing; made on demand when `make` is set. */
  #portOf(crossing: number, make: boolean): number {
    const { store } = this;
    const edge = crossing >> 1;
    const source = store.edgeRow.view[edge * 4 + 1]!;
    const target = store.edgeRow.view[edge * 4 + 2]!;
    const atTarget = (crossing & 1) === 1;
    const handle = ~(atTarget ? target : source);
    const other = atTarget ? source : target;
    const { label, directed } = store.catalog.edgeKinds[store.edgeRow.view[edge * 4]!]!;
    const code = codeOf(label, directed ? (atTarget ? IN : OUT) : UNDIRECTED);
    const set = other < 0 ? -1 : store.catalog.nodeKinds[store.nodeRow.view[other * 4]!]!.labelSet;
    const port = this.#ports.find(handle, code, set);
    if (port >= 0) return port;
    if (!make) throw new Error('A crossing edge has no port');
    return this.#ports.make(handle, code, set);
  }

  #handleFor(id: string): number {
    const known = this.#handles.get(id);
    if (known !== undefined) return known;
    const handle = this.#handles.size;
    const { store } = this;
    for (const column of [store.handleNode, store.handlePort]) {
      column.ensure(handle + 1);
      column.view[handle] = -1;
    }
    this.#handles.set(id, handle);
    this.#handleIds[handle] = id;
    const node = this.#nodeIndex.find(id);
    if (node >= 0) this.#bind(handle, node);
    return handle;
  }

  #bind(handle: number, node: number): void {
    const { store } = this;
    this.#lead(handle, node);
    const slot = store.nodeRow.view[node * 4 + 3]!;
    const row = this.#writer.exportsOf(slot);
    store.exportHandle.view[row + node - store.segmentField(slot, S.nodes)] = handle;
  }
}

/**
 * A graph from plain arrays, as a single segment.
 *
 * ```ts
 * const graph = buildGraph(
 *   [{ id: 'a', labels: ['Town'] }, { id: 'b', labels: ['Town'], properties: { people: 900 } }],
 *   [{ source: 'a', target: 'b', label: 'ROAD', directed: false }],
 * );
 * ```
 *
 * @throws GraphInputError when the input is wrong, or an edge has an end that is not among the nodes. A graph to which
 * more comes later is a PatternGraph, where such an edge stays unseen until the segment with its end is put.
 */
export function buildGraph(
  nodes: readonly NodeInput[],
  edges: readonly EdgeInput[],
  options: GraphOptions = {},
): PatternGraph {
  const graph = new PatternGraph(options);
  graph.putSegment(WHOLE, { nodes, edges });
  const missing = new Set(graph.missingEnds());
  if (missing.size > 0) {
    const dangling = edges.filter(({ source, target }) => missing.has(source) || missing.has(target));
    const { source, target } = dangling[0]!;
    const id = missing.has(source) ? source : target;
    throw new GraphInputError(danglingText({ source, target, id }, dangling.length, edges.length));
  }
  return graph;
}
