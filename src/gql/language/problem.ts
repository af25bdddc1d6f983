/** What is wrong with a pattern's text: one shape for the lexer, the parser and the checks. */
import { excerpt } from '../../text/excerpt.ts';
import { oneOf } from '../../text/near.ts';
import type { Source } from '../../text/source.ts';
import type { Span } from './ast.ts';

export interface Problem {
  readonly code: ProblemCode;
  readonly severity: 'error' | 'warning';
  /** One or two sentences: what is wrong and the fix. Near names and place are added by `describe`. */
  readonly message: string;
  readonly span: Span;
  /** From 1, in characters. */
  readonly line: number;
  readonly column: number;
  /** The line and carets below the place. */
  readonly excerpt: string;
  /** What is expected here: `")"`, `a label`, `WHERE`. Empty when unknown. */
  readonly expected: readonly string[];
  /** Known names like the one that is not known, nearest first. */
  readonly near: readonly string[];
}

/**
 * Codes that programs may rely on. The first group comes from `parsePattern`, the second from `checkQuery`.
 */
export type ProblemCode =
  | 'text-too-long'
  | 'nested-too-deeply'
  | 'unexpected-character'
  | 'unterminated'
  | 'bad-literal'
  | 'comment-for-edge'
  | 'syntax'
  | 'not-supported'
  | 'reserved-word'
  | 'quantifier-bounds'
  | 'unbounded-quantifier'
  | 'quantified-path'
  | 'too-large'
  | 'path-search'
  | 'variable-kind'
  | 'variable-redeclared'
  | 'group-variable'
  | 'conditional-variable'
  | 'undeclared-variable'
  | 'element-expected'
  | 'unknown-label'
  | 'unknown-edge-label'
  | 'unknown-property'
  | 'unknown-function'
  | 'argument-count'
  | 'parameter-missing'
  | 'aggregate-misplaced'
  | 'grouping'
  | 'return-items'
  | 'sort-key'
  | 'page'
  | 'rows-not-by-matches'
  | 'several-values'
  | 'type-mismatch'
  | 'never-true'
  | 'not-in-sql';

export interface ProblemDetails {
  readonly severity?: 'error' | 'warning';
  readonly expected?: readonly string[];
  readonly near?: readonly string[];
}

/** A problem at a place of the source. */
export function problemAt(
  source: Source,
  code: ProblemCode,
  span: Span,
  message: string,
  details: ProblemDetails = {},
): Problem {
  return {
    code,
    severity: details.severity ?? 'error',
    message,
    span,
    ...source.position(span.start),
    excerpt: excerpt(source, span.start, span.end),
    expected: details.expected ?? [],
    near: details.near ?? [],
  };
}

/** The problem as people read it: message, near names, expected, place and excerpt. */
export function describe(problem: Problem): string {
  return `${describeInLine(problem)}\n${problem.excerpt}`;
}

/** The same without the excerpt, in one line. */
export function describeInLine({ message, near, expected, line, column }: Problem): string {
  const mean = near.length > 0 ? ` Did you mean ${oneOf(near.map((name) => `"${name}"`))}?` : '';
  const wanted = expected.length > 0 ? ` Expected ${oneOf(expected)}.` : '';
  return `Line ${line}, column ${column}: ${message}${mean}${wanted}`;
}
