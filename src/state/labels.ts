import { isFitted } from '../model/certainty.ts';
import type { Candidate, Component, Dossier, Identification } from '../model/dossier.ts';
import { isOfDesignatorAlone } from '../model/import-proposal.ts';
import { fallenIn, hasBasis } from '../model/standing.ts';
import { isRoot, isUnder, lineage, PACKING } from '../model/taxonomy.ts';
import { tidy } from '../statistics/tidy.ts';

export { CERTAIN, isFitted, POSSIBLE } from '../model/certainty.ts';

/** Categories of a part by its id, or undefined for a part that is not in the catalogue. */
export type CategoriesOf = (partId: string) => readonly string[] | undefined;

// What counts as a component is decided here and nowhere else: not a place where nothing is fitted, which stays on record and in
// lists but has no label and no identification; nor what the board itself has (`BoardFeature`: holes, marks, pads and bridges),
// which has labels of its own but not `Component`. Whatever counts, compares or searches components goes by these labels, or by
// `OpenedSpecimen.counted`.

/** Probability of each taxonomy term that may apply to a component; terms that cannot apply are absent. */
export type LabelWeights = ReadonlyMap<string, number>;

/** Below this no kind of a component is known, and it counts as unidentified; nor does it count as a component. */
const NAMED = 0.5;

/**
 * The identification that counts for each component: the last that was not withdrawn and still has evidence. An
 * identification does not count when it named observations as evidence and all of them were withdrawn or corrected, where nothing is
 * fitted, or when an import proposed it of a chip by its designator alone.
 */
export function currentIdentifications({
  components,
  identifications,
  observations,
}: Pick<Dossier, 'components' | 'identifications' | 'observations'>): ReadonlyMap<string, Identification> {
  const fallen = fallenIn(observations);
  const empty = new Set(components.flatMap((component) => (isFitted(component) ? [] : [component.id])));
  const isCurrent = (one: Identification) =>
    one.state !== 'withdrawn' &&
    !empty.has(one.component) &&
    hasBasis(one.basis, fallen) &&
    !isOfDesignatorAlone(one);
  return new Map(
    identifications
      .filter(isCurrent)
      .map((identification) => [identification.component, identification] as const),
  );
}

/**
 * Probability of each taxonomy term for a component. What it plainly looks like is certain; each candidate of
 * its identification adds its probability once to every term that the candidate would bring, super-terms
 * included. Rival candidates exclude one another, so their probabilities add up. Where nothing is fitted there are none.
 */
export function labelWeights(
  component: Pick<Component, 'appears' | 'fitted'>,
  identification: Identification | Pick<Identification, 'candidates'> | undefined,
  categoriesOf: CategoriesOf,
): LabelWeights {
  const weights = new Map<string, number>();
  if (!isFitted(component)) return weights;
  /** Probability that it is none of what is seen without a candidate, such as no component but a test pad. */
  let other = 0;
  for (const candidate of identification?.candidates ?? []) {
    const terms = termsOf(component, candidate, categoriesOf);
    if (!component.appears && !terms.has('Component')) other += candidate.probability;
    // 0.8 and 0.15 are 0.95, the threshold of what is certain, and not 0.9500000000000001.
    for (const term of terms) weights.set(term, Math.min(1, sumOf(weights.get(term), candidate.probability)));
  }
  for (const term of seenTerms(component)) weights.set(term, other === 0 ? 1 : Math.max(0, tidy(1 - other)));
  return weights;
}

function sumOf(before: number | undefined, more: number): number {
  return before === undefined ? more : tidy(before + more);
}

/** Terms that are true of a component whatever it is identified as: what it plainly is, or only that it is a component. */
export function seenTerms({ appears }: Pick<Component, 'appears'>): readonly string[] {
  return lineage(appears ?? 'Component');
}

/** Terms that are true of a component if a candidate is what it is. */
export function termsOf(
  component: Pick<Component, 'appears'>,
  candidate: Candidate,
  categoriesOf: CategoriesOf,
): ReadonlySet<string> {
  const named = candidate.part ? (categoriesOf(candidate.part) ?? []) : [];
  const all = candidate.category ? [...named, candidate.category] : named;
  const isFeature = all.length > 0 && all.every((term) => isUnder(term, 'BoardFeature'));
  const seen = isFeature && !component.appears ? [] : seenTerms(component);
  return new Set([...seen, ...all.flatMap((term) => lineage(term))]);
}

/** Whether something counts as a component: one that is fitted, and more likely than not no feature of the board itself. */
export function isCounted(weights: LabelWeights): boolean {
  return (weights.get('Component') ?? 0) >= NAMED;
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
      const isBelow =
        lineage(term)[1] === above || (at === undefined && term !== 'Component' && isRoot(term));
      if (!isBelow || probability < 0.5) continue;
      const gain = PACKING.has(term) ? -1 : probability;
      if (!next || gain > (PACKING.has(next.term) ? -1 : next.probability)) next = { term, probability };
    }
    if (!next) return at;
    at = next;
  }
}
