/**
 * A whole graph on its way in: nodes and edges as numbers, in any order and of any segment, until all are there. Then they
 * are written segment by segment. Nothing is made for a single node or edge, so this takes a fraction of the time and
 * memory of objects.
 */
import { Encoder } from './encode.ts';
import { IdTable } from './id-table.ts';
import type { EncodedSegment } from './segment-writer.ts';
import type { Store } from './store.ts';

/** Numbers at the end of a list that grows. */
class Numbers {
  #numbers: Int32Array = new Int32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.#numbers.length) {
      const longer = new Int32Array(this.length * 2);
      longer.set(this.#numbers);
      this.#numbers = longer;
    }
    this.#numbers[this.length++] = value;
  }

  at(place: number): number {
    return this.#numbers[place]!;
  }

  set(place: number, value: number): void {
    this.#numbers[place] = value;
  }

  get all(): Int32Array {
    return this.#numbers.subarray(0, this.length);
  }
}

export class GraphDraft {
  readonly encoder: Encoder;
  readonly ids = new IdTable();
  readonly #segments = new Map<string, number>();
  readonly #keys: string[] = [];
  /** Of each node: id, segment and number in the encoder. */
  readonly #nodeId = new Numbers();
  readonly #nodeSegment = new Numbers();
  readonly #nodeItem = new Numbers();
  /** By id: the node, or -1. */
  readonly #nodeOf = new Numbers();
  /** Of each edge: segment, ids of its ends, number in the encoder. */
  readonly #edgeSegment = new Numbers();
  readonly #source = new Numbers();
  readonly #target = new Numbers();
  readonly #edgeItem = new Numbers();
  #items = 0;

  constructor(store: Store, ancestors: ReadonlyMap<string, readonly string[]>) {
    this.encoder = new Encoder(store, ancestors);
  }

  get nodeCount(): number {
    return this.#nodeId.length;
  }

  get edgeCount(): number {
    return this.#source.length;
  }

  segment(key: string): number {
    let segment = this.#segments.get(key);
    if (segment === undefined) {
      segment = this.#keys.length;
      this.#segments.set(key, segment);
      this.#keys.push(key);
    }
    return segment;
  }

  /** Takes the node that was closed in the encoder last; answers false when there is one with this id already. */
  node(id: number, segment: number): boolean {
    while (this.#nodeOf.length < this.ids.size) this.#nodeOf.push(-1);
    if (this.#nodeOf.at(id) >= 0) return false;
    this.#nodeOf.set(id, this.#nodeId.length);
    this.#nodeId.push(id);
    this.#nodeSegment.push(segment);
    this.#nodeItem.push(this.#items++);
    return true;
  }

  /** Takes the edge that was closed in the encoder last. Ends are ids; all nodes come before the first edge. */
  edge(source: number, target: number, segment: number): void {
    this.#source.push(source);
    this.#target.push(target);
    this.#edgeSegment.push(segment);
    this.#edgeItem.push(this.#items++);
  }

  /** Segment of the node with an id; -1 when there is none. */
  segmentOf(id: number): number {
    const node = id < this.#nodeOf.length ? this.#nodeOf.at(id) : -1;
    return node < 0 ? -1 : this.#nodeSegment.at(node);
  }

  /**
   * The segments, one after the other; each has to be in the graph before the next one is asked for.
   * @param isNew whether the graph has nothing else
   * @param handleFor the handle of a node in another segment, by its id
   */
  *encoded(
    isGrouped: (key: string) => boolean,
    isNew: boolean,
    handleFor: (id: string) => number,
  ): Generator<EncodedSegment> {
    while (this.#nodeOf.length < this.ids.size) this.#nodeOf.push(-1);
    const [nodeOf, nodeId, nodeSegment] = [this.#nodeOf.all, this.#nodeId.all, this.#nodeSegment.all];
    const [nodeItem, edgeItem] = [this.#nodeItem.all, this.#edgeItem.all];
    const [source, target] = [this.#source.all, this.#target.all];
    const nodes = grouped(nodeSegment, this.#keys.length);
    const edges = grouped(this.#edgeSegment.all, this.#keys.length);
    // By node: place in its segment. By id: handle, plus 1.
    const place = new Int32Array(nodeId.length);
    const handles = new Int32Array(this.ids.size);
    for (let s = 0; s < this.#keys.length; s++) {
      const ownNodes = nodes.list.subarray(nodes.starts[s]!, nodes.starts[s + 1]!);
      const ownEdges = edges.list.subarray(edges.starts[s]!, edges.starts[s + 1]!);
      const ids: string[] = [];
      const items = new Int32Array(ownNodes.length);
      const bound = new Int32Array(ownNodes.length);
      for (let i = 0; i < ownNodes.length; i++) {
        const node = ownNodes[i]!;
        place[node] = i;
        items[i] = nodeItem[node]!;
        ids.push(this.ids.text(nodeId[node]!));
        bound[i] = handles[nodeId[node]!]! - 1;
      }
      const end = (id: number): number => {
        const node = nodeOf[id]!;
        if (node >= 0 && nodeSegment[node] === s) return place[node]!;
        if (handles[id] === 0) handles[id] = handleFor(this.ids.text(id)) + 1;
        return ~(handles[id]! - 1);
      };
      const edgeItems = new Int32Array(ownEdges.length);
      const ends = new Int32Array(ownEdges.length * 2);
      for (let i = 0; i < ownEdges.length; i++) {
        const edge = ownEdges[i]!;
        edgeItems[i] = edgeItem[edge]!;
        ends[i * 2] = end(source[edge]!);
        ends[i * 2 + 1] = end(target[edge]!);
      }
      const key = this.#keys[s]!;
      const { encoder } = this;
      yield {
        key,
        grouped: isGrouped(key),
        encoder,
        nodes: items,
        ids,
        edges: edgeItems,
        ends,
        ...(isNew ? { handles: bound } : {}),
      };
    }
  }
}

/** Places by group, in their order: those of group `g` are from `starts[g]` to `starts[g + 1]` of `list`. */
function grouped(
  groups: Int32Array,
  count: number,
): { readonly starts: Int32Array; readonly list: Int32Array } {
  const starts = new Int32Array(count + 1);
  for (const group of groups) starts[group + 1]!++;
  for (let g = 0; g < count; g++) starts[g + 1]! += starts[g]!;
  const next = starts.slice();
  const list = new Int32Array(groups.length);
  for (let i = 0; i < groups.length; i++) list[next[groups[i]!]!++] = i;
  return { starts, list };
}
