import type { Part } from '../model/catalogue.ts';
import type { State } from '../state/state.ts';

/** Fewer letters and digits than this occur in too many part numbers to be useful. */
const MIN_CHARACTERS = 3;
const MAX_PARTS = 10;

/**
 * Parts whose number is what was typed, begins with it, or occurs in it whole, the closest first, at most ten. A part
 * number is seldom what a chip carries, so this is a way into the catalogue and no evidence.
 */
export function partsNumbered(view: State, text: string): readonly Part[] {
  const typed = plain(text);
  if (typed.length < MIN_CHARACTERS) return [];
  return view
    .parts()
    .flatMap((part) => {
      const number = plain(part.number);
      const fits =
        number === typed ||
        number.startsWith(typed) ||
        (number.length > MIN_CHARACTERS && typed.includes(number));
      return fits ? [{ part, off: Math.abs(number.length - typed.length) }] : [];
    })
    .sort((a, b) => a.off - b.off || (a.part.number < b.part.number ? -1 : 1))
    .slice(0, MAX_PARTS)
    .map(({ part }) => part);
}

function plain(text: string): string {
  return text.toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');
}
