import { loadFunctions, PatternError, type PreparedPattern, prepare, rowsNotByMatches } from '../gql/gql.ts';
import { VOCABULARY } from './vocabulary.ts';

/** A text over the archive, and values of its parameters by name. */
export interface PatternText {
  readonly text: string;
  readonly parameters?: Readonly<Record<string, unknown>> | undefined;
}

/** Module of our functions, for worker threads as well. */
export const FUNCTIONS = new URL('./functions.ts', import.meta.url).href;

/**
 * The pattern of a question, parsed and checked with the names that any archive may have; it reveals nothing about the
 * content of an archive.
 * @throws PatternError when the text is not a valid pattern over the archive
 */
export async function preparedPattern(question: PatternText): Promise<PreparedPattern> {
  await loadFunctions(FUNCTIONS);
  return preparedNow(question);
}

/**
 * The same for a question with a probability, which is that of a match: not for texts that have rows without one.
 * @throws PatternError as well when that the text has a row is not that something matches
 */
export async function preparedMatches(question: PatternText): Promise<PreparedPattern> {
  await loadFunctions(FUNCTIONS);
  return preparedMatchesNow(question);
}

/** The same at once, for whoever has loaded the functions. */
export function preparedMatchesNow(question: PatternText): PreparedPattern {
  const pattern = preparedNow(question);
  const problems = rowsNotByMatches(pattern, question.parameters);
  if (problems.length > 0) throw new PatternError(problems);
  return pattern;
}

function preparedNow({ text, parameters }: PatternText): PreparedPattern {
  return prepare(text, {
    vocabulary: VOCABULARY,
    unknownNames: 'error',
    functions: FUNCTIONS,
    parameters: Object.keys(parameters ?? {}),
  });
}
