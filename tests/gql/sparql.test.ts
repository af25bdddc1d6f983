/**
 * A thousand random graphs with random patterns against Oxigraph (npm, development only), an independent engine for
 * SPARQL 1.1. How the two languages differ stands in `sparql.ts`.
 */
import oxigraph from 'oxigraph';
import { describe, expect, test } from 'vitest';
import { countPattern } from '../../src/gql/engine.ts';
import { buildGraph } from '../../src/gql/graph.ts';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';
import { smallGraph } from './random-query.ts';
import { triplesOf, withProperties, writePattern } from './sparql.ts';

const PARTS = 10;
const GRAPHS_A_PART = 100;
const PATTERNS_A_GRAPH = 2;

describe('counts equal those of an independent engine', () => {
  test.each(Array.from({ length: PARTS }, (_, i) => i))('part %i', async () => {
    const random = seeded(testSeed());
    let nonZero = 0;
    for (let g = 0; g < GRAPHS_A_PART; g++) {
      const small = smallGraph(random, 7);
      const store = new oxigraph.Store();
      store.load(triplesOf(small), { format: 'application/n-triples' });
      const graph = buildGraph(small.nodes, small.edges);
      for (let p = 0; p < PATTERNS_A_GRAPH; p++) {
        const { gql, sparql, distinctNodes } = writePattern(random);
        const text = withProperties(sparql);
        const [row] = store.query(text) as Map<string, { value: string }>[];
        const expected = Number(row!.get('n')!.value);
        if (expected > 0) nonZero++;
        const { count } = await countPattern(graph, gql, { distinctNodes, where: 'here' });
        expect(count, `${gql}\n${text}\n${JSON.stringify(small)}`).toBe(expected);
      }
    }
    expect(nonZero).toBeGreaterThan(12);
  });
});
