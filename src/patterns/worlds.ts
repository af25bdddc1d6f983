import type { Component, Identification } from '../model/dossier.ts';
import { lineage } from '../model/taxonomy.ts';
import type { Requirements } from './atLeastOne.ts';

/** What a component may turn out to be: its rival candidates, and last "none of them". */
export interface Alternatives {
  /** Probability of each candidate; what they leave to 1 is "none of them". */
  readonly probabilities: readonly number[];
  /** Terms that are true of it under each candidate, and under none of them. */
  readonly terms: readonly ReadonlySet<string>[];
  /** Part it is under each candidate. */
  readonly parts: readonly (string | undefined)[];
}

/** A thing about which nobody has proposed anything. */
export const NO_DOUBT: Alternatives = { probabilities: [], terms: [new Set()], parts: [undefined] };

export function alternativesOf(
  component: Pick<Component, 'appears'>,
  identification: Identification | undefined,
  categoriesOf: (part: string) => readonly string[] | undefined,
): Alternatives {
  const seen = lineage(component.appears ?? 'Component');
  const candidates = identification?.candidates ?? [];
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

/** What one match asks of uncertain components. */
export interface Asked {
  /** Designators of components whose labels or parts matter. */
  readonly components: readonly string[];
  /** Whether the match stands when each of them is the given alternative (by place, "none of them" last). */
  stands(chosen: ReadonlyMap<string, number>): boolean;
}

/** Beyond this many combinations a match is taken to ask for the likeliest alternative of each. */
const MOST_COMBINATIONS = 4_096;

/**
 * The alternatives under which a match stands, component by component. Tests of a match concern one component
 * each, so the combinations under which it stands are all combinations of these.
 * @returns undefined when there are too many combinations to look at
 */
export function requirementsOf(
  asked: Asked,
  alternatives: ReadonlyMap<string, Alternatives>,
  numberOf: (designator: string) => number,
): Requirements | undefined {
  const sizes = asked.components.map((one) => alternatives.get(one)?.terms.length ?? 1);
  if (sizes.reduce((product, size) => product * size, 1) > MOST_COMBINATIONS) return undefined;
  const allowed = new Map<string, Set<number>>(asked.components.map((one) => [one, new Set()]));
  const visit = (at: number, chosen: Map<string, number>) => {
    if (at === asked.components.length) {
      if (asked.stands(chosen)) for (const [one, choice] of chosen) allowed.get(one)?.add(choice);
      return;
    }
    for (let choice = 0; choice < sizes[at]; choice++) {
      chosen.set(asked.components[at], choice);
      visit(at + 1, chosen);
    }
  };
  visit(0, new Map());
  const requirements = new Map<number, number>();
  for (const [one, choices] of allowed) {
    const size = alternatives.get(one)?.terms.length ?? 1;
    if (choices.size === size) continue;
    requirements.set(
      numberOf(one),
      [...choices].reduce((bits, choice) => bits | (1 << choice), 0),
    );
  }
  return requirements;
}
