import type { NamedPattern } from '../model/catalogue.ts';
import { mistakesOfPattern } from '../pattern-texts/mistakes.ts';
import type { State } from '../state/state.ts';

/**
 * Named patterns that can be searched for. No file brings another, but a journal may hold some from before texts were checked, or one
 * that a newer version of the language refuses: it goes without decisions, and the others keep theirs.
 */
export function searchablePatterns(state: State): readonly NamedPattern[] {
  return state.derived(searchable);
}

const searchable = (state: State) =>
  state.patterns().filter(({ text }) => mistakesOfPattern(text).length === 0);
