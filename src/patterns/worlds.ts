import type { Candidate, Component } from '../model/dossier.ts';
import { type CategoriesOf, seenTerms, termsOf } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

/** What a component may be: its rival candidates, and last "none of them". */
export interface Alternatives {
  /** Probability of each candidate; the rest to 1 is "none of them". */
  readonly probabilities: readonly number[];
  /** Terms that are true of it under each candidate, and under none of them. */
  readonly terms: readonly ReadonlySet<string>[];
  /** Part it is under each candidate. */
  readonly parts: readonly (string | undefined)[];
}

/** A component without candidates. */
export const NO_DOUBT: Alternatives = { probabilities: [], terms: [new Set()], parts: [undefined] };

/** @param candidates of its identification, or its possible kinds when unidentified */
export function alternativesOf(
  component: Pick<Component, 'appears'>,
  candidates: readonly Candidate[],
  categoriesOf: (part: string) => readonly string[] | undefined,
): Alternatives {
  return {
    probabilities: candidates.map(({ probability }) => probability),
    terms: [
      ...candidates.map((candidate) => termsOf(component, candidate, categoriesOf)),
      new Set(seenTerms(component)),
    ],
    parts: [...candidates.map(({ part }) => part), undefined],
  };
}

/** What the doubtful components of a specimen may be, by local id. */
export function alternativesIn(
  { components, identified, spreads }: Pick<OpenedSpecimen, 'components' | 'identified' | 'spreads'>,
  categoriesOf: CategoriesOf,
): ReadonlyMap<string, Alternatives> {
  return new Map(
    [...new Set([...identified.keys(), ...spreads.keys()])].map((id) => {
      const { appears } = components.get(id) ?? {};
      return [id, alternativesOf({ appears }, candidatesOf({ identified, spreads }, id), categoriesOf)];
    }),
  );
}

/** Candidates of a component, and its possible kinds when unidentified. */
export function candidatesOf(
  { identified, spreads }: Pick<OpenedSpecimen, 'identified' | 'spreads'>,
  id: string,
): readonly Candidate[] {
  return [...(identified.get(id)?.candidates ?? []), ...(spreads.get(id) ?? [])];
}
