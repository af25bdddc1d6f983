import type { Problem } from '../gql/gql.ts';
import { oneOf } from '../text/near.ts';

/** What to write in place of a mistake; undefined where nothing is known. */
export function fixFor({ code, near, expected }: Problem): string | undefined {
  if (code === 'rows-not-by-matches')
    return 'ask for its rows instead: patternRows, or "caseback pattern"; findPattern gives devices with probabilities';
  if (near.length > 0) return `did you mean ${oneOf(near.map((name) => `"${name}"`))}?`;
  return expected.length > 0 ? `expected ${oneOf(expected)}` : undefined;
}
