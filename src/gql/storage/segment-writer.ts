/**
 * Turns one segment, as plain arrays, into ranges of the columns.
 */
import { codeOf, IN, OUT, UNDIRECTED } from './catalog.ts';
import type { EdgeInput, NodeInput, SegmentInput } from './input.ts';
import { GraphInputError } from './input.ts';
import { type Prepared, Preparer } from './prepare.ts';
import { Ranges } from './ranges.ts';
import { evenUp, S, SEGMENT_ROW, type Store } from './store.ts';

const encoder = new TextEncoder();

export class SegmentWriter {
  readonly ranges = {
    nodes: new Ranges(),
    adjacency: new Ranges(),
    edges: new Ranges(),
    words: new Ranges(2),
    idBytes: new Ranges(),
    runs: new Ranges(),
    crossings: new Ranges(),
    segments: new Ranges(),
    exports: new Ranges(),
  };
  readonly #store: Store;
  readonly #preparer: Preparer;
  readonly #handleFor: (id: string) => number;

  /** @param handleFor answers the handle of an id that is not in the segment being written */
  constructor(
    store: Store,
    ancestors: ReadonlyMap<string, readonly string[]>,
    handleFor: (id: string) => number,
  ) {
    this.#store = store;
    this.#preparer = new Preparer(store, ancestors);
    this.#handleFor = handleFor;
  }

  #versions = 0;
  /** Ids of the segment written last, in node order. */
  ids: readonly string[] = [];

