import type { Pace } from '../state/pace.ts';
import type { Circuits } from './circuits.ts';
import type { Mined } from './miner.ts';
import { isVariant, PlaceFinder, type Places } from './places.ts';
import type { Settled } from './settled.ts';

/** Structures looked at for each one wanted; the others are variants of these. */
const LOOKED_AT = 40;
/** What was never seen by chance counts as if it were this many times as frequent. */
const MAX_LIFT = 1e9;

/** A structure with what decides its place. */
export interface Ranked {
  readonly mined: Mined;
  readonly lift: number;
  readonly q: number;
  /** Place among all that were found. */
  readonly at: number;
}

export interface Chosen extends Ranked {
  readonly places: Places;
}

/** The first ones that are not variants of one before them, and for these the number of their variants. */
export async function withoutVariants(
  { store }: Circuits,
  all: readonly Ranked[],
  wanted: number,
  keepAll: boolean,
  pace: Pace,
): Promise<{ readonly chosen: readonly Chosen[]; readonly variants: ReadonlyMap<number, number> }> {
  const finder = new PlaceFinder(store);
  const chosen: Chosen[] = [];
  const variants = new Map<number, number>();
  for (const one of all.slice(0, wanted * LOOKED_AT)) {
    if (chosen.length === wanted) break;
    const places = finder.of(one.mined);
    const like = keepAll ? undefined : chosen.find((other) => isVariant(places, other.places));
    if (like) variants.set(like.at, (variants.get(like.at) ?? 0) + 1);
    else chosen.push({ ...one, places });
    if (pace.due) await pace.rest();
  }
  return { chosen, variants };
}

/** In the order asked for; equals as they were found. */
export function ranked<T extends Ranked>(all: readonly T[], { order }: Settled): readonly T[] {
  const score = ({ mined: { groups, edges }, lift, q }: T): number => {
    switch (order) {
      case 'surprise':
        return groups.length * Math.log(Math.min(lift, MAX_LIFT));
      case 'lift':
        return Math.min(lift, MAX_LIFT);
      case 'support':
        return groups.length + edges.length / 1_000;
      case 'year':
        return -q;
      default:
        return order satisfies never;
    }
  };
  return all
    .map((one) => ({ one, score: score(one) }))
    .sort((a, b) => b.score - a.score || a.one.at - b.one.at)
    .map(({ one }) => one);
}
