import { meaningOf, termsUnder } from '../model/taxonomy.ts';
import { specimenPresence, thingOfTerm, type Verdict } from '../presence/presence.ts';
import { numberOf, presenceIn } from '../presence/row.ts';
import { POSSIBLE } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

/** How many components are of a kind, with the doubt of their identifications carried through. */
export interface KindCount {
  /** Term of the taxonomy. */
  readonly kind: string;
  /** The sentence that explains the term. */
  readonly meaning: string;
  /** Components that are of the kind with probability 0.95 or more. */
  readonly certain: number;
  /** Sum of the probabilities: the expected number. */
  readonly expected: number;
  /** Components that are of the kind with probability 0.05 or more. */
  readonly possible: number;
  /** Whether the specimen has one; tells a 0 that was looked for from one that nobody could see. */
  readonly verdict: Verdict;
}

/**
 * Counts for each term under `above` that the specimen has or may have, in the order of the taxonomy. A component
 * with several functions counts once under each, and once under their common super-term.
 */
export function countKinds(specimen: OpenedSpecimen, above: string): readonly KindCount[] {
  return termsUnder(above).flatMap((kind) => {
    return presenceIn(specimen).probabilityOf(numberOf(kind)) >= POSSIBLE ? [countKind(specimen, kind)] : [];
  });
}

/** Counts for one term. */
export function countKind(specimen: OpenedSpecimen, kind: string): KindCount {
  const { certain, expected, possible, verdict } = specimenPresence(presenceIn(specimen), thingOfTerm(kind));
  return { kind, meaning: meaningOf(kind) ?? kind, certain, expected, possible, verdict };
}

/** Components in each subsystem of a specimen, by kind of subsystem; those in none under `none`. */
export function countSubsystems({
  dossier,
  counted,
}: OpenedSpecimen): readonly { readonly kind: string; readonly components: number }[] {
  const kindOf = new Map(dossier.subsystems.map(({ id, kind }) => [id, kind as string]));
  const counts = new Map<string, number>();
  for (const { subsystem } of counted) {
    const kind = (subsystem !== undefined && kindOf.get(subsystem)) || 'none';
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
  }
  return [...counts]
    .map(([kind, components]) => ({ kind, components }))
    .sort((a, b) => (a.kind < b.kind ? -1 : 1));
}
