import { CasebackError } from '../../model/problems.ts';
import { meaningOf, TERMS } from '../../model/taxonomy.ts';
import { didYouMean } from '../../text/near.ts';

/**
 * The term itself when the taxonomy holds it, or when none is given.
 * @throws CasebackError BAD_INPUT with near terms
 */
export function knownTerm<T extends string | null | undefined>(term: T, argument: string): T {
  if (typeof term === 'string' && meaningOf(term) === undefined) {
    const mend = didYouMean(term, TERMS) ?? 'the field "taxonomy" lists them';
    throw new CasebackError(
      'BAD_INPUT',
      `${argument}: "${term}" is no term of the component taxonomy; ${mend}`,
    );
  }
  return term;
}
