import { PACKING } from '../../model/taxonomy.ts';
import type { LabelWeights } from '../../state/labels.ts';
import { profileOf, type Spread, spreadDistance } from './spread.ts';

/** Distance where nothing is known: half way between the same and entirely different. */
export const NEUTRAL = 0.5;

/** What a component may be, made ready for many distances: its terms, as shares of what is known. */
export interface KindProfile extends Spread {
  /** Probability that the kind is known at all, 0 to 1. */
  readonly known: number;
}

/** How a thing is packaged and that it is a component at all say nothing of its kind. */
export function kindProfile(labels: LabelWeights): KindProfile {
  const informative = [...labels].filter(
    ([term, weight]) => weight > 0 && term !== 'Component' && !PACKING.has(term),
  );
  const known = informative.reduce((most, [, weight]) => Math.max(most, weight), 0);
  return { ...profileOf(new Map(informative.map(([term, weight]) => [term, weight / known]))), known };
}

/**
 * Distance of two components in the taxonomy, 0 (the same kind) to 1 (nothing in common): 1 - the information of the
 * terms they share over that of all their terms (simGIC of Pesquita et al., BMC Bioinformatics 9 Suppl. 5, 2008, S4),
 * each term weighted by its probability. The part of either that is not known counts as {@link NEUTRAL}.
 */
export function kindDistance(a: KindProfile, b: KindProfile): number {
  const known = a.known * b.known;
  if (known === 0) return NEUTRAL;
  return known * spreadDistance(a, b) + (1 - known) * NEUTRAL;
}
