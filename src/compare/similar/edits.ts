import type { LabelledGraph } from './labelled-graph.ts';

/** The changes that make one graph into another by a given mapping of nodes, at a cost of 1 each. */
export interface Edits {
  readonly distance: number;
  /** For each node of the first graph the node it becomes in the second, -1 where it is taken out. */
  readonly becomes: readonly number[];
  /** Nodes whose label changes, taken out, put in; connections taken out, put in: they add up to the distance. */
  readonly relabelled: number;
  readonly nodesRemoved: number;
  readonly nodesAdded: number;
  readonly edgesRemoved: number;
  readonly edgesAdded: number;
}

/** The edits that a mapping of nodes implies. */
export function editsOf(a: LabelledGraph, b: LabelledGraph, becomes: readonly number[]): Edits {
  const kept = becomes.flatMap((to, node) => (to < 0 ? [] : [{ node, to }]));
  const inB = b.neighbours.map((all) => new Set(all));
  const edgesKept = edgesOf(a).filter(
    ([x, y]) => becomes[x] >= 0 && becomes[y] >= 0 && inB[becomes[x]].has(becomes[y]),
  );
  const relabelled = kept.filter(({ node, to }) => a.labels[node] !== b.labels[to]).length;
  const edits = {
    relabelled,
    nodesRemoved: a.labels.length - kept.length,
    nodesAdded: b.labels.length - kept.length,
    edgesRemoved: edgesOf(a).length - edgesKept.length,
    edgesAdded: edgesOf(b).length - edgesKept.length,
  };
  const distance = Object.values(edits).reduce((sum, value) => sum + value, 0);
  return { distance, becomes, ...edits };
}

/** Each edge once, the smaller node first. */
export function edgesOf({ neighbours }: LabelledGraph): readonly (readonly [number, number])[] {
  return neighbours.flatMap((all, x) => all.filter((y) => y > x).map((y) => [x, y] as const));
}
