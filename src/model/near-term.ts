import { nearNames, oneOf } from '../text/near.ts';
import { namesOf, TERMS, termCalled } from './taxonomy.ts';

/** Every name of every term, those of the trade too. */
let names: ReadonlyMap<string, string> | undefined;

/**
 * What to write for a text that is no term of the taxonomy: the term that it is another name of, or those near it; undefined where
 * none is.
 */
export function termFix(text: string): string | undefined {
  const called = termCalled(text);
  if (called !== undefined) return `write ${called}`;
  names ??= new Map(TERMS.flatMap((term) => [term, ...namesOf(term)].map((name) => [name, term] as const)));
  const all = names;
  const near = nearNames(text, all.keys()).map((name) => all.get(name) as string);
  const within = TERMS.filter((term) => text.length > 3 && term.toLowerCase().includes(text.toLowerCase()));
  const meant = [...new Set([...near, ...within])].slice(0, 3);
  return meant.length === 0 ? undefined : `did you mean ${oneOf(meant.map((term) => `"${term}"`))}?`;
}
