import { addFunctions, PatternError, type Problem } from '../gql/gql.ts';
import { functions } from './functions.ts';
import { FUNCTIONS, preparedMatchesNow } from './prepared.ts';

// Known from here on, so that a rule over files can ask without waiting.
addFunctions(FUNCTIONS, functions);

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
