/**
 * Turns one segment, as plain arrays, into ranges of the columns.
 */
import { codeOf, IN, OUT, UNDIRECTED } from './catalog.ts';
import { Encoder } from './encode.ts';
import type { SegmentInput } from './input.ts';
import { GraphInputError } from './input.ts';
import { hashedBefore } from './node-index.ts';
import { Ranges } from './ranges.ts';
import { S, SEGMENT_ROW, type Store } from './store.ts';

const encoder = new TextEncoder();

/** A segment as numbers. */
export interface EncodedSegment {
  readonly key: string;
  readonly grouped: boolean;
  readonly encoder: Encoder;
  /** By number in the encoder. */
  readonly nodes: Int32Array;
  readonly edges: Int32Array;
  /** Ids of the nodes. */
  readonly ids: readonly string[];
  /** Source and target of each edge: a place in `nodes`, or `~handle` of a node in another segment. */
  readonly ends: Int32Array;
  /** Of each node the handle that its id has, or -1; looked up by id when not given. */
  readonly handles?: Int32Array;
}

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
  readonly #encoder: Encoder;
  readonly #handleFor: (id: string) => number;
  readonly #idOfHandle: (handle: number) => string;

  /**
   * @param handleFor answers the handle of an id that is not in the segment being written
   * @param idOfHandle answers the id of a handle
   */
  constructor(
    store: Store,
    ancestors: ReadonlyMap<string, readonly string[]>,
    handleFor: (id: string) => number,
    idOfHandle: (handle: number) => string,
  ) {
    this.#store = store;
    this.#encoder = new Encoder(store, ancestors);
    this.#handleFor = handleFor;
    this.#idOfHandle = idOfHandle;
  }

  /** By kind, zero between segments. */
  readonly #nextOfKind: number[] = [];
  /** Segments written so far. */
  versions = 0;
  /** Ids of the segment written last, in node order. */
  ids: readonly string[] = [];
  /** Handles that they have, if that is known; -1 where there is none. */
  handles: Int32Array | undefined;

  /** Writes a segment; answers its row in the segment table. Nothing is changed when the input is refused. */
  write(key: string, input: SegmentInput): number {
    const { nodes } = input;
    const edges = input.edges ?? [];
    const encoder = this.#encoder;
    encoder.begin();
    for (const node of nodes) encoder.node(node);
    const placeOf = new Map<string, number>();
    const ids: string[] = [];
    for (const { id } of nodes) {
      placeOf.set(id, ids.length);
      if (placeOf.size === ids.length)
        throw new GraphInputError(`Segment ${key} has two nodes with the id ${id}`);
      ids.push(id);
    }
    for (const edge of edges) encoder.edge(edge);
    const ends = new Int32Array(edges.length * 2);
    for (let i = 0; i < edges.length; i++) {
      const { source, target } = edges[i]!;
      ends[i * 2] = placeOf.get(source) ?? ~this.#handleFor(source);
      ends[i * 2 + 1] = placeOf.get(target) ?? ~this.#handleFor(target);
    }
    return this.writeEncoded({
      key,
      grouped: input.grouped !== false,
      encoder,
      nodes: range(0, nodes.length),
      ids,
      edges: range(nodes.length, nodes.length + edges.length),
      ends,
    });
  }

  /** Writes a segment that is numbers already. */
  writeEncoded(segment: EncodedSegment): number {
    const slot = this.ranges.segments.take(1);
    this.#store.segmentTable.ensure((slot + 1) * SEGMENT_ROW);
    const row = this.#store.segmentTable.view;
    const at = slot * SEGMENT_ROW;
    row.fill(0, at, at + SEGMENT_ROW);
    row[at + S.key] = this.#store.strings.intern(segment.key);
    row[at + S.grouped] = segment.grouped ? 1 : 0;
    row[at + S.exports] = -1;
    row[at + S.version] = ++this.versions;

    const order = this.#order(segment);
    this.#writeNodes(slot, order, segment);
    this.#writeEdges(slot, order, segment);
    this.#writeRecords(slot, order, segment);
    return slot;
  }

  /** Places of the nodes in the input, sorted by kind. */
  #order({ encoder, nodes }: EncodedSegment): Int32Array {
    const { kinds } = encoder;
    const count = nodes.length;
    const next = this.#nextOfKind;
    const present: number[] = [];
    for (let i = 0; i < count; i++) {
      const kind = kinds[nodes[i]!]!;
      while (next.length <= kind) next.push(0);
      if (next[kind]!++ === 0) present.push(kind);
    }
    present.sort((a, b) => (encoder.kindName(a) < encoder.kindName(b) ? -1 : 1));
    let start = 0;
    for (const kind of present) {
      const size = next[kind]!;
      next[kind] = start;
      start += size;
    }
    const order = new Int32Array(count);
    for (let i = 0; i < count; i++) order[next[kinds[nodes[i]!]!]!++] = i;
    for (const kind of present) next[kind] = 0;
    return order;
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

  /** Gives a segment a row of empty handles, unless it has one; returns where the row starts. */
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
    order: Int32Array,
    { encoder, nodes, ids: given, handles }: EncodedSegment,
  ): void {
    const store = this.#store;
    const count = order.length;
    const ids: string[] = [];
    for (let i = 0; i < count; i++) ids.push(given[order[i]!]!);
    this.ids = ids;
    this.handles = handles && Int32Array.from(order, (node) => handles[node]!);
    const kindAt = (place: number) => encoder.kinds[nodes[order[place]!]!]!;
    const first = this.ranges.nodes.take(count + 1);
    store.nodeIdStart.ensure(first + count + 1);
    store.nodeRow.ensure((first + count + 1) * 4);
    const prefix = commonPrefix(ids);
    let idLength = 0;
    for (const id of ids) idLength += utf8Length(id, prefix.length);
    const idFirst = this.ranges.idBytes.take(idLength);
    store.idBytes.ensure(idFirst + idLength);

    const rows = store.nodeRow.view;
    const starts = store.nodeIdStart.view;
    const bytes = store.idBytes.view;
    let idAt = idFirst;
    let runCount = 0;
    let before = -1;
    for (let i = 0; i < count; i++) {
      const node = first + i;
      const kind = kindAt(i);
      rows[node * 4] = kind;
      rows[node * 4 + 3] = slot;
      starts[node] = idAt;
      idAt += writeText(ids[i]!, prefix.length, bytes, idAt);
      if (kind !== before) runCount++;
      before = kind;
    }
    starts[first + count] = idAt;
    rows[(first + count) * 4 + 3] = slot;

    const runs = this.ranges.runs.take(runCount + 1);
    store.runRow.ensure((runs + runCount + 1) * 2);
    const runRows = store.runRow.view;
    let run = runs;
    before = -1;
    for (let i = 0; i < count; i++) {
      const kind = rows[(first + i) * 4]!;
      if (kind === before) continue;
      before = kind;
      runRows[run * 2] = kind;
      runRows[run++ * 2 + 1] = first + i;
    }
    runRows[run * 2] = -1;
    runRows[run * 2 + 1] = first + count;

    const at = slot * SEGMENT_ROW;
    const row = store.segmentTable.view;
    row[at + S.nodes] = first;
    row[at + S.nodeCount] = count;
    row[at + S.idBytes] = idFirst;
    row[at + S.idByteCount] = idLength;
    row[at + S.runs] = runs;
    row[at + S.runCount] = runCount;
    row[at + S.prefix] = store.strings.intern(prefix);
    row[at + S.prefixHash] = hashedBefore(prefix);
  }

  #writeEdges(slot: number, order: Int32Array, { encoder, edges, ends }: EncodedSegment): void {
    const store = this.#store;
    const { kinds } = encoder;
    const { edgeKinds } = store.catalog;
    const placeOf = new Int32Array(order.length);
    for (let i = 0; i < order.length; i++) placeOf[order[i]!] = i;
    const at = slot * SEGMENT_ROW;
    const firstNode = store.segmentField(slot, S.nodes);
    const nodeCount = store.segmentField(slot, S.nodeCount);
    const first = this.ranges.edges.take(edges.length);
    store.edgeRow.ensure((first + edges.length) * 4);
    const rows = store.edgeRow.view;

    const degree = new Int32Array(nodeCount + 1);
    let crossingCount = 0;
    for (let i = 0; i < edges.length; i++) {
      const kind = kinds[edges[i]!]!;
      const word = (first + i) * 4;
      let source = ends[i * 2]!;
      let target = ends[i * 2 + 1]!;
      if (source >= 0) {
        source = placeOf[source]!;
        degree[source]!++;
        source += firstNode;
      } else crossingCount++;
      if (target >= 0) target = placeOf[target]! + firstNode;
      rows[word] = kind;
      rows[word + 1] = source;
      rows[word + 2] = target;
      // An undirected loop is once in the list of its node, also where the node is in another segment.
      if (source === target && !edgeKinds[kind]!.directed) continue;
      if (target < 0) crossingCount++;
      else degree[target - firstNode]!++;
    }

    let total = 0;
    for (let i = 0; i < nodeCount; i++) total += degree[i]!;
    const adjacency = this.ranges.adjacency.take(total);
    store.adjRow.ensure((adjacency + total) * 2);
    store.adjEdge.ensure(adjacency + total);
    const nodeRows = store.nodeRow.view;
    let start = adjacency;
    const next = new Int32Array(nodeCount);
    for (let i = 0; i < nodeCount; i++) {
      nodeRows[(firstNode + i) * 4 + 1] = start;
      next[i] = start;
      start += degree[i]!;
    }
    nodeRows[(firstNode + nodeCount) * 4 + 1] = start;

    const crossings = this.ranges.crossings.take(crossingCount);
    for (const column of [
      store.crossingEdge,
      store.crossingNext,
      store.crossingPrevious,
      store.crossingSegment,
    ])
      column.ensure(crossings + crossingCount);
    store.crossingSegment.view.fill(slot, crossings, crossings + crossingCount);
    const crossingEdges = store.crossingEdge.view;
    const adjacent = store.adjRow.view;
    const adjacentEdges = store.adjEdge.view;
    let crossing = crossings;
    const put = (node: number, other: number, edge: number, code: number) => {
      const entry = next[node - firstNode]!;
      next[node - firstNode] = entry + 1;
      adjacent[entry * 2 + 1] = other;
      adjacentEdges[entry] = edge;
      adjacent[entry * 2] = code;
    };
    for (let edge = first; edge < first + edges.length; edge++) {
      const { label, directed } = edgeKinds[rows[edge * 4]!]!;
      const source = rows[edge * 4 + 1]!;
      const target = rows[edge * 4 + 2]!;
      if (source >= 0) put(source, target, edge, codeOf(label, directed ? OUT : UNDIRECTED));
      else crossingEdges[crossing++] = edge * 2;
      if (!directed && source === target) continue;
      if (target < 0) crossingEdges[crossing++] = edge * 2 + 1;
      else put(target, source, edge, codeOf(label, directed ? IN : UNDIRECTED));
    }
    for (let node = firstNode; node < firstNode + nodeCount; node++)
      sortEntries(
        adjacent,
        adjacentEdges,
        nodeRows[node * 4 + 1]!,
        nodeRows[(node + 1) * 4 + 1]!,
        this.#idOfHandle,
      );

    const row = store.segmentTable.view;
    row[at + S.edges] = first;
    row[at + S.edgeCount] = edges.length;
    row[at + S.adjacency] = adjacency;
    row[at + S.adjacencyCount] = total;
    row[at + S.crossings] = crossings;
    row[at + S.crossingCount] = crossingCount;
  }

  /** Records of nodes and edges, in order. */
  #writeRecords(slot: number, order: Int32Array, { encoder, nodes, edges }: EncodedSegment): void {
    const store = this.#store;
    let total = 0;
    for (const node of nodes) total += encoder.wordsOf(node);
    for (const edge of edges) total += encoder.wordsOf(edge);
    const first = this.ranges.words.take(total);
    store.records.ensure(first + total);
    const nodeRows = store.nodeRow.view;
    const edgeRows = store.edgeRow.view;
    const firstNode = store.segmentField(slot, S.nodes);
    const firstEdge = store.segmentField(slot, S.edges);
    let at = first;
    for (let i = 0; i < order.length; i++) {
      nodeRows[(firstNode + i) * 4 + 2] = at;
      at = encoder.write(nodes[order[i]!]!, at);
    }
    for (let i = 0; i < edges.length; i++) {
      edgeRows[(firstEdge + i) * 4 + 3] = at;
      at = encoder.write(edges[i]!, at);
    }
    const row = store.segmentTable.view;
    row[slot * SEGMENT_ROW + S.words] = first;
    row[slot * SEGMENT_ROW + S.wordCount] = total;
  }
}

