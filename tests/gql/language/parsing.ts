import { expect } from 'vitest';
import type {
  Expression,
  LabelExpression,
  MatchClause,
  PathFactor,
  Query,
} from '../../../src/gql/language/ast.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { describe as told } from '../../../src/gql/language/problem.ts';
import { withoutSpans } from './without-spans.ts';

/** The tree of a text that must be right. */
export function query(text: string): Query {
  const { query: tree, errors } = parsePattern(text);
  expect(errors.map(told).join('\n')).toBe('');
  return tree!;
}

/** The expression in `RETURN …`. */
export function expression(text: string): Expression {
  return query(`MATCH (a) RETURN ${text}`).result.items![0]!.value;
}

/** The same without places, for comparison. */
export function bare(text: string): unknown {
  return withoutSpans(expression(text));
}

/** The first path's parts. */
export function factors(path: string): readonly PathFactor[] {
  return (query(`MATCH ${path} RETURN 1 AS one`).clauses[0] as MatchClause).paths[0]!.factors;
}

export function labels(text: string): LabelExpression {
  const [node] = factors(`(:${text})`);
  return (node as { labels: LabelExpression }).labels;
}

/** `code line:column` of every error. */
export function errorsOf(text: string): string[] {
  return parsePattern(text).errors.map(({ code, line, column }) => `${code} ${line}:${column}`);
}
