import { oneOf, type Problem as PatternProblem } from '../../gql/language/problem.ts';
import { parseKept } from '../../gql/plan/parsed.ts';
import { CasebackError, type Problem } from '../../model/problems.ts';

/** Problems of a pattern's text as an error that leaves the service: each with place, excerpt and mend. */
export function badPattern(problems: readonly PatternProblem[]): CasebackError {
  const [{ line, column, message }] = problems;
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : '';
  return new CasebackError(
    'BAD_PATTERN',
    `Line ${line}, column ${column}: ${message}${more}`,
    problems.map(told),
  );
}

function told({ line, column, message, excerpt, near, expected }: PatternProblem): Problem {
  const mend =
    near.length > 0
      ? `did you mean ${oneOf(near.map((name) => `"${name}"`))}?`
      : expected.length > 0
        ? `expected ${oneOf(expected)}`
        : undefined;
  return { line, column, what: `${message}\n${excerpt}`, ...(mend && { mend }) };
}

/**
 * The text itself when it can be parsed.
 * @throws CasebackError BAD_PATTERN with every mistake
 */
export function parseable(text: string): string {
  const { query, errors } = parseKept(text);
  if (!query) throw badPattern(errors);
  return text;
}
