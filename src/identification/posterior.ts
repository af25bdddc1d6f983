import { type Part, partIdOf } from '../model/catalogue.ts';
import type { EvidenceKind } from './evidence.ts';
import { massesOf } from './masses.ts';
import type { Facet, PartTable } from './part-table.ts';
import { DECIBANS, type PosteriorInput, type Weighing, weighEvidence } from './weighing.ts';

/** Parts less likely than this are not listed one by one. */
const LISTED = 1e-6;

/** A natural logarithm of a likelihood ratio in decibans. */
export function weightInDecibans(logRatio: number): number {
  return logRatio * DECIBANS;
}

export interface WeighedEvidence {
  readonly kind: EvidenceKind | 'judgement';
  /** What was seen, or who judged and why. */
  readonly description: string;
  /** Weight for this candidate against "none in the catalogue", in decibans. */
  readonly decibans: number;
}

export interface CandidateOdds {
  readonly part: Part;
  readonly probability: number;
  /** Prior weight against "none in the catalogue", in decibans. */
  readonly priorDecibans: number;
}

/** What a component may be, with all evidence for and against. */
export interface Posterior {
  /** Likeliest first; those of at least one in a million. With `others` and `none` they sum to 1. */
  readonly candidates: readonly CandidateOdds[];
  /** Probability of all other catalogue parts together. */
  readonly others: number;
  /** Probability that it is none of the catalogue's parts. */
  readonly none: number;
  /** Probability of each taxonomy term, super-terms included; what is left to 1 is not known. */
  readonly categories: ReadonlyMap<string, number>;
  /** Probability of each maker of parts. */
  readonly makers: ReadonlyMap<string, number>;
  /** Every piece of evidence with its weight for a part of the catalogue, in the order of kinds. */
  evidenceFor(partId: string): readonly WeighedEvidence[];
}

/**
 * Bayes' rule with the pieces of evidence taken as independent given the part (naive Bayes; Good 1950, weight of
 * evidence). Weights are added in one fixed order, so that the order in which things were seen does not show even in
 * the last digit.
 */
export function posterior(input: PosteriorInput): Posterior {
  const { table, priors } = input;
  const weighing = weighEvidence(input);
  const { probabilities, none, unknown } = massesOf(input, weighing);
  const candidates: CandidateOdds[] = [];
  let others = 0;
  for (let i = 0; i < priors.length; i++) {
    const probability = probabilities[i];
    if (probability < LISTED) others += probability;
    else candidates.push({ part: table.parts[i], probability, priorDecibans: priors[i] * DECIBANS });
  }
  candidates.sort((a, b) => b.probability - a.probability || (partIdOf(a.part) < partIdOf(b.part) ? -1 : 1));
  const categories = summed(table.facet('categories'), probabilities);
  const makers = summed(table.facet('maker'), probabilities);
  return {
    candidates,
    others,
    none,
    get categories() {
      return byTerm(table, categories);
    },
    get makers() {
      return byMaker(table, makers);
    },
    evidenceFor: (id) => evidenceFor(id, table, weighing, unknown),
  };
}

function evidenceFor(
  id: string,
  table: PartTable,
  weighing: Weighing,
  unknown: number,
): readonly WeighedEvidence[] {
  const number = table.numberOf(id);
  if (number === undefined) return [];
  const { evidence, weights, marking, judgements } = weighing;
  return [
    {
      kind: 'unknown-part',
      description: 'a part nobody has catalogued would fit, too',
      decibans: -unknown * DECIBANS,
    },
    ...(marking
      ? [
          {
            kind: 'marking' as const,
            description: marking.seen,
            decibans:
              (marking.weights[marking.parts.indexOf(number)] ??
                marking.unfit + (marking.unlisted.is[number] === 1 ? marking.unlisted.more : 0)) * DECIBANS,
          },
        ]
      : []),
    ...evidence.flatMap((one, i) => {
      const { kind, facet } = one;
      const weight = weights[i][table.facet(facet).of[number]];
      if (Number.isNaN(weight)) return [];
      return [
        { kind, description: one.says?.(table.parts[number]) ?? one.seen, decibans: weight * DECIBANS },
      ];
    }),
    ...judgements
      .filter(({ part }) => part === id)
      .map(({ by, reason, decibans }) => ({
        kind: 'judgement' as const,
        description: `${by}: ${reason}`,
        decibans,
      })),
  ];
}

function summed({ of, examples }: Facet, probabilities: Float64Array): readonly number[] {
  const sums = examples.map(() => 0);
  for (let i = 0; i < of.length; i++) sums[of[i]] += probabilities[i];
  return sums;
}

function byTerm(table: PartTable, sums: readonly number[]): ReadonlyMap<string, number> {
  const categories = new Map<string, number>();
  sums.forEach((sum, value) => {
    if (sum < LISTED) return;
    for (const term of table.terms[value])
      categories.set(term, Math.min(1, (categories.get(term) ?? 0) + sum));
  });
  return categories;
}

function byMaker(table: PartTable, sums: readonly number[]): ReadonlyMap<string, number> {
  const { examples } = table.facet('maker');
  return new Map(sums.flatMap((sum, value) => (sum >= LISTED ? [[examples[value].maker, sum]] : [])));
}
