/**
 * The engine against the meaning of the language told without speed (`oracle/`), on random graphs and queries.
 */
import { describe, expect, test } from 'vitest';
import { checkQuery } from '../../src/gql/check/check.ts';
import { runPattern } from '../../src/gql/engine.ts';
import type { Value } from '../../src/gql/expression/value.ts';
import { buildGraph, PatternGraph } from '../../src/gql/graph.ts';
import { parsePattern } from '../../src/gql/language/parse.ts';
import type { QueryOptions } from '../../src/gql/options.ts';
import { seeded } from '../bench/match-archive.ts';
import { evaluateNaively } from './oracle/evaluate.ts';
import type { OracleGraph } from './oracle/graph.ts';
import { QueryWriter, type SmallGraph, smallGraph } from './random-query.ts';

const PARAMETERS = { t: 'y' };

function oracleGraph({ nodes, edges }: SmallGraph): OracleGraph {
  return {
    nodes: nodes.map(({ id, labels, properties }) => ({
      id,
      labels: labels as string[],
      properties: { ...properties },
    })),
    edges: edges.map(({ id, source, target, label, directed, properties }) => ({
      id,
      source,
      target,
      label,
      directed,
      properties: { ...properties },
    })),
  };
}

/** A value of either side as text: elements by their ids. */
function plain(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(plain).join()}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value ?? null);
  const element = value as { kind?: string; id?: string; key?: string; elements?: unknown[] };
  if (element.kind === 'path') return `path${plain(element.elements)}`;
  if (element.kind === 'node' || element.kind === 'edge')
    return `${element.kind} ${element.id ?? element.key}`;
  return JSON.stringify(value);
}

const lines = (rows: readonly (readonly (Value | unknown)[])[], ordered: boolean): string[] => {
  const all = rows.map((row) => row.map(plain).join(' | '));
  return ordered ? all : all.sort();
};

/** The nodes spread over three segments, each edge stored with its source. */
function spread({ nodes, edges }: SmallGraph): PatternGraph {
  const graph = new PatternGraph();
  const home = (id: string) => Number(id.slice(1)) % 3;
  for (let s = 0; s < 3; s++)
    graph.putSegment(`s${s}`, {
      nodes: nodes.filter(({ id }) => home(id) === s),
      edges: edges.filter(({ source }) => home(source) === s),
    });
  return graph;
}

const WAYS: readonly { readonly name: string; readonly spread: boolean; readonly options: QueryOptions }[] = [
  { name: 'planned, one segment', spread: false, options: {} },
  { name: 'candidate sets, one segment', spread: false, options: { strategy: 'candidates' } },
  { name: 'candidate sets, across segments', spread: true, options: { strategy: 'candidates' } },
  { name: 'naive, one segment', spread: false, options: { naive: true } },
  { name: 'planned, across segments', spread: true, options: {} },
  { name: 'naive, across segments', spread: true, options: { naive: true } },
];

describe.each([false, true])('distinct nodes: %s', (distinctNodes) => {
  test.each(Array.from({ length: 10 }, (_, i) => i))('random queries, part %i', async (part) => {
    const random = seeded(part * 7919 + (distinctNodes ? 77 : 5));
    const writer = new QueryWriter(random, distinctNodes);
    let asked = 0;
    let withRows = 0;
    for (let i = 0; i < 60; i++) {
      const small = smallGraph(random, 5);
      const text = writer.query();
      const { query } = parsePattern(text);
      expect(query, text).toBeDefined();
      const errors = checkQuery(query!, text, { parameters: PARAMETERS }).filter(
        (p) => p.severity === 'error',
      );
      if (errors.length > 0) continue;
      asked++;
      const expected = evaluateNaively(query!, oracleGraph(small), PARAMETERS, { distinctNodes });
      if (expected.rows.length > 0) withRows++;
      const ordered = false;
      for (const way of WAYS) {
        const graph = way.spread ? spread(small) : buildGraph(small.nodes, small.edges);
        const answer = await runPattern(graph, text, {
          parameters: PARAMETERS,
          distinctNodes,
          where: 'here',
          budgets: { rows: 1e6 },
          ...way.options,
        });
        const context = `${way.name}: ${text}\n${JSON.stringify(small)}`;
        expect(answer.complete, context).toBe(true);
        expect(answer.columns, context).toEqual(expected.columns);
        if (text.includes('LIMIT')) expect(answer.rows.length, context).toBe(expected.rows.length);
        else expect(lines(answer.rows, ordered), context).toEqual(lines(expected.rows, ordered));
      }
    }
    expect(asked).toBeGreaterThan(20);
    expect(withRows).toBeGreaterThan(8);
  });
});
