import type { LabelledGraph } from './labelled-graph.ts';

/** A graph in compressed sparse rows: `arcs[v]` to `arcs[v + 1]` are the places in `heads` of the arcs that leave v. */
export interface PackedGraph {
  readonly size: number;
  /** Number of each node's label, the same for equal labels of both graphs of a pair. */
  readonly labels: Int32Array;
  readonly arcs: Int32Array;
  readonly heads: Int32Array;
  /** For each arc the place of the one in the other direction. */
  readonly back: Int32Array;
}

/** Two graphs whose labels have the same numbers. */
export interface PackedPair {
  readonly a: PackedGraph;
  readonly b: PackedGraph;
}

export function packedPair(a: LabelledGraph, b: LabelledGraph): PackedPair {
  const numbers = new Map<string, number>();
  const packed = ({ labels, neighbours }: LabelledGraph): PackedGraph => {
    const arcs = new Int32Array(labels.length + 1);
    neighbours.forEach((all, node) => {
      arcs[node + 1] = arcs[node] + all.length;
    });
    const heads = Int32Array.from(neighbours.flat());
    const back = new Int32Array(heads.length);
    neighbours.forEach((all, node) => {
      all.forEach((head, at) => {
        back[arcs[node] + at] = arcs[head] + neighbours[head].indexOf(node);
      });
    });
    return {
      size: labels.length,
      labels: Int32Array.from(labels, (label) => {
        const number = numbers.get(label) ?? numbers.size;
        numbers.set(label, number);
        return number;
      }),
      arcs,
      heads,
      back,
    };
  };
  return { a: packed(a), b: packed(b) };
}

/** Number of arcs that leave a node. */
export function degreeOf({ arcs }: PackedGraph, node: number): number {
  return arcs[node + 1] - arcs[node];
}

/** Changes that making one graph out of nothing and the other into nothing takes: nodes and edges of both. */
export function allChanges({ a, b }: PackedPair): number {
  return a.size + b.size + (a.heads.length + b.heads.length) / 2;
}

/** What mapping node x to node y saves by itself: the two nodes, less 1 where their labels differ. */
export function savedByNodes({ a, b }: PackedPair, x: number, y: number): number {
  return a.labels[x] === b.labels[y] ? 2 : 1;
}
