import { loadFunctions, type PreparedPattern, prepare } from '../gql/gql.ts';
import type { PatternQuestion } from './answer.ts';
import { VOCABULARY } from './vocabulary.ts';

/** Where the functions of ours are, for worker threads as well. */
const FUNCTIONS = new URL('./functions.ts', import.meta.url).href;

/**
 * The pattern that a question asks for, read and checked with the names that any archive may have; it says nothing of
 * what one holds.
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
