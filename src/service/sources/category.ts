import { meaningOf } from '../../model/taxonomy.ts';
import { CERTAIN, type LabelWeights, likeliestCategory } from '../../state/labels.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';

/** A term of the taxonomy that may apply to a component. */
export interface Label {
  readonly term: string;
  readonly meaning: string;
  readonly probability: number;
  readonly certain: boolean;
}

export function labelOf(term: string, probability: number): Label {
  return { term, meaning: meaningOf(term) ?? term, probability, certain: probability >= CERTAIN };
}

const known = new WeakMap<LabelWeights, Label | null>();

/** The most telling category of a component, or null; found once for each reading of its specimen. */
export function categoryOf(opened: OpenedSpecimen, localId: string): Label | null {
  const weights = opened.labels.get(localId);
  if (!weights) return null;
  let label = known.get(weights);
  if (label === undefined) {
    const likeliest = likeliestCategory(weights);
    label = likeliest ? labelOf(likeliest.term, likeliest.probability) : null;
    known.set(weights, label);
  }
  return label;
}
