import { type Part, partIdOf } from '../model/catalogue.ts';
import { CERTAIN } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { fixed } from '../text/rounding.ts';
import type { Posterior, WeighedEvidence } from './posterior.ts';

// A recorded identification is never overruled by the evidence, but where the two contradict each other that is said.

/** A recorded identification that the evidence all but excludes, while it speaks for something else. */
export interface Disagreement {
  /** Id of the part that is recorded; the catalogue may not have it. */
  readonly recorded: string;
  /** Its probability as recorded, more than a half. */
  readonly recordedProbability: number;
  /** Its probability by the evidence, less than one in twenty. */
  readonly probability: number;
  /** What the evidence speaks for: another part, or undefined for none in the catalogue. */
  readonly instead: Part | undefined;
  /** More than a half. */
  readonly insteadProbability: number;
  /** What speaks most against the recorded part, compared with what the evidence speaks for: heaviest first, decibans below 0. */
  readonly against: readonly WeighedEvidence[];
}

/** Clues that are named. */
const NAMED = 3;
/** A clue that speaks less than so many decibans against the part is not named. */
const NOTABLE = -0.5;

/** The part that a component is recorded as with more than a half, by its current identification. */
export function recordedPartOf(
  { identified }: Pick<OpenedSpecimen, 'identified'>,
  component: string,
): { readonly part: string; readonly probability: number } | undefined {
  for (const { part, probability } of identified.get(component)?.candidates ?? [])
    if (part !== undefined && probability > 0.5) return { part, probability };
  return undefined;
}

/** Where the current identification of a component and the evidence contradict each other; undefined where they do not. */
export function disagreementOf(
  specimen: Pick<OpenedSpecimen, 'identified'>,
  component: string,
  odds: Posterior,
): Disagreement | undefined {
  const recorded = recordedPartOf(specimen, component);
  if (recorded === undefined) return undefined;
  const probability = odds.candidates.find(({ part }) => partIdOf(part) === recorded.part)?.probability ?? 0;
  if (probability >= 1 - CERTAIN) return undefined;
  const [first] = odds.candidates;
  const instead = odds.none > 0.5 ? undefined : first;
  const insteadProbability = instead?.probability ?? odds.none;
  if (insteadProbability <= 0.5) return undefined;
  return {
    recorded: recorded.part,
    recordedProbability: recorded.probability,
    probability,
    instead: instead?.part,
    insteadProbability,
    against: against(odds, recorded.part, instead && partIdOf(instead.part)),
  };
}

/** Weights of the recorded part less those of the other, in which "none in the catalogue" has weight 0 throughout. */
function against(odds: Posterior, recorded: string, instead: string | undefined): readonly WeighedEvidence[] {
  const weights = new Map<string, WeighedEvidence>();
  for (const one of odds.evidenceFor(recorded)) weights.set(one.kind, one);
  if (instead !== undefined)
    for (const { kind, description, decibans } of odds.evidenceFor(instead)) {
      const known = weights.get(kind);
      weights.set(kind, {
        kind,
        description: known?.description ?? description,
        decibans: (known?.decibans ?? 0) - decibans,
      });
    }
  return [...weights.values()]
    .filter(({ decibans }) => decibans < NOTABLE)
    .sort((a, b) => a.decibans - b.decibans)
    .slice(0, NAMED);
}

/** The contradiction in words. */
export function spokenDisagreement({
  recorded,
  recordedProbability,
  probability,
  instead,
  insteadProbability,
  against: clues,
}: Disagreement): string {
  const other = instead ? partIdOf(instead) : 'none in the catalogue';
  const why = clues.map(({ description, decibans }) => `${description} (${fixed(decibans, 1)})`).join('; ');
  return `recorded as ${recorded} at ${recordedProbability}, which the evidence puts at ${fixed(probability, 4)}: it speaks for ${other}, ${fixed(insteadProbability, 4)}${why === '' ? '' : `; against the record: ${why}`}`;
}
