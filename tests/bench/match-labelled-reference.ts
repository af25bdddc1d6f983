/**
 * A plain reference for the second benchmark: backtracking over the nodes of a query in a connected order, with the usual
 * filters. Candidates of a node have its label and no fewer neighbours (Ullmann, "An algorithm for subgraph isomorphism",
 * Journal of the ACM 23, 1976), the order goes on from what is matched, rarest first, and every edge back to what is matched
 * is looked up (Cordella et al., "A (sub)graph isomorphism algorithm for matching large graphs", IEEE TPAMI 26, 2004).
 * Nothing is shared with the engine: no text, no plan kept, no code written.
 */
import type { Labelled } from './match-labelled.ts';

/** A graph as the matcher wants it, built once. */
export class ReferenceGraph {
  readonly labels: readonly number[];
  readonly neighbours: readonly (readonly number[])[];
  readonly withLabel: ReadonlyMap<number, readonly number[]>;
  readonly #edges: ReadonlySet<number>;

  constructor({ labels, edges }: Labelled) {
    this.labels = labels;
    this.neighbours = neighboursOf({ labels, edges });
    const withLabel = new Map<number, number[]>();
    labels.forEach((label, v) => {
      const list = withLabel.get(label);
      if (list) list.push(v);
      else withLabel.set(label, [v]);
    });
    this.withLabel = withLabel;
    this.#edges = new Set(edges.flatMap(([a, b]) => [a * labels.length + b, b * labels.length + a]));
  }

  isEdge(a: number, b: number): boolean {
    return this.#edges.has(a * this.labels.length + b);
  }
}

/** Number of ways in which the query lies in the graph, all nodes different; counting ends at `most`. */
export function countEmbeddings(graph: ReferenceGraph, query: Labelled, most: number): number {
  const around = neighboursOf(query);
  const fits = (u: number, v: number): boolean =>
    graph.labels[v] === query.labels[u] && graph.neighbours[v]!.length >= around[u]!.length;
  const candidates = query.labels.map((label, u) =>
    (graph.withLabel.get(label) ?? []).filter((v) => fits(u, v)),
  );
  const order = connectedOrder(around, candidates);
  const place = new Map(order.map((u, i) => [u, i]));
  const back = order.map((u, i) => around[u]!.filter((w) => place.get(w)! < i));
  const image: number[] = query.labels.map(() => -1);
  const used = new Set<number>();
  let count = 0;
  const extend = (at: number): boolean => {
    if (at === order.length) return ++count < most;
    const u = order[at]!;
    const [first, ...others] = back[at]!;
    for (const v of first === undefined ? candidates[u]! : graph.neighbours[image[first]!]!) {
      if (used.has(v) || !fits(u, v)) continue;
      if (!others.every((w) => graph.isEdge(image[w]!, v))) continue;
      image[u] = v;
      used.add(v);
      const goesOn = extend(at + 1);
      used.delete(v);
      if (!goesOn) return false;
    }
    return true;
  };
  extend(0);
  return count;
}

/** Starts at the node with the fewest candidates; then whichever has most edges to what is chosen, and fewest candidates. */
function connectedOrder(
  around: readonly (readonly number[])[],
  candidates: readonly (readonly number[])[],
): number[] {
  const order: number[] = [];
  const chosen = new Set<number>();
  while (order.length < around.length) {
    let best = -1;
    let links = -1;
    around.forEach((neighbours, u) => {
      if (chosen.has(u)) return;
      const tied = neighbours.filter((w) => chosen.has(w)).length;
      const isBetter = tied > links || (tied === links && candidates[u]!.length < candidates[best]!.length);
      if (isBetter) [best, links] = [u, tied];
    });
    order.push(best);
    chosen.add(best);
  }
  return order;
}

function neighboursOf({ labels, edges }: Labelled): readonly (readonly number[])[] {
  const neighbours: number[][] = labels.map(() => []);
  for (const [a, b] of edges) {
    neighbours[a]!.push(b);
    neighbours[b]!.push(a);
  }
  return neighbours;
}
