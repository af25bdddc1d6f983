import type { HabitsWithout } from './habits.ts';
import type { PartTable } from './part-table.ts';

/** How much the part that it is like goes by use: the rest goes by kind alone (chosen, no source). */
const BY_USE = 0.5;

/**
 * Which parts of the catalogue a part that nobody knows may be like, as shares that sum to 1: kinds as often as they are used,
 * and within a kind half by the use of each part, since what is used has siblings that are used, half every part alike.
 */
export function kinOf({
  table,
  kinds,
  priors,
  habits,
}: {
  readonly table: PartTable;
  readonly kinds: Float64Array;
  readonly priors: Float64Array;
  readonly habits: HabitsWithout;
}): Float64Array {
  const kept = habits.remember('kin', (): { of?: Float64Array; shares?: Float64Array } => ({}));
  if (kept.shares && kept.of === kinds) return kept.shares;
  const { of } = table.facet('category');
  const counts = new Float64Array(kinds.length);
  for (const kind of of) counts[kind]++;
  let whole = 0;
  for (const log of priors) whole += Math.exp(log);
  kept.shares = Float64Array.from(
    of,
    (kind, i) => ((1 - BY_USE) * kinds[kind]) / counts[kind] + (BY_USE * Math.exp(priors[i])) / whole,
  );
  kept.of = kinds;
  return kept.shares;
}