  /** Writes a segment; answers its row in the segment table. Nothing is changed when the input is refused. */
  write(key: string, input: SegmentInput): number {
    const { nodes } = input;
    const edges = input.edges ?? [];
    const prepared = nodes.map((node) => this.#preparer.node(node));
    const rank = this.#preparer.kindRanks();
    const order = nodes
      .map((_, i) => i)
      .sort((a, b) => rank[prepared[a]!.kind]! - rank[prepared[b]!.kind]! || a - b);
    const placeOf = new Map<string, number>();
    for (let i = 0; i < order.length; i++) {
      const id = nodes[order[i]!]!.id;
      if (placeOf.has(id)) throw new GraphInputError(`Segment ${key} has two nodes with the id ${id}`);
      placeOf.set(id, i);
    }
    const edgesPrepared = edges.map((edge) => this.#preparer.edge(edge));

    const slot = this.ranges.segments.take(1);
    this.#store.segmentTable.ensure((slot + 1) * SEGMENT_ROW);
    const row = this.#store.segmentTable.view;
    const at = slot * SEGMENT_ROW;
    row.fill(0, at, at + SEGMENT_ROW);
    row[at + S.key] = this.#store.strings.intern(key);
    row[at + S.grouped] = input.grouped === false ? 0 : 1;
    row[at + S.exports] = -1;
    row[at + S.version] = ++this.#versions;

    this.#writeNodes(slot, nodes, prepared, order);
    this.#writeEdges(slot, edges, edgesPrepared, placeOf);
    this.ids = order.map((i) => nodes[i]!.id);
    return slot;
  }

  /** Gives the ranges of a segment back. */
  release(slot: number): void {
    const field = (f: number) => this.#store.segmentField(slot, f);
    const { ranges } = this;
    ranges.nodes.give(field(S.nodes), field(S.nodeCount) + 1);
    ranges.edges.give(field(S.edges), field(S.edgeCount));
    ranges.adjacency.give(field(S.adjacency), field(S.adjacencyCount));
    ranges.words.give(field(S.words), field(S.wordCount));
    ranges.idBytes.give(field(S.idBytes), field(S.idByteCount));
    ranges.runs.give(field(S.runs), field(S.runCount) + 1);
    ranges.crossings.give(field(S.crossings), field(S.crossingCount));
    if (field(S.exports) >= 0) ranges.exports.give(field(S.exports), field(S.nodeCount));
    ranges.segments.give(slot, 1);
  }

  /** Gives a segment a row of handles, all empty, unless it has one; answers where the row starts. */
  exportsOf(slot: number): number {
    const known = this.#store.segmentField(slot, S.exports);
    if (known >= 0) return known;
    const count = this.#store.segmentField(slot, S.nodeCount);
    const start = this.ranges.exports.take(count);
    this.#store.exportHandle.ensure(start + count);
    this.#store.exportHandle.view.fill(-1, start, start + count);
    this.#store.segmentTable.view[slot * SEGMENT_ROW + S.exports] = start;
    return start;
  }

  #writeNodes(
    slot: number,
    nodes: readonly NodeInput[],
    prepared: readonly Prepared[],
    order: readonly number[],
  ): void {
    const store = this.#store;
    const count = nodes.length;
    const first = this.ranges.nodes.take(count + 1);
    store.nodeIdStart.ensure(first + count + 1);
    store.nodeRow.ensure((first + count + 1) * 4);
    const prefix = commonPrefix(nodes);
    const prefixBytes = Buffer.byteLength(prefix);
    let idLength = 0;
    for (const { id } of nodes) idLength += Buffer.byteLength(id) - prefixBytes;
    const idFirst = this.ranges.idBytes.take(idLength);
    store.idBytes.ensure(idFirst + idLength);

    let idAt = idFirst;
    let kinds = 0;
    for (let i = 0; i < count; i++) {
      const source = order[i]!;
      const node = first + i;
      store.nodeRow.view[node * 4] = prepared[source]!.kind;
      store.nodeRow.view[node * 4 + 3] = slot;
      store.nodeIdStart.view[node] = idAt;
      idAt += writeText(nodes[source]!.id, prefix.length, store.idBytes.view, idAt);
      if (i === 0 || prepared[source]!.kind !== prepared[order[i - 1]!]!.kind) kinds++;
    }
    store.nodeIdStart.view[first + count] = idAt;
    store.nodeRow.view[(first + count) * 4 + 3] = slot;

    const runs = this.ranges.runs.take(kinds + 1);
    store.runRow.ensure((runs + kinds + 1) * 2);
    let run = runs;
    for (let i = 0; i < count; i++) {
      const kind = prepared[order[i]!]!.kind;
      if (i > 0 && kind === prepared[order[i - 1]!]!.kind) continue;
      store.runRow.view[run * 2] = kind;
      store.runRow.view[run++ * 2 + 1] = first + i;
    }
    store.runRow.view[run * 2] = -1;
    store.runRow.view[run * 2 + 1] = first + count;

    const at = slot * SEGMENT_ROW;
    const row = store.segmentTable.view;
    row[at + S.nodes] = first;
    row[at + S.nodeCount] = count;
    row[at + S.idBytes] = idFirst;
    row[at + S.idByteCount] = idLength;
    row[at + S.runs] = runs;
    row[at + S.runCount] = kinds;
    row[at + S.prefix] = store.strings.intern(prefix);
    this.#nodeRecords = order.map((i) => prepared[i]!);
  }

  /** Node records of the segment being written, in node order; written together with those of its edges. */
  #nodeRecords: readonly Prepared[] = [];

  #writeEdges(
    slot: number,
    edges: readonly EdgeInput[],
    prepared: readonly Prepared[],
    placeOf: ReadonlyMap<string, number>,
  ): void {
    const store = this.#store;
    const at = slot * SEGMENT_ROW;
    const firstNode = store.segmentField(slot, S.nodes);
    const nodeCount = store.segmentField(slot, S.nodeCount);
    const first = this.ranges.edges.take(edges.length);
    store.edgeRow.ensure((first + edges.length) * 4);

    const degree = new Int32Array(nodeCount + 1);
    let crossingCount = 0;
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i]!;
      const source = placeOf.get(edge.source);
      const target = placeOf.get(edge.target);
      const directed = edge.directed !== false;
      store.edgeRow.view[(first + i) * 4] = prepared[i]!.kind;
      store.edgeRow.view[(first + i) * 4 + 1] =
        source === undefined ? ~this.#handleFor(edge.source) : firstNode + source;
      store.edgeRow.view[(first + i) * 4 + 2] =
        target === undefined ? ~this.#handleFor(edge.target) : firstNode + target;
      if (source !== undefined) degree[source]!++;
      else crossingCount++;
      if (target === undefined) crossingCount++;
      // An undirected loop stands once in the list of its node.
      else if (directed || source !== target) degree[target]!++;
    }

    let total = 0;
    for (let i = 0; i < nodeCount; i++) total += degree[i]!;
    const adjacency = this.ranges.adjacency.take(total);
    store.adjRow.ensure((adjacency + total) * 2);
    store.adjEdge.ensure(adjacency + total);
    let start = adjacency;
    const next = new Int32Array(nodeCount);
    for (let i = 0; i < nodeCount; i++) {
      store.nodeRow.view[(firstNode + i) * 4 + 1] = start;
      next[i] = start;
      start += degree[i]!;
    }
    store.nodeRow.view[(firstNode + nodeCount) * 4 + 1] = start;

    const crossings = this.ranges.crossings.take(crossingCount);
    for (const column of [
      store.crossingEdge,
      store.crossingNext,
      store.crossingPrevious,
      store.crossingSegment,
    ])
      column.ensure(crossings + crossingCount);
    store.crossingSegment.view.fill(slot, crossings, crossings + crossingCount);
    let crossing = crossings;
    const put = (node: number, other: number, edge: number, code: number) => {
      const entry = next[node - firstNode]!;
      next[node - firstNode] = entry + 1;
      store.adjRow.view[entry * 2 + 1] = other;
      store.adjEdge.view[entry] = edge;
      store.adjRow.view[entry * 2] = code;
    };
    for (let edge = first; edge < first + edges.length; edge++) {
      const { label, directed } = store.catalog.edgeKinds[store.edgeRow.view[edge * 4]!]!;
      const source = store.edgeRow.view[edge * 4 + 1]!;
      const target = store.edgeRow.view[edge * 4 + 2]!;
      if (source >= 0) put(source, target, edge, codeOf(label, directed ? OUT : UNDIRECTED));
      else store.crossingEdge.view[crossing++] = edge * 2;
      if (target < 0) store.crossingEdge.view[crossing++] = edge * 2 + 1;
      else if (directed || source !== target)
        put(target, source, edge, codeOf(label, directed ? IN : UNDIRECTED));
    }
    for (let node = firstNode; node < firstNode + nodeCount; node++)
      sortEntries(store, store.nodeRow.view[node * 4 + 1]!, store.nodeRow.view[(node + 1) * 4 + 1]!);

    const row = store.segmentTable.view;
    row[at + S.edges] = first;
    row[at + S.edgeCount] = edges.length;
    row[at + S.adjacency] = adjacency;
    row[at + S.adjacencyCount] = total;
    row[at + S.crossings] = crossings;
    row[at + S.crossingCount] = crossingCount;
    this.#writeRecords(slot, prepared);
  }

  #writeRecords(slot: number, edges: readonly Prepared[]): void {
    const store = this.#store;
    const nodes = this.#nodeRecords;
    let total = 0;
    for (const list of [nodes, edges])
      for (const record of list) total += evenUp(record.words) + record.weights.length * 2;
    const first = this.ranges.words.take(total);
    store.records.ensure(first + total);
    let at = first;
    const write = (record: Prepared, layout: number): number => {
      const start = at;
      const { fields } = store.catalog.layouts[layout]!;
      for (let i = 0; i < fields.length; i++) {
        const field = fields[i]!;
        if (field.storage === 'number')
          store.records.doubles[(start >> 1) + field.slot] = record.cells[i]!.value;
        else store.records.words[start + field.slot] = record.cells[i]!.value;
      }
      at += evenUp(record.words);
      for (const weight of record.weights) {
        store.records.doubles[at >> 1] = weight;
        at += 2;
      }
      return start;
    };
    const firstNode = store.segmentField(slot, S.nodes);
    nodes.forEach((record, i) => {
      store.nodeRow.view[(firstNode + i) * 4 + 2] = write(
        record,
        store.catalog.nodeKinds[record.kind]!.layout,
      );
    });
    const firstEdge = store.segmentField(slot, S.edges);
    edges.forEach((record, i) => {
      store.edgeRow.view[(firstEdge + i) * 4 + 3] = write(
        record,
        store.catalog.edgeKinds[record.kind]!.layout,
      );
    });
    store.segmentTable.view[slot * SEGMENT_ROW + S.words] = first;
    store.segmentTable.view[slot * SEGMENT_ROW + S.wordCount] = total;
    this.#nodeRecords = [];
  }
}

