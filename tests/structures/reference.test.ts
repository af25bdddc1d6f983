import { describe, expect, test } from 'vitest';
import { graphStore, type InputGraph } from '../../src/structures/graph-store.ts';
import { type Mined, Miner } from '../../src/structures/miner.ts';
import reference from '../reference/graph.json' with { type: 'json' };
import { canonical } from './brute-force.ts';
import { COMPOUNDS } from './compounds.ts';

type Shape = { readonly nodes: number; readonly edges: readonly (readonly number[])[] };
const SHAPES = { ...reference.graphs, ...reference.patterns } as Readonly<Record<string, Shape>>;
const COUNTS = reference.counts as Readonly<Record<string, Record<string, { node_distinct: number }>>>;
const NAMES = Object.keys(COUNTS);

function graphOf(name: string, group = 0, labels?: readonly number[]): InputGraph {
  const { nodes, edges } = SHAPES[name];
  return {
    group,
    labels: Array.from({ length: nodes }, (_, node) => [labels?.[node] ?? 0]),
    edges: edges.map(([a, b]) => [a, b, 0] as const),
  };
}

function all(graphs: readonly InputGraph[], maxSize: number, maxEdges?: number): readonly Mined[] {
  const miner = new Miner(graphStore(graphs), {
    minSupport: 1,
    minSize: 2,
    maxSize,
    closedOnly: false,
    ...(maxEdges === undefined ? {} : { maxEdges }),
  });
  while (miner.step());
  return miner.found;
}

const nameOf = ({ labels, edges }: Mined) =>
  canonical({ labels, edges: edges.map(({ from, to, link }) => [from, to, link]) });
const nameOfPattern = (name: string, labels?: readonly number[]) =>
  canonical({
    labels: labels ?? new Array<number>(SHAPES[name].nodes).fill(0),
    edges: SHAPES[name].edges.map(([a, b]) => [a, b, 0]),
  });

// Counts of maps by NetworkX 2.8.8 (GraphMatcher) on published graphs: tests/reference/graph.json says which.
describe('embeddings and support against the counts of a reference library', () => {
  const PATTERNS = Object.keys(reference.patterns).filter((name) => SHAPES[name].nodes <= 4);

  test.each(NAMES)('%s', (name) => {
    const found = new Map(all([graphOf(name)], 4).map((one) => [nameOf(one), one.embeddings]));
    for (const pattern of PATTERNS)
      expect(found.get(nameOfPattern(pattern)) ?? 0).toBe(COUNTS[name][pattern].node_distinct);
  });

  test('a pattern is supported by exactly those graphs that have a map of it', () => {
    const found = new Map(
      all(
        NAMES.map((name, group) => graphOf(name, group)),
        4,
      ).map((one) => [nameOf(one), [...one.groups]]),
    );
    for (const pattern of PATTERNS) {
      const having = NAMES.flatMap((name, group) => (COUNTS[name][pattern].node_distinct > 0 ? [group] : []));
      expect(found.get(nameOfPattern(pattern)) ?? []).toEqual(having);
    }
  });

  test('a random graph of 60 nodes with labels', () => {
    const { nodes, labels, edges, cases } = reference.labelled;
    expect(labels).toHaveLength(nodes);
    const graph = {
      group: 0,
      labels: labels.map((label) => [label]),
      edges: edges.map(([a, b]) => [a, b, 0] as const),
    };
    const found = new Map(all([graph], 4).map((one) => [nameOf(one), one.embeddings]));
    const small = cases.filter(({ pattern }) => SHAPES[pattern].nodes <= 4);
    expect(small.length).toBeGreaterThan(15);
    for (const { pattern, labels: own, node_distinct } of small)
      expect(found.get(nameOfPattern(pattern, own)) ?? 0).toBe(node_distinct);
  });
});

// Worked out once with NetworkX 3.6.1: every connected set of up to six bonds of each compound, gathered by
// `is_isomorphic`; closed by `GraphMatcher.subgraph_is_monomorphic` between sets of equal support.
describe('five published chemical compounds, up to six bonds', () => {
  test.each([
    [2, [6, 8, 10, 10, 14, 15], 21],
    [3, [4, 3, 1, 1, 1, 1], 5],
    [4, [1, 0, 0, 0, 0, 0], 1],
    [5, [1, 0, 0, 0, 0, 0], 1],
  ])('in at least %d compounds', (minSupport, byBonds, closed) => {
    const count = (closedOnly: boolean) => {
      const miner = new Miner(graphStore(COMPOUNDS), {
        minSupport,
        minSize: 2,
        maxSize: 7,
        maxEdges: 6,
        closedOnly,
      });
      while (miner.step());
      return miner.found;
    };
    const frequent = count(false);
    expect(byBonds.map((_, at) => frequent.filter(({ edges }) => edges.length === at + 1).length)).toEqual(
      byBonds,
    );
    expect(count(true)).toHaveLength(closed);
  });
});
