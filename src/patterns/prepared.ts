import { loadFunctions, type PreparedPattern, prepare } from '../gql/gql.ts';
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
