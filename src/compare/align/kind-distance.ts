import { isChipFunction } from '../../model/chip-function.ts';
import { PACKING } from '../../model/taxonomy.ts';
import type { LabelWeights } from '../../state/labels.ts';
import { profileOf, type Spread, spreadDistance } from './spread.ts';

/** Distance where nothing is known: half way between the same and entirely different. */
export const NEUTRAL = 0.5;

/** What a component may be, made ready for many distances: its terms, as shares of what is known. */
export interface KindProfile extends Spread {
  /** Probability that the kind is known at all, 0 to 1. */
  readonly known: number;
  /** Probability that it is a chip, whichever, and that it is of a kind that is none, such as a resistor or a connector. */
  readonly chip: number;
  readonly noChip: number;
}

/**
 * How a thing is packaged and that it is a component at all say nothing of its kind, but that a chip is no resistor.
 * @param chip probability that it is some chip, by its looks or its designator, where labels do not say more
 */
export function kindProfile(labels: LabelWeights, chip = 0): KindProfile {
  const informative = [...labels].filter(
    ([term, weight]) => weight > 0 && term !== 'Component' && !PACKING.has(term),
  );
  const known = informative.reduce((most, [, weight]) => Math.max(most, weight), 0);
  const most = (is: (term: string) => boolean) =>
    informative.reduce((top, [term, weight]) => (is(term) ? Math.max(top, weight) : top), 0);
  const noChip = most((term) => !isChipFunction(term));
  return {
    ...profileOf(new Map(informative.map(([term, weight]) => [term, weight / known]))),
    known,
    chip: Math.max(chip, most(isChipFunction)) * (1 - noChip),
    noChip,
  };
}

/**
 * Distance of two components in the taxonomy, 0 (the same kind) to 1 (nothing in common): 1 - the information of the
 * terms they share over that of all their terms (simGIC of Pesquita et al., BMC Bioinformatics 9 Suppl. 5, 2008, S4),
 * each term weighted by its probability. The part of either that is not known counts as {@link NEUTRAL}, but as entirely
 * different where one is a chip, whichever, and the other is of a kind that is none.
 */
export function kindDistance(a: KindProfile, b: KindProfile): number {
  const known = a.known * b.known;
  const unlike = Math.max(a.chip * b.noChip, a.noChip * b.chip);
  const unknown = NEUTRAL + (1 - NEUTRAL) * unlike;
  return known === 0 ? unknown : known * spreadDistance(a, b) + (1 - known) * unknown;
}
