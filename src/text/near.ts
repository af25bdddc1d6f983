import { distance } from 'fastest-levenshtein';

/**
 * The known names nearest to a mistyped one, nearest first: at most three, and none further than a third of
 * its length (at least one edit). Case does not count.
 */
export function nearNames(typed: string, known: Iterable<string>): readonly string[] {
  const lower = typed.toLowerCase();
  const reach = Math.max(1, Math.floor(typed.length / 3));
  const near: { name: string; edits: number }[] = [];
  for (const name of known) {
    if (Math.abs(name.length - typed.length) > reach) continue;
    const edits = distance(lower, name.toLowerCase());
    if (edits <= reach) near.push({ name, edits });
  }
  near.sort((a, b) => a.edits - b.edits || (a.name < b.name ? -1 : 1));
  return near.slice(0, 3).map(({ name }) => name);
}

/** `did you mean "side"?`, or nothing when no known name is near. */
export function didYouMean(typed: string, known: Iterable<string>): string | undefined {
  const near = nearNames(typed, known).map((name) => `"${name}"`);
  if (near.length === 0) return undefined;
  const last = near.pop();
  return `did you mean ${near.length > 0 ? `${near.join(', ')} or ` : ''}${last}?`;
}
