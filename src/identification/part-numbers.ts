import type { Part } from '../model/catalogue.ts';
import type { View } from '../state/view.ts';

/** Fewer letters and digits than these stand in too many numbers to say anything. */
const FEWEST = 3;
const MOST = 10;

/**
 * Parts whose number is what was typed, begins with it, or stands in it whole, the closest first, at most ten. A part
 * number is seldom what a chip carries, so this is a way to the catalogue and no evidence.
 */
export function partsNumbered(view: View, text: string): readonly Part[] {
  const typed = plain(text);
  if (typed.length < FEWEST) return [];
  return view
    .parts()
    .flatMap((part) => {
      const number = plain(part.number);
      const fits =
        number === typed || number.startsWith(typed) || (number.length > FEWEST && typed.includes(number));
      return fits ? [{ part, off: Math.abs(number.length - typed.length) }] : [];
    })
    .sort((a, b) => a.off - b.off || (a.part.number < b.part.number ? -1 : 1))
    .slice(0, MOST)
    .map(({ part }) => part);
}

function plain(text: string): string {
  return text.toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');
}
