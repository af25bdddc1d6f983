import type { LabelWeights } from '../../graph/labels.ts';
import { lineage, TERMS } from '../../model/taxonomy.ts';
import { PACKING } from '../kinds.ts';

/** Distance where nothing is known: half way between the same and altogether another. */
export const NEUTRAL = 0.5;

const below = new Map<string, number>();
for (const term of TERMS) for (const above of lineage(term)) below.set(above, (below.get(above) ?? 0) + 1);

/**
 * How much a term of the taxonomy says, 0 to 1, from the shape of the taxonomy alone: 1 for a leaf, 0 for the root,
 * 1 - log(terms under it, itself included) / log(all terms) between (Seco, Veale & Hayes, ECAI 2004, 1089-1090).
 */
export function informationOf(term: string): number {
  const under = below.get(term);
  if (under === undefined) throw new Error(`"${term}" is no term of the component taxonomy`);
  return 1 - Math.log(under) / Math.log(TERMS.length);
}

/** What a component may be, made ready for many distances: terms by number, their weights as shares of what is known. */
export interface KindProfile {
  readonly terms: Uint16Array;
  readonly shares: Float64Array;
  readonly information: Float64Array;
  /** Probability that the kind is known at all, 0 to 1. */
  readonly known: number;
}

const numberOf = new Map(TERMS.map((term, number) => [term, number]));

/** Terms in the order of the taxonomy; how a thing is packed and that it is a component at all say nothing of its kind. */
export function kindProfile(labels: LabelWeights): KindProfile {
  const telling = [...labels]
    .filter(([term, weight]) => weight > 0 && term !== 'Component' && !PACKING.has(term))
    .map(([term, weight]) => ({ number: numberOf.get(term) as number, term, weight }))
    .sort((a, b) => a.number - b.number);
  const known = telling.reduce((most, { weight }) => Math.max(most, weight), 0);
  return {
    terms: Uint16Array.from(telling, ({ number }) => number),
    shares: Float64Array.from(telling, ({ weight }) => weight / known),
    information: Float64Array.from(telling, ({ term }) => informationOf(term)),
    known,
  };
}

/**
 * Distance of two components in the taxonomy, 0 (the same kind) to 1 (nothing in common): 1 - the information of the
 * terms they share over that of all their terms (simGIC of Pesquita et al., BMC Bioinformatics 9 Suppl. 5, 2008, S4),
 * each term weighted by its probability. The part of either that is not known counts as {@link NEUTRAL}.
 */
export function kindDistance(a: KindProfile, b: KindProfile): number {
  const known = a.known * b.known;
  if (known === 0) return NEUTRAL;
  let shared = 0;
  let all = 0;
  let i = 0;
  let j = 0;
  while (i < a.terms.length || j < b.terms.length) {
    const left = i < a.terms.length ? a.terms[i] : Infinity;
    const right = j < b.terms.length ? b.terms[j] : Infinity;
    if (left === right) {
      shared += a.information[i] * Math.min(a.shares[i], b.shares[j]);
      all += a.information[i] * Math.max(a.shares[i], b.shares[j]);
      i++;
      j++;
    } else if (left < right) {
      all += a.information[i] * a.shares[i];
      i++;
    } else {
      all += b.information[j] * b.shares[j];
      j++;
    }
  }
  const distance = all === 0 ? 0 : 1 - shared / all;
  return known * distance + (1 - known) * NEUTRAL;
}
