/** An undirected simple graph whose nodes, 0 to n - 1, carry a label each. */
export interface LabelledGraph {
  readonly labels: readonly string[];
  /** Neighbours of each node, each named once, none its own. */
  readonly neighbours: readonly (readonly number[])[];
}

/** A graph from its edges; an edge named twice counts once, one from a node to itself not at all. */
export function labelledGraph(
  labels: readonly string[],
  edges: readonly (readonly [number, number])[],
): LabelledGraph {
  const met = labels.map(() => new Set<number>());
  for (const [a, b] of edges) {
    if (a === b) continue;
    met[a].add(b);
    met[b].add(a);
  }
  return { labels, neighbours: met.map((one) => [...one].sort((a, b) => a - b)) };
}
