import { expect } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { describe as told } from '../../../src/gql/language/problem.ts';
import { evaluateNaively, type OracleAnswer, type OracleOptions } from './evaluate.ts';
import type { OracleEdge, OracleGraph } from './graph.ts';

/** The answer to a text that must be right. */
export function ask(
  graph: OracleGraph,
  text: string,
  parameters: Readonly<Record<string, unknown>> = {},
  options: OracleOptions = {},
): OracleAnswer {
  const { query, errors } = parsePattern(text);
  const problems = query ? checkQuery(query, text, { parameters }) : errors;
  expect(
    problems
      .filter(({ severity }) => severity === 'error')
      .map(told)
      .join('\n'),
  ).toBe('');
  return evaluateNaively(query!, graph, parameters, options);
}

/** Rows with nodes and edges as their ids. */
export function rows(
  graph: OracleGraph,
  text: string,
  parameters?: Readonly<Record<string, unknown>>,
): unknown[][] {
  return ask(graph, text, parameters).rows.map((row) => row.map(plain));
}

function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  if ('key' in value) return value.key;
  return 'elements' in value ? plain(value.elements) : value;
}

/** The number of matches. */
export function count(graph: OracleGraph, pattern: string, options?: OracleOptions): number {
  return ask(graph, `MATCH ${pattern} RETURN COUNT(*) AS n`, {}, options).rows[0]![0] as number;
}

/** `a->b`, `a~b` with a label behind a colon: `e1 a->b:L`. */
export function edges(...texts: readonly string[]): OracleEdge[] {
  return texts.map((text) => {
    const parts = /^(\w+) (\w+)(->|~)(\w+)(?::(\w+))?$/.exec(text)!;
    return {
      id: parts[1]!,
      source: parts[2]!,
      target: parts[4]!,
      label: parts[5],
      directed: parts[3] === '->',
    };
  });
}
