import fc from 'fast-check';
import { type LabelledGraph, labelledGraph } from '../../src/compare/similar/labelled-graph.ts';

/** Random graphs of `least` to `most` nodes with three kinds of label. */
export function graphs(most: number, least = 0): fc.Arbitrary<LabelledGraph> {
  return fc.integer({ min: least, max: most }).chain((n) =>
    fc
      .record({
        labels: fc.array(fc.constantFrom('a', 'b', 'c'), { minLength: n, maxLength: n }),
        edges:
          n < 2 ? fc.constant([]) : fc.array(fc.tuple(fc.nat(n - 1), fc.nat(n - 1)), { maxLength: 2 * n }),
      })
      .map(({ labels, edges }) => labelledGraph(labels, edges)),
  );
}

/** Least number of unit edits over every mapping of nodes, by trying them all. */
export function exhaustiveDistance(a: LabelledGraph, b: LabelledGraph): number {
  const edges = ({ neighbours }: LabelledGraph) =>
    neighbours.flatMap((all, x) => all.filter((y) => y > x).map((y) => [x, y]));
  const [inA, inB] = [edges(a), edges(b)];
  const joined = new Set(inB.flatMap(([x, y]) => [`${x} ${y}`, `${y} ${x}`]));
  const cost = (mapping: readonly number[]) => {
    const used = mapping.filter((to) => to >= 0);
    const kept = inA.filter(([x, y]) => joined.has(`${mapping[x]} ${mapping[y]}`)).length;
    const relabelled = mapping.filter((to, x) => to >= 0 && a.labels[x] !== b.labels[to]).length;
    const nodes = a.labels.length + b.labels.length - 2 * used.length;
    return relabelled + nodes + inA.length + inB.length - 2 * kept;
  };
  const go = (mapping: readonly number[]): number => {
    if (mapping.length === a.labels.length) return cost(mapping);
    let least = go([...mapping, -1]);
    for (const to of b.labels.keys())
      if (!mapping.includes(to)) least = Math.min(least, go([...mapping, to]));
    return least;
  };
  return go([]);
}
