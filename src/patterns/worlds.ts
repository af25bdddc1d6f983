import type { Candidate, Component } from '../model/dossier.ts';
import { lineage } from '../model/taxonomy.ts';

/** What a component may turn out to be: its rival candidates, and last "none of them". */
export interface Alternatives {
  /** Probability of each candidate; what they leave to 1 is "none of them". */
  readonly probabilities: readonly number[];
  /** Terms that are true of it under each candidate, and under none of them. */
  readonly terms: readonly ReadonlySet<string>[];
  /** Part it is under each candidate. */
  readonly parts: readonly (string | undefined)[];
}

/** A thing of which nothing else is thought of. */
export const NO_DOUBT: Alternatives = { probabilities: [], terms: [new Set()], parts: [undefined] };

/** @param candidates those of its identification, and the kinds that it may be of where nobody could name it */
export function alternativesOf(
  component: Pick<Component, 'appears'>,
  candidates: readonly Candidate[],
  categoriesOf: (part: string) => readonly string[] | undefined,
): Alternatives {
  const seen = lineage(component.appears ?? 'Component');
  return {
    probabilities: candidates.map(({ probability }) => probability),
    terms: [
      ...candidates.map(({ part, category }) => {
        const named = [...(part ? (categoriesOf(part) ?? []) : []), ...(category ? [category] : [])];
        return new Set([...seen, ...named.flatMap(lineage)]);
      }),
      new Set(seen),
    ],
    parts: [...candidates.map(({ part }) => part), undefined],
  };
}
