import { type Part, partIdOf } from '../model/catalogue.ts';
import { lineage } from '../model/taxonomy.ts';
import { type Evidence, type EvidenceKind, evidenceOf } from './evidence.ts';
import type { HabitsWithout } from './habits.ts';
import type { Sighting } from './sighting.ts';

/** Probability, before anything was seen of it, that a chip is in no catalogue (common practice, no source). */
export const PRIOR_NONE = 0.1;
/** What each catalogue part counts for before it was ever seen. */
const UNSEEN_PART = 0.5;
/** One deciban: a tenth of a factor of ten (Good 1950; Jeffreys' units). */
const DECIBANS = 10 / Math.LN10;

/** An editor's own judgement, entered as evidence for or against one part. */
export interface Judgement {
  readonly part: string;
  /** Weight of evidence in decibans: +10 makes the part ten times as likely as it was. */
  readonly decibans: number;
  readonly by: string;
  readonly reason: string;
}

export interface WeighedEvidence {
  readonly kind: EvidenceKind | 'judgement';
  /** What was seen, or who judged and why. */
  readonly says: string;
  /** Weight for this candidate against "none in the catalogue", in decibans. */
  readonly decibans: number;
}

export interface CandidateOdds {
  readonly part: Part;
  readonly probability: number;
  /** Prior weight against "none in the catalogue", in decibans. */
  readonly priorDecibans: number;
  readonly evidence: readonly WeighedEvidence[];
}

/** What a component may be, with everything that speaks for and against it. */
export interface Posterior {
  /** Likeliest first. With `none` they sum to 1. */
  readonly candidates: readonly CandidateOdds[];
  /** Probability that it is none of the catalogue's parts. */
  readonly none: number;
  /** Probability of each taxonomy term, super-terms included; what is left to 1 is not known. */
  readonly categories: ReadonlyMap<string, number>;
  /** Probability of each maker of parts. */
  readonly makers: ReadonlyMap<string, number>;
}

export interface PosteriorInput {
  readonly sighting: Sighting;
  readonly habits: HabitsWithout;
  /** Parts to consider. */
  readonly parts: readonly Part[];
  /** Size of the whole catalogue, over which the prior is spread. */
  readonly catalogueSize: number;
  /** Log-ratio of the marking for a part, where a marking was read. */
  readonly markingRatio: ((part: Part) => number) | undefined;
  readonly judgements: readonly Judgement[];
}

/**
 * Bayes' rule with the pieces of evidence taken as independent given the part (naive Bayes; Good 1950, weight of
 * evidence). The prior of a part follows its use in the rest of the archive.
 */
export function posterior(input: PosteriorInput): Posterior {
  const { sighting, habits, parts, catalogueSize, markingRatio, judgements } = input;
  const evidence: readonly Evidence[] = [
    ...(markingRatio && sighting.marking
      ? [{ kind: 'marking' as const, seen: 'the marking as read', weigh: markingRatio }]
      : []),
    ...evidenceOf(sighting, habits),
  ];
  const weighed = parts.map((part) => {
    const id = partIdOf(part);
    const share =
      (habits.count('part', id) + UNSEEN_PART) / (habits.total('part') + UNSEEN_PART * catalogueSize);
    const prior = Math.log(((1 - PRIOR_NONE) * share) / PRIOR_NONE);
    const entries = [
      ...evidence.flatMap(({ kind, seen, weigh }) => {
        const log = weigh(part);
        return log === undefined ? [] : [{ kind, says: seen, log }];
      }),
      ...judgements
        .filter((one) => one.part === id)
        .map(({ by, reason, decibans }) => ({
          kind: 'judgement' as const,
          says: `${by}: ${reason}`,
          log: decibans / DECIBANS,
        })),
    ];
    return { part, prior, entries, log: sumOf([prior, ...entries.map(({ log }) => log)]) };
  });
  const top = Math.max(0, ...weighed.map(({ log }) => log));
  const mass = Math.exp(-top) + sumOf(weighed.map(({ log }) => Math.exp(log - top)));
  const candidates = weighed
    .map(
      ({ part, prior, entries, log }): CandidateOdds => ({
        part,
        probability: Math.exp(log - top) / mass,
        priorDecibans: prior * DECIBANS,
        evidence: entries.map(({ kind, says, log: weight }) => ({ kind, says, decibans: weight * DECIBANS })),
      }),
    )
    .sort((a, b) => b.probability - a.probability || (partIdOf(a.part) < partIdOf(b.part) ? -1 : 1));
  return { candidates, none: Math.exp(-top) / mass, ...aggregated(candidates) };
}

function aggregated(candidates: readonly CandidateOdds[]): Pick<Posterior, 'categories' | 'makers'> {
  const categories = new Map<string, number>();
  const makers = new Map<string, number>();
  for (const { part, probability } of candidates) {
    makers.set(part.maker, (makers.get(part.maker) ?? 0) + probability);
    for (const term of new Set(part.categories.flatMap(lineage))) {
      categories.set(term, (categories.get(term) ?? 0) + probability);
    }
  }
  return { categories, makers };
}

/** Sum in order of size, so that the order of the evidence does not show even in the last digit. */
function sumOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b).reduce((sum, value) => sum + value, 0);
}
