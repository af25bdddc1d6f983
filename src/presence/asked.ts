import { termFix } from '../model/near-term.ts';
import { CasebackError } from '../model/problems.ts';
import { isTerm } from '../model/taxonomy.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/** What a device may have: a component of a category (term of the taxonomy), a part, or a part of a maker, by id. */
export type PresenceSubject =
  | { readonly category: string }
  | { readonly part: string }
  | { readonly maker: string };

/**
 * The name of a category, part or maker in questions about presence.
 * @throws CasebackError BAD_INPUT for an unknown term, NOT_FOUND for an unknown id; both with near names
 */
export function subjectName(state: State, subject: PresenceSubject): string {
  if ('category' in subject) return knownCategory(subject.category);
  if ('maker' in subject) return resolved(state, subject.maker, ['Maker']).id;
  return resolved(state, subject.part, ['Part']).id;
}

/** @throws CasebackError BAD_INPUT with near terms when it is not in the taxonomy */
export function knownCategory(term: string): string {
  if (isTerm(term)) return term;
  const fix = termFix(term);
  throw new CasebackError(
    'BAD_INPUT',
    `"${term}" is not a term of the component taxonomy${fix ? `; ${fix}` : ''}`,
  );
}

/**
 * What a word names: a term of the taxonomy, a part, a maker or a named pattern.
 * @throws CasebackError BAD_INPUT for what only looks like a term, NOT_FOUND otherwise; both with near names
 */
export function subjectByWord(state: State, word: string): PresenceSubject | { readonly pattern: string } {
  if (/^[A-Z]\w*$/u.test(word)) return { category: knownCategory(word) };
  const { kind, id } = resolved(state, word, ['Part', 'Maker', 'Pattern']);
  if (kind === 'Pattern') return { pattern: id };
  return kind === 'Part' ? { part: id } : { maker: id };
}
