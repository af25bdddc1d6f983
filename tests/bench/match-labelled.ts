/**
 * A generated labelled graph with skewed degrees, many triangles and skewed labels, and queries cut out of it.
 * Growth with preferential attachment and triad formation: Holme and Kim, "Growing scale-free networks with tunable
 * clustering", Physical Review E 65, 026107 (2002). Queries are connected subgraphs grown by a random walk, the
 * usual way in the subgraph matching literature (Sun and Luo, SIGMOD 2020, section 4.1).
 */
import { seeded } from './match-archive.ts';

export interface Labelled {
  readonly labels: readonly number[];
  readonly edges: readonly (readonly [number, number])[];
}

export function labelledGraph(nodes = 10_000, edgeCount = 35_000, labelCount = 300, seed = 11): Labelled {
  const random = seeded(seed);
  const around: Set<number>[] = Array.from({ length: nodes }, () => new Set());
  const ends: number[] = [];
  const edges: [number, number][] = [];
  const join = (a: number, b: number): boolean => {
    if (a === b || around[a]!.has(b)) return false;
    around[a]!.add(b);
    around[b]!.add(a);
    ends.push(a, b);
    edges.push([a, b]);
    return true;
  };
  for (let a = 0; a < 5; a++) for (let b = 0; b < a; b++) join(a, b);
  for (let v = 5; v < nodes; v++) {
    const wanted = Math.round((edgeCount - edges.length) / (nodes - v) + random() - 0.5);
    let target = ends[Math.floor(random() * ends.length)]!;
    for (let k = 0, tries = 0; k < wanted && tries < 50; tries++) {
      const neighbours = [...around[target]!];
      const other =
        k > 0 && random() < 0.8
          ? neighbours[Math.floor(random() * neighbours.length)]!
          : ends[Math.floor(random() * ends.length)]!;
      if (!join(v, other)) continue;
      target = other;
      k++;
    }
  }
  while (edges.length < edgeCount) join(Math.floor(random() * nodes), Math.floor(random() * nodes));
  // Zipf's law with exponent 0.9.
  const shares = Array.from({ length: labelCount }, (_, i) => 1 / (i + 1) ** 0.9);
  const total = shares.reduce((a, b) => a + b, 0);
  const labels = Array.from({ length: nodes }, () => {
    let left = random() * total;
    for (let l = 0; l < labelCount; l++) {
      left -= shares[l]!;
      if (left < 0) return l;
    }
    return labelCount - 1;
  });
  return { labels, edges };
}

/** Connected subgraphs with `size` nodes and `least` to `most` edges, all labels kept. */
export function queries(
  graph: Labelled,
  count = 200,
  size = 16,
  least = 24,
  most = 41,
  seed = 5,
): Labelled[] {
  const random = seeded(seed);
  const around: number[][] = graph.labels.map(() => []);
  for (const [a, b] of graph.edges) {
    around[a]!.push(b);
    around[b]!.push(a);
  }
  const found: Labelled[] = [];
  while (found.length < count) {
    const picked = new Set<number>();
    let at = Math.floor(random() * graph.labels.length);
    picked.add(at);
    for (let step = 0; step < 2000 && picked.size < size; step++) {
      at = around[at]![Math.floor(random() * around[at]!.length)]!;
      picked.add(at);
    }
    if (picked.size < size) continue;
    const list = [...picked];
    const place = new Map(list.map((v, i) => [v, i]));
    const edges: [number, number][] = [];
    for (const v of list)
      for (const w of around[v]!) if (v < w && place.has(w)) edges.push([place.get(v)!, place.get(w)!]);
    if (edges.length < least || edges.length > most) continue;
    found.push({ labels: list.map((v) => graph.labels[v]!), edges });
  }
  return found;
}