/** Writes a text from a place on, as UTF-8; answers the bytes written. */
function writeText(text: string, from: number, bytes: Uint8Array, at: number): number {
  for (let i = from; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code > 127) return encoder.encodeInto(text.slice(from), bytes.subarray(at)).written;
    bytes[at + i - from] = code;
  }
  return text.length - from;
}

/** What all ids of a segment begin with, but for a last part of at least one character. */
function commonPrefix(nodes: readonly NodeInput[]): string {
  if (nodes.length < 2) return '';
  const first = nodes[0]!.id;
  let length = first.length;
  for (const { id } of nodes) {
    let i = 0;
    while (i < length && i < id.length && first.charCodeAt(i) === id.charCodeAt(i)) i++;
    length = i;
  }
  // Not between the halves of a surrogate pair.
  if (length > 0 && (first.charCodeAt(length - 1) & 0xfc00) === 0xd800) length--;
  return first.slice(0, length);
}

/** Sorts the entries of one adjacency list by code, then neighbour, then edge. */
function sortEntries(store: Store, start: number, end: number): void {
  const rows = store.adjRow.view;
  const edges = store.adjEdge.view;
  if (end - start > 24) {
    const order = Array.from({ length: end - start }, (_, i) => start + i).sort(
      (a, b) => rows[a * 2]! - rows[b * 2]! || rows[a * 2 + 1]! - rows[b * 2 + 1]! || edges[a]! - edges[b]!,
    );
    const sorted = order.map((i) => [rows[i * 2]!, rows[i * 2 + 1]!, edges[i]!] as const);
    sorted.forEach(([code, node, edge], i) => {
      rows[(start + i) * 2] = code;
      rows[(start + i) * 2 + 1] = node;
      edges[start + i] = edge;
    });
    return;
  }
  for (let i = start + 1; i < end; i++) {
    const code = rows[i * 2]!;
    const node = rows[i * 2 + 1]!;
    const edge = edges[i]!;
    let j = i - 1;
    while (j >= start && isBefore(code, node, edge, rows[j * 2]!, rows[j * 2 + 1]!, edges[j]!)) {
      rows[j * 2 + 2] = rows[j * 2]!;
      rows[j * 2 + 3] = rows[j * 2 + 1]!;
      edges[j + 1] = edges[j]!;
      j--;
    }
    rows[j * 2 + 2] = code;
    rows[j * 2 + 3] = node;
    edges[j + 1] = edge;
  }
}

function isBefore(code: number, node: number, edge: number, c: number, n: number, e: number): boolean {
  return code < c || (code === c && (node < n || (node === n && edge < e)));
}
