import type { Candidate, Component, Dossier, Identification } from '../model/dossier.ts';
import { lineage, PACKING } from '../model/taxonomy.ts';

/** Categories of a part by its id, or undefined for a part that is not in the catalogue. */
export type CategoriesOf = (partId: string) => readonly string[] | undefined;

/** Probability of each taxonomy term that may apply to a component; terms that cannot apply are absent. */
export type LabelWeights = ReadonlyMap<string, number>;

/**
 * At or above this probability a label counts as certain: the lower edge of "extremely likely" on the
 * calibrated scale of Mastrandrea et al. 2010.
 */
export const CERTAIN = 0.95;

/** At or above this probability, and below {@link CERTAIN}, something is possible (chosen: one case in twenty). */
export const POSSIBLE = 0.05;

/** Below this no kind of a component is known, and it counts as unidentified. */
const NAMED = 0.5;

/**
 * The identification that counts for each component: the last that was not withdrawn and still has evidence. An
 * identification does not count when it named observations as evidence and all of them were withdrawn.
 */
export function currentIdentifications({
  identifications,
  observations,
}: Pick<Dossier, 'identifications' | 'observations'>): ReadonlyMap<string, Identification> {
  const withdrawn = new Set(
    observations.flatMap((observation) => (observation.withdrawn ? [observation.id] : [])),
  );
  const isCurrent = ({ state, basis }: Identification) =>
    state !== 'withdrawn' && (basis.length === 0 || basis.some((id) => !withdrawn.has(id)));
  return new Map(
    identifications
      .filter(isCurrent)
      .map((identification) => [identification.component, identification] as const),
  );
}

/**
 * Probability of each taxonomy term for a component. What it plainly looks like is certain; each candidate of
 * its identification adds its probability once to every term that the candidate would bring, super-terms
 * included. Rival candidates exclude one another, so their probabilities add up.
 */
export function labelWeights(
  component: Pick<Component, 'appears'>,
  identification: Identification | Pick<Identification, 'candidates'> | undefined,
  categoriesOf: CategoriesOf,
): LabelWeights {
  const weights = new Map<string, number>();
  for (const candidate of identification?.candidates ?? []) {
    for (const term of termsOf(candidate, categoriesOf)) {
      weights.set(term, Math.min(1, (weights.get(term) ?? 0) + candidate.probability));
    }
  }
  for (const term of component.appears ? lineage(component.appears) : ['Component']) weights.set(term, 1);
  return weights;
}

function termsOf(candidate: Candidate, categoriesOf: CategoriesOf): ReadonlySet<string> {
  const named = candidate.part ? (categoriesOf(candidate.part) ?? []) : [];
  const all = candidate.category ? [...named, candidate.category] : named;
  return new Set(all.flatMap((term) => lineage(term)));
}

/** Whether a component is unidentified: no term has even odds, except that it is a chip or a module. */
export function isUnnamed(weights: LabelWeights): boolean {
  for (const [term, weight] of weights) {
    if (weight >= NAMED && term !== 'Component' && !PACKING.has(term)) return false;
  }
  return true;
}

/**
 * The most specific likely category: from the root of the taxonomy downwards the likeliest term each time, as
 * long as it is at least as likely as not. Undefined when only `Component` is known.
 */
export function likeliestCategory(
  weights: LabelWeights,
): { readonly term: string; readonly probability: number } | undefined {
  let at: { term: string; probability: number } | undefined;
  for (;;) {
    const above = at?.term ?? 'Component';
    let next: { term: string; probability: number } | undefined;
    for (const [term, probability] of weights) {
      if (lineage(term)[1] !== above || probability < 0.5) continue;
      const gain = PACKING.has(term) ? -1 : probability;
      if (!next || gain > (PACKING.has(next.term) ? -1 : next.probability)) next = { term, probability };
    }
    if (!next) return at;
    at = next;
  }
}