function range(from: number, to: number): Int32Array {
  const numbers = new Int32Array(to - from);
  for (let i = 0; i < numbers.length; i++) numbers[i] = from + i;
  return numbers;
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

/** Bytes of a text from a place on, as UTF-8. */
function utf8Length(text: string, from: number): number {
  for (let i = from; i < text.length; i++)
    if (text.charCodeAt(i) > 127) return Buffer.byteLength(text.slice(from));
  return text.length - from;
}

/** What all ids of a segment begin with, but for a last part of at least one character. */
function commonPrefix(ids: readonly string[]): string {
  if (ids.length < 2) return '';
  const first = ids[0]!;
  let length = first.length;
  for (const id of ids) {
    let i = 0;
    while (i < length && i < id.length && first.charCodeAt(i) === id.charCodeAt(i)) i++;
    length = i;
  }
  // Not between the halves of a surrogate pair.
  if (length > 0 && (first.charCodeAt(length - 1) & 0xfc00) === 0xd800) length--;
  return first.slice(0, length);
}

/**
 * Sorts the entries of one adjacency list by code, then neighbour, then edge. Neighbours in other segments come before those in the
 * same one, by their ids: numbers of handles follow from what was seen first. Whoever looks for a place in the list only tells
 * the two apart.
 */
function sortEntries(
  rows: Int32Array,
  edges: Int32Array,
  start: number,
  end: number,
  idOfHandle: (handle: number) => string,
): void {
  const isBefore = (code: number, node: number, edge: number, c: number, n: number, e: number): boolean => {
    if (code !== c) return code < c;
    if (node === n) return edge < e;
    return node < 0 && n < 0 ? idOfHandle(~node) < idOfHandle(~n) : node < n;
  };
  if (end - start > 24) {
    const sorted = Array.from(
      { length: end - start },
      (_, i) => [rows[(start + i) * 2]!, rows[(start + i) * 2 + 1]!, edges[start + i]!] as const,
    ).sort((a, b) => (isBefore(...a, ...b) ? -1 : 1));
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
