/** Values of parameters, checked before anything looks at them. */

import { Source } from '../text/source.ts';
import { badPages } from './check/rules/page.ts';
import type { Query } from './language/ast.ts';
import { type Problem, problemAt } from './language/problem.ts';
import { QueryOptionError } from './options.ts';
import { notPlain } from './storage/plain-value.ts';

/** Values of all parameters, items of lists and fields of records included. */
const MOST = 50_000;
/** Characters of all texts among them, in UTF-16 units. */
const MOST_CHARACTERS = 1_000_000;

/**
 * Checks the values of parameters.
 * @throws QueryOptionError that names the parameter, the place within it, what stands there and what to give instead
 */
export function checkParameters(parameters: unknown): void {
  if (parameters === undefined) return;
  if (typeof parameters !== 'object' || parameters === null || Array.isArray(parameters)) {
    const what = Array.isArray(parameters)
      ? 'a list'
      : (JSON.stringify(parameters) ?? `a ${typeof parameters}`);
    throw new QueryOptionError(
      `parameters is ${what}; it has to be an object of values by name, such as { width: 5 }`,
    );
  }
  const values = Object.entries(parameters).map(([name, value]) => [`$${name}`, value] as const);
  const wrong = notPlain(values, { most: MOST, undefinedIsAbsent: false });
  if (wrong) throw new QueryOptionError(wrong);
  const characters = charactersIn(Object.values(parameters));
  if (characters > MOST_CHARACTERS)
    throw new QueryOptionError(
      `parameters hold texts of ${characters} characters; at most ${MOST_CHARACTERS} may be given`,
    );
}

function charactersIn(value: unknown): number {
  if (typeof value === 'string') return value.length;
  if (typeof value !== 'object' || value === null) return 0;
  let sum = 0;
  for (const inner of Array.isArray(value) ? value : Object.values(value)) sum += charactersIn(inner);
  return sum;
}

/** Problems of values that OFFSET and LIMIT take from parameters. */
export function pageProblems(
  query: Query,
  text: string,
  parameters: Readonly<Record<string, unknown>>,
): readonly Problem[] {
  return [...badPages(query, parameters)].map(({ span, message }) =>
    problemAt(new Source(text), 'page', span, message),
  );
}
