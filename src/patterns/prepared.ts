import { loadFunctions, PatternError, type PreparedPattern, prepare, rowsNotByMatches } from '../gql/gql.ts';
import type { PatternQuestion } from './answer.ts';
import { VOCABULARY } from './vocabulary.ts';

/** Module of our functions, for worker threads as well. */
const FUNCTIONS = new URL('./functions.ts', import.meta.url).href;

/**
 * The pattern of a question, parsed and checked with the names that any archive may have; it reveals nothing about the
 * content of an archive.
 * @throws PatternError when the text is not a valid pattern over the archive
 */
export async function preparedPattern({
  text,
  parameters,
}: Pick<PatternQuestion, 'text' | 'parameters'>): Promise<PreparedPattern> {
  await loadFunctions(FUNCTIONS);
  return prepare(text, {
    vocabulary: VOCABULARY,
    unknownNames: 'error',
    functions: FUNCTIONS,
    parameters: Object.keys(parameters ?? {}),
  });
}

/**
 * The same for a question with a probability, which is that of a match: not for texts that have rows without one.
 * @throws PatternError as well when that the text has a row is not that something matches
 */
export async function preparedMatches(
  question: Pick<PatternQuestion, 'text' | 'parameters'>,
): Promise<PreparedPattern> {
  const pattern = await preparedPattern(question);
  const problems = rowsNotByMatches(pattern, question.parameters);
  if (problems.length > 0) throw new PatternError(problems);
  return pattern;
}
