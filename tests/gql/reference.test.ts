/**
 * Counts against `tests/reference/graph.json`: computed with NetworkX (see "how" and "sources" in the file).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { countPattern } from '../../src/gql/engine.ts';
import { buildGraph, type PatternGraph } from '../../src/gql/graph.ts';

interface Shape {
  readonly nodes: number;
  readonly edges: readonly (readonly [number, number])[];
}

const reference = JSON.parse(readFileSync('tests/reference/graph.json', 'utf8')) as {
  graphs: Record<string, Shape>;
  patterns: Record<string, Shape>;
  counts: Record<string, Record<string, { node_distinct: number; induced: number; homomorphisms: number }>>;
  labelled: Shape & {
    labels: number[];
    cases: { pattern: string; labels: number[]; node_distinct: number }[];
  };
  reachable: { edges: [number, number][]; descendants: Record<string, number[]> };
};

function graphOf({ nodes, edges }: Shape, labels?: readonly number[]): PatternGraph {
  return buildGraph(
    Array.from({ length: nodes }, (_, i) => ({ id: String(i), labels: labels ? [`L${labels[i]}`] : [] })),
    edges.map(([a, b]) => ({ source: String(a), target: String(b), directed: false })),
  );
}

function textOf(mode: string, { edges }: Shape, labels?: readonly number[], where = ''): string {
  const node = (n: number) => `(n${n}${labels ? `:L${labels[n]}` : ''})`;
  return `MATCH ${mode} ${edges.map(([a, b]) => `${node(a)}~${node(b)}`).join(', ')} ${where} RETURN COUNT(*) AS n`;
}

/** Pairs of pattern nodes without an edge, as conditions that the graph has none either. */
function withoutOtherEdges({ nodes, edges }: Shape): string {
  const joined = new Set(edges.map(([a, b]) => `${Math.min(a, b)} ${Math.max(a, b)}`));
  const conditions: string[] = [];
  for (let a = 0; a < nodes; a++)
    for (let b = a + 1; b < nodes; b++)
      if (!joined.has(`${a} ${b}`)) conditions.push(`NOT EXISTS { (n${a})~(n${b}) }`);
  return conditions.length > 0 ? `WHERE ${conditions.join(' AND ')}` : '';
}

const ways = [
  { name: 'planned', options: {} },
  { name: 'candidate sets', options: { strategy: 'candidates' as const } },
  { name: 'naive', options: { naive: true } },
  { name: 'on workers', options: { where: 'workers' as const } },
];

describe.each(Object.entries(reference.counts))('in %s', (graphName, counts) => {
  const graph = graphOf(reference.graphs[graphName]!);
  test.each(Object.entries(counts))('%s', async (patternName, count) => {
    const pattern = reference.patterns[patternName]!;
    for (const { options } of ways) {
      const apart = { ...options, distinctNodes: true, where: options.where ?? ('here' as const) };
      const joined = { ...options, where: options.where ?? ('here' as const) };
      const distinct = await countPattern(graph, textOf('', pattern), apart);
      expect(distinct.count).toBe(count.node_distinct);
      const free = await countPattern(graph, textOf('REPEATABLE ELEMENTS', pattern), joined);
      expect(free.count).toBe(count.homomorphisms);
      const alone = await countPattern(
        graph,
        textOf('', pattern, undefined, withoutOtherEdges(pattern)),
        apart,
      );
      expect(alone.count).toBe(count.induced);
    }
  });
});

describe('with labels', () => {
  const graph = graphOf(reference.labelled, reference.labelled.labels);
  test.each(reference.labelled.cases.map((c) => [c.pattern, c.labels.join(), c] as const))(
    '%s of %s',
    async (_, __, c) => {
      for (const { options } of ways) {
        const text = textOf('', reference.patterns[c.pattern]!, c.labels);
        const { count } = await countPattern(graph, text, { where: 'here', ...options, distinctNodes: true });
        expect(count).toBe(c.node_distinct);
      }
    },
  );
});

describe('reachable nodes', () => {
  const { edges, descendants } = reference.reachable;
  const graph = buildGraph(
    Object.keys(descendants).map((id) => ({ id, properties: { id } })),
    edges.map(([a, b]) => ({ source: String(a), target: String(b) })),
  );
  test.each(Object.entries(descendants))('from %s', async (id, expected) => {
    const { runPattern } = await import('../../src/gql/engine.ts');
    const answer = await runPattern(
      graph,
      'MATCH (a)->+(b) WHERE a.id = $id RETURN DISTINCT b.id AS id ORDER BY id',
      { parameters: { id }, where: 'here' },
    );
    expect(answer.rows.map(([b]) => Number(b))).toEqual(expected);
  });
});
