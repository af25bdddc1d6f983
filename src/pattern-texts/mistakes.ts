import { loadFunctions, PatternError, type Problem } from '../gql/gql.ts';
import { FUNCTIONS, preparedMatchesNow } from './prepared.ts';

// Known from here on, so that a rule over files can ask without waiting.
await loadFunctions(FUNCTIONS);

/** What keeps a text from being the pattern of a design decision: every problem; none when it can be searched. */
export function mistakesOfPattern(text: string): readonly Problem[] {
  try {
    preparedMatchesNow({ text });
    return [];
  } catch (error) {
    if (error instanceof PatternError) return error.problems;
    throw error;
  }
}
