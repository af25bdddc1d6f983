import { expect } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import type { CheckOptions } from '../../../src/gql/check/rule.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { type Problem, describe as told } from '../../../src/gql/language/problem.ts';

export function problemsOf(text: string, options?: CheckOptions): readonly Problem[] {
  const { query, errors } = parsePattern(text);
  expect(errors.map(told).join('\n')).toBe('');
  return checkQuery(query!, text, options);
}

/** The text has neither errors nor warnings. */
export function expectValid(text: string, options?: CheckOptions): void {
  expect(problemsOf(text, options).map(told).join('\n')).toBe('');
}

/** `code "what is marked"` of every problem, in the order of the text. */
export function expectProblems(text: string, expected: readonly string[], options?: CheckOptions): void {
  const found = problemsOf(text, options).map(
    ({ code, span }) => `${code} "${text.slice(span.start, span.end)}"`,
  );
  expect(found).toEqual(expected);
}
