import { CasebackError } from '../model/problems.ts';
import { isTerm, TERMS } from '../model/taxonomy.ts';
import { resolved } from '../state/resolve.ts';
import type { View } from '../state/view.ts';
import { didYouMean } from '../text/near.ts';

/** What a device may have: a component of a category (term of the taxonomy), a part, or a part of a maker, by id. */
export type PresenceSubject =
  | { readonly category: string }
  | { readonly part: string }
  | { readonly maker: string };

/**
 * The name by which presence is asked of a category, part or maker.
 * @throws CasebackError BAD_INPUT for a term that the taxonomy does not hold, NOT_FOUND for an id that nothing visible
 * has; both with near names
 */
export function subjectName(view: View, subject: PresenceSubject): string {
  if ('category' in subject) return knownCategory(subject.category);
  if ('maker' in subject) return resolved(view, subject.maker, ['Maker']).id;
  return resolved(view, subject.part, ['Part']).id;
}

/** @throws CasebackError BAD_INPUT with near terms when the taxonomy does not hold it */
export function knownCategory(term: string): string {
  if (isTerm(term)) return term;
  const fix = didYouMean(term, TERMS);
  throw new CasebackError(
    'BAD_INPUT',
    `"${term}" is not a term of the component taxonomy${fix ? `; ${fix}` : ''}`,
  );
}

/**
 * The name that a word stands for: a term of the taxonomy, a part or a maker.
 * @throws CasebackError BAD_INPUT for what looks like a term and is not one, NOT_FOUND otherwise; both with near names
 */
export function namedByWord(view: View, word: string): string {
  return /^[A-Z]\w*$/u.test(word) ? knownCategory(word) : resolved(view, word, ['Part', 'Maker']).id;
}
