/** Asks the engine in every way, and the meaning of the language told without speed, and compares. */
import { expect } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import { runPattern } from '../../../src/gql/engine.ts';
import type { Value } from '../../../src/gql/expression/value.ts';
import { buildGraph, PatternGraph } from '../../../src/gql/graph.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import type { QueryOptions } from '../../../src/gql/options.ts';
import type { SmallGraph } from '../random-query.ts';
import { SeveralWays } from './clauses.ts';
import { evaluateNaively, type OracleAnswer } from './evaluate.ts';
import type { OracleGraph } from './graph.ts';

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
  if ((value as { kind?: string }).kind === 'record')
    return plain((value as unknown as { fields: unknown }).fields);
  const element = value as { kind?: string; id?: string; key?: string; elements?: unknown[] };
  if (element.kind === 'path') return `path${plain(element.elements)}`;
  if (element.kind === 'node' || element.kind === 'edge')
    return `${element.kind} ${element.id ?? element.key}`;
  const fields = Object.entries(value).map(([key, field]) => `${key}: ${plain(field)}`);
  return `{${fields.sort().join()}}`;
}

const lines = (rows: readonly (readonly (Value | unknown)[])[]): string[] =>
  rows.map((row) => row.map(plain).join(' | ')).sort();

/** The nodes spread over three segments, each edge stored with its source. */
function spread({ nodes, edges }: SmallGraph): PatternGraph {
  const graph = new PatternGraph();
  const home = (id: string) => nodes.findIndex((node) => node.id === id) % 3;
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
  { name: 'step by step, one segment', spread: false, options: { strategy: 'steps' } },
  { name: 'step by step, across segments', spread: true, options: { strategy: 'steps' } },
  { name: 'in written code, one segment', spread: false, options: { strategy: 'loops' } },
  { name: 'in written code, across segments', spread: true, options: { strategy: 'loops' } },
  { name: 'naive, one segment', spread: false, options: { naive: true } },
  { name: 'planned, across segments', spread: true, options: {} },
  { name: 'naive, across segments', spread: true, options: { naive: true } },
];

/** Compares the rows of a text; answers how many there are, or undefined when the text does not pass the checks. */
export async function comparedRows(
  small: SmallGraph,
  text: string,
  distinctNodes: boolean,
): Promise<number | undefined> {
  const { query } = parsePattern(text);
  expect(query, text).toBeDefined();
  const errors = checkQuery(query!, text, { parameters: PARAMETERS }).filter((p) => p.severity === 'error');
  if (errors.length > 0) return undefined;
  let expected: OracleAnswer;
  try {
    expected = evaluateNaively(query!, oracleGraph(small), PARAMETERS, { distinctNodes });
  } catch (error) {
    if (error instanceof SeveralWays) return undefined;
    throw error;
  }
  for (const way of WAYS) {
    const graph = way.spread ? spread(small) : buildGraph(small.nodes, small.edges);
    const answer = await runPattern(graph, text, {
      parameters: PARAMETERS,
      distinctNodes,
      where: 'here',
      budgets: { rows: 1e6, time: 60_000 },
      ...way.options,
    });
    const context = `${way.name}: ${text}\n${JSON.stringify(small)}`;
    expect(answer.complete, context).toBe(true);
    expect(answer.columns, context).toEqual(expected.columns);
    if (text.includes('LIMIT')) expect(answer.rows.length, context).toBe(expected.rows.length);
    else expect(lines(answer.rows), context).toEqual(lines(expected.rows));
  }
  return expected.rows.length;
}
