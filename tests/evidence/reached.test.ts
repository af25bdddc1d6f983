import { alg, Graph } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { DirectedGraph } from 'graphology';
import { expect, test } from 'vitest';
import { reachedFrom } from '../../src/evidence/impact-of.ts';

// Held against the shortest paths of another library (@dagrejs/graphlib, Dijkstra from every node), which shares no code
// with the graphs that the archive uses.

const NODES = 9;
const name = (at: number) => `n${at}`;
const anyEdges = fc.uniqueArray(
  fc.tuple(fc.integer({ min: 0, max: NODES - 1 }), fc.integer({ min: 0, max: NODES - 1 })),
  { maxLength: 24, selector: ([a, b]) => `${a}>${b}` },
);

test('what a node supports is the transitive closure, by distance, with an existing path of that length', () => {
  fc.assert(
    fc.property(anyEdges, (edges) => {
      const ours = new DirectedGraph();
      const theirs = new Graph({ directed: true });
      for (let at = 0; at < NODES; at++) {
        ours.addNode(name(at));
        theirs.setNode(name(at));
      }
      for (const [from, to] of edges) {
        ours.mergeEdge(name(from), name(to));
        theirs.setEdge(name(from), name(to));
      }
      const distances = alg.dijkstraAll(theirs);
      for (let start = 0; start < NODES; start++) {
        const reached = reachedFrom(ours, name(start));
        const expected = Object.entries(distances[name(start)] ?? {})
          .filter(([to, { distance }]) => to !== name(start) && Number.isFinite(distance))
          .map(([to, { distance }]) => [to, distance] as const)
          .sort((a, b) => a[1] - b[1] || (a[0] < b[0] ? -1 : 1));
        expect(reached.map(({ id, generation }) => [id, generation])).toEqual(expected);
        for (const { id, generation, path } of reached) {
          expect(path).toHaveLength(generation + 1);
          expect([path[0], path.at(-1)]).toEqual([name(start), id]);
          path.slice(1).forEach((to, i) => {
            expect(theirs.hasEdge(path[i], to)).toBe(true);
          });
        }
      }
    }),
    { numRuns: 200 },
  );
});

test('a node that supports itself through others is not listed among what it supports', () => {
  const graph = new DirectedGraph();
  for (const id of ['a', 'b', 'c']) graph.addNode(id);
  graph.addEdge('a', 'b');
  graph.addEdge('b', 'c');
  graph.addEdge('c', 'a');
  expect(reachedFrom(graph, 'a').map(({ id }) => id)).toEqual(['b', 'c']);
});
