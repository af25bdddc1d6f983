import type { Problem as PatternProblem } from '../gql/gql.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import { fixFor } from '../pattern-texts/fix.ts';

/**
 * Checks that a text can be parsed as a pattern.
 * @throws CasebackError BAD_PATTERN with every mistake: its place, an excerpt and the fix
 */
export async function parseable(text: string): Promise<void> {
  const { syntaxProblems } = await import('../gql/gql.ts');
  const problems = syntaxProblems(text);
  if (problems.length > 0) throw badPattern(problems);
}

/**
 * Runs work on patterns; errors in a pattern's text become bad input.
 * @throws CasebackError BAD_PATTERN in place of the engine's own error
 */
export async function mistakesTold<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof Error) || error instanceof CasebackError) throw error;
    const { PatternError, QueryOptionError } = await import('../gql/gql.ts');
    if (error instanceof QueryOptionError) throw new CasebackError('BAD_PATTERN', error.message);
    throw error instanceof PatternError ? badPattern(error.problems) : error;
  }
}

function badPattern(problems: readonly PatternProblem[]): CasebackError {
  const [{ line, column, message }] = problems;
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : '';
  return new CasebackError(
    'BAD_PATTERN',
    `Line ${line}, column ${column}: ${message}${more}`,
    problems.map((problem): Problem => {
      const fix = fixFor(problem);
      return {
        line: problem.line,
        column: problem.column,
        what: `${problem.message}\n${problem.excerpt}`,
        ...(fix && { fix }),
      };
    }),
  );
}
