import type { Candidate, Component } from '../model/dossier.ts';
import { seenTerms, termsOf } from '../state/labels.ts';

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
