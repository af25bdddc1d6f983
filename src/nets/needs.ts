import type { LabelWeights } from '../state/labels.ts';
import type { Feed } from './feeds.ts';
import { PASSING_TERMS, termsOfSupply } from './roles.ts';
import type { SignalPath } from './signal-paths.ts';

// What an edge that follows from nets owes to components that are not certain. A component counts as what it more likely than
// not is (`roles.ts`): if it turns out to be something else, the supply does not come from it, or no signal passes it. What would
// follow instead is not worked out: an edge is there or it is not.

/** What a component has to be for an edge to be there. */
export interface Need {
  /** The component. */
  readonly id: string;
  /** `same`: exactly these of the terms that matter for passing are true of it; `any`: one of these terms is. */
  readonly how: 'same' | 'any';
  readonly terms: readonly string[];
}

const NONE: LabelWeights = new Map();

/** Needs of a supply: its source makes it, and what it goes through passes it. */
export function needsOfFeed(
  { source, supply, through }: Feed,
  labels: ReadonlyMap<string, LabelWeights>,
): readonly Need[] {
  const weights = labels.get(source) ?? NONE;
  const terms = termsOfSupply(supply).filter((term) => (weights.get(term) ?? 0) > 0);
  const isOpen = terms.length > 0 && terms.every((term) => (weights.get(term) ?? 0) < 1);
  const made: readonly Need[] = isOpen ? [{ id: source, how: 'any', terms }] : [];
  return [...made, ...needsOfPassed(through, labels)];
}

/** Needs of a signal path: what the line that passes fewest goes through passes it. */
export function needsOfPath(
  { ways }: SignalPath,
  labels: ReadonlyMap<string, LabelWeights>,
): readonly Need[] {
  return needsOfPassed(ways[0].through, labels);
}

function needsOfPassed(
  through: readonly string[],
  labels: ReadonlyMap<string, LabelWeights>,
): readonly Need[] {
  return [...new Set(through)].flatMap((id): readonly Need[] => {
    const weights = labels.get(id) ?? NONE;
    const isOpen = PASSING_TERMS.some((term) => {
      const weight = weights.get(term) ?? 0;
      return weight > 0 && weight < 1;
    });
    if (!isOpen) return [];
    return [{ id, how: 'same', terms: PASSING_TERMS.filter((term) => (weights.get(term) ?? 0) >= 0.5) }];
  });
}

/** Whether a component of which some terms are true meets a need. */
export function meets({ how, terms }: Need, isTrue: (term: string) => boolean): boolean {
  if (how === 'any') return terms.some(isTrue);
  return PASSING_TERMS.every((term) => isTrue(term) === terms.includes(term));
}
