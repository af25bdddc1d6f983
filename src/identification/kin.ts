import type { PosteriorInput } from './weighing.ts';

/**
 * Which parts of the catalogue a part that nobody knows may be like, as shares that sum to 1: kinds as often as they are used,
 * and within a kind every part alike, for a part that many devices use has no more siblings than another.
 */
export function kinOf({
  table,
  kinds,
  habits,
}: Pick<PosteriorInput, 'table' | 'kinds' | 'habits'>): Float64Array {
  const kept = habits.remember('kin', (): { of?: Float64Array; shares?: Float64Array } => ({}));
  if (kept.shares && kept.of === kinds) return kept.shares;
  const { of } = table.facet('category');
  const counts = new Float64Array(kinds.length);
  for (const kind of of) counts[kind]++;
  kept.shares = Float64Array.from(of, (kind) => kinds[kind] / counts[kind]);
  kept.of = kinds;
  return kept.shares;
}
