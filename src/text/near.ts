import { distance } from 'fastest-levenshtein';

/**
 * The known names nearest to a mistyped one, nearest first: at most three, and none further than a third of
 * its length (at least one edit). Case does not count. An edit inserts, drops or changes a character, or swaps two
 * neighbours (F. J. Damerau, "A technique for computer detection and correction of spelling errors", Communications
 * of the ACM 7 (3), 1964); a swap counts once a name, which is all that such short distances can hold.
 */
export function nearNames(typed: string, known: Iterable<string>): readonly string[] {
  const lower = typed.toLowerCase();
  if (lower.length > MAX_LENGTH) return [];
  const reach = Math.max(1, Math.floor(typed.length / 3));
  const swapped = swaps(lower);
  const near: { name: string; edits: number }[] = [];
  for (const name of known) {
    if (Math.abs(name.length - typed.length) > reach) continue;
    const edits = editsBetween(lower, swapped, name.toLowerCase());
    if (edits <= reach) near.push({ name, edits });
  }
  near.sort((a, b) => a.edits - b.edits || (a.name < b.name ? -1 : 1));
  // Where only the case differs, nothing else can be meant.
  const meant = near[0]?.edits === 0 ? near.filter(({ edits }) => edits === 0) : near;
  return [...new Set(meant.map(({ name }) => name))].slice(0, 3);
}

/** Longer names are not mistyped words but something pasted; comparing them would only cost time. */
const MAX_LENGTH = 64;

/** `did you mean "side"?`, or nothing when no known name is near. */
export function didYouMean(typed: string, known: Iterable<string>): string | undefined {
  const near = nearNames(typed, known).map((name) => `"${name}"`);
  return near.length === 0 ? undefined : `did you mean ${oneOf(near)}?`;
}

/** `a`, `a or b`, `a, b or c`. */
export function oneOf(items: readonly string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} or ${items.at(-1)}`;
}

/** The word with two unlike neighbours swapped, in every place. */
function swaps(word: string): string[] {
  const all: string[] = [];
  for (let i = 0; i + 1 < word.length; i++) {
    if (word[i] !== word[i + 1]) all.push(word.slice(0, i) + word[i + 1] + word[i] + word.slice(i + 2));
  }
  return all;
}

function editsBetween(word: string, swapped: readonly string[], name: string): number {
  let minimum = distance(word, name);
  // One swap costs two edits otherwise, so nothing can be gained below that.
  if (minimum < 2) return minimum;
  for (const other of swapped) minimum = Math.min(minimum, 1 + distance(other, name));
  return minimum;
}
