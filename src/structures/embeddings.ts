import type { CodeEdge } from './dfs-code.ts';
import { type GraphStore, hasArc, hasLabel } from './graph-store.ts';
import { GrowingList } from './growing-list.ts';

/**
 * The ways in which a structure lies in the graphs: rows of one node of the store for each node of the structure. Of ways that
 * differ by an exchange of twins alone one is kept: a twin is taken after those before it.
 */
export interface Embeddings {
  /** Nodes a row. */
  readonly width: number;
  readonly rows: number;
  /** Row after row, in the order of groups. */
  readonly nodes: Int32Array;
}

/** Where two nodes of these labels are joined by an edge of a label. */
export function edgeEmbeddings(store: GraphStore, from: number, link: number, to: number): Embeddings {
  const { before } = store.twins;
  const found = new GrowingList();
  for (const node of store.bearers[from] ?? []) {
    if (before[node] >= 0) continue;
    for (let at = store.arcs[node]; at < store.arcs[node + 1]; at++) {
      const head = store.heads[at];
      if (store.links[at] !== link || !hasLabel(store, head, to)) continue;
      if (before[head] >= 0 && before[head] !== node) continue;
      found.push(node);
      found.push(head);
    }
  }
  const nodes = found.taken();
  return { width: 2, rows: nodes.length / 2, nodes };
}

/** Embeddings of a structure with one more edge; `label` is that of the new node of a forward edge. */
export function extended(
  store: GraphStore,
  before: Embeddings,
  { from, to, link }: CodeEdge,
  label: number,
): Embeddings {
  const { width, rows, nodes } = before;
  const found = new GrowingList();
  const forward = to === width;
  for (let row = 0; row < rows; row++) {
    const start = row * width;
    const tail = nodes[start + from];
    if (!forward) {
      if (!hasArc(store, tail, nodes[start + to], link)) continue;
      for (let at = 0; at < width; at++) found.push(nodes[start + at]);
      continue;
    }
    for (let arc = store.arcs[tail]; arc < store.arcs[tail + 1]; arc++) {
      const head = store.heads[arc];
      if (store.links[arc] !== link || !hasLabel(store, head, label)) continue;
      if (placeOf(nodes, start, width, head) >= 0) continue;
      const twin = store.twins.before[head];
      if (twin >= 0 && placeOf(nodes, start, width, twin) < 0) continue;
      for (let at = 0; at < width; at++) found.push(nodes[start + at]);
      found.push(head);
    }
  }
  const all = found.taken();
  const wide = forward ? width + 1 : width;
  return { width: wide, rows: all.length / wide, nodes: all };
}

/** Number of all ways in which a structure lies in the graphs, exchanges of twins counted. */
export function waysIn({ twins }: GraphStore, { width, rows, nodes }: Embeddings): number {
  let sum = 0;
  for (let row = 0; row < rows; row++) {
    let ways = 1;
    for (let at = row * width; at < (row + 1) * width; at++) ways *= twins.ways[nodes[at]];
    sum += ways;
  }
  return sum;
}

/** Place of a node in a row, -1 where it is not in it. */
export function placeOf(nodes: Int32Array, start: number, width: number, node: number): number {
  for (let at = 0; at < width; at++) if (nodes[start + at] === node) return at;
  return -1;
}

/** Groups that have an embedding, in order. */
export function groupsOf(store: GraphStore, { width, rows, nodes }: Embeddings): Int32Array {
  const found = new GrowingList();
  let last = -1;
  for (let row = 0; row < rows; row++) {
    const group = store.group[nodes[row * width]];
    if (group !== last) found.push(group);
    last = group;
  }
  return found.taken();
}
