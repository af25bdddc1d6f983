import { type Part, partIdOf } from '../model/catalogue.ts';
import type { MarkingRatios } from './catalogueIndex.ts';
import { type Evidence, type EvidenceKind, evidenceOf, unknownOfKind } from './evidence.ts';
import type { HabitsWithout } from './habits.ts';
import { type Facet, type PartTable, PROFILE_FACETS } from './partTable.ts';
import type { Sighting } from './sighting.ts';

/** One deciban: a tenth of a factor of ten (Good 1950). */
const DECIBANS = 10 / Math.LN10;
/** Parts less likely than this are not listed one by one. */
const LISTED = 1e-6;

/** A natural logarithm of a likelihood ratio in decibans. */
export function weightInDecibans(logRatio: number): number {
  return logRatio * DECIBANS;
}

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
}

/** What a component may be, with everything that speaks for and against it. */
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

export interface PosteriorInput {
  readonly sighting: Sighting;
  readonly habits: HabitsWithout;
  readonly table: PartTable;
  /** From `priorsOf`. */
  readonly priors: Float64Array;
  /** From `kindsOf`. */
  readonly kinds: Float64Array;
  /** What the marking says; undefined where none was read. */
  readonly marking: MarkingRatios | undefined;
  readonly judgements: readonly Judgement[];
}

/** Odds against "none in the catalogue" of everything that was seen, piece by piece. */
interface Weighing {
  readonly evidence: readonly Evidence[];
  /** Weights of each piece by number of its facet's value, natural logarithms; NaN: says nothing. */
  readonly weights: readonly (readonly number[])[];
  readonly marking: MarkingWeights | undefined;
  readonly judgements: readonly Judgement[];
  /** What speaks for a part nobody knows, the marking aside. */
  readonly unknown: number;
}

/**
 * Bayes' rule with the pieces of evidence taken as independent given the part (naive Bayes; Good 1950, weight of
 * evidence). Weights are added in one fixed order, so that the order in which things were seen does not show even in
 * the last digit.
 */
export function posterior(input: PosteriorInput): Posterior {
  const { sighting, habits, table, priors } = input;
  const evidence = evidenceOf(sighting, habits, table.bodies);
  const weights = evidence.map((one) => weightsOf(table, one));
  const byKind = weights.filter((_, i) => evidence[i].facet === 'category');
  const weighing: Weighing = {
    evidence,
    weights,
    marking: markingWeights(input),
    judgements: inFixedOrder(input.judgements),
    unknown: unknownLog(input, byKind),
  };
  const { probabilities, none } = massesOf(input, weighing);
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
    evidenceFor: (id) => evidenceFor(id, table, weighing),
  };
}

function evidenceFor(id: string, table: PartTable, weighing: Weighing): readonly WeighedEvidence[] {
  const number = table.numberOf(id);
  if (number === undefined) return [];
  const { evidence, weights, marking, judgements, unknown } = weighing;
  return [
    {
      kind: 'unknown-part',
      says: 'a part nobody has catalogued would fit, too',
      decibans: -unknown * DECIBANS,
    },
    ...(marking
      ? [
          {
            kind: 'marking' as const,
            says: marking.seen,
            decibans: (marking.weights[marking.parts.indexOf(number)] ?? marking.unfit) * DECIBANS,
          },
        ]
      : []),
    ...evidence.flatMap(({ kind, seen, facet }, i) => {
      const weight = weights[i][table.facet(facet).of[number]];
      return Number.isNaN(weight) ? [] : [{ kind, says: seen, decibans: weight * DECIBANS }];
    }),
    ...judgements
      .filter(({ part }) => part === id)
      .map(({ by, reason, decibans }) => ({
        kind: 'judgement' as const,
        says: `${by}: ${reason}`,
        decibans,
      })),
  ];
}

/** Memory for one posterior after another. */
let probabilityMemory = new Float64Array();

/**
 * Probability of each part and of none; the first holds until the next posterior. Most parts share the
 * weight of their profile, so exponentials are taken once for each profile; parts that the marking fits or an editor judged are weighed one by one.
 */
function massesOf(
  input: PosteriorInput,
  weighing: Weighing,
): { readonly probabilities: Float64Array; readonly none: number } {
  const { table, priors } = input;
  const { evidence, weights, marking, judgements, unknown } = weighing;
  const { profile } = table;
  const size = priors.length;
  const before = priorMasses(input, weighing);
  const profiles = profileLogs(table, evidence, weights);
  const bodyAt = evidence.findIndex(({ facet }) => facet === 'body');
  const bodies = bodyAt < 0 ? undefined : weights[bodyAt];
  const bodyOf = table.facet('body').of;
  // What the marking says of parts that it does not fit is taken out of the brackets.
  const shared = marking?.unfit ?? 0;
  const singles = marking ? [...marking.parts] : [];
  const singleLogs = marking ? marking.weights.map((weight) => weight - shared) : [];
  for (const { part, decibans } of judgements) {
    const number = table.numberOf(part);
    if (number === undefined) continue;
    const at = singles.indexOf(number);
    if (at >= 0) singleLogs[at] += decibans / DECIBANS;
    else singleLogs[singles.push(number) - 1] = decibans / DECIBANS;
  }
  let top = unknown - shared;
  for (let k = 0; k < singles.length; k++) {
    const number = singles[k];
    const body = bodies?.[bodyOf[number]] ?? 0;
    singleLogs[k] += before.logs[number] + profiles[profile.of[number]] + (Number.isNaN(body) ? 0 : body);
    if (singleLogs[k] > top) top = singleLogs[k];
  }
  const scale = Math.exp(-top);
  const factors = profiles.map((log) => Math.exp(log) * scale);
  if (probabilityMemory.length < size) probabilityMemory = new Float64Array(size);
  const probabilities = probabilityMemory;
  const { masses } = before;
  const { of } = profile;
  for (let i = 0; i < size; i++) probabilities[i] = masses[i] * factors[of[i]];
  if (bodies) {
    const bodyFactors = bodies.map((log) => (Number.isNaN(log) ? 1 : Math.exp(log)));
    for (let i = 0; i < size; i++) probabilities[i] *= bodyFactors[bodyOf[i]];
  }
  for (let k = 0; k < singles.length; k++) probabilities[singles[k]] = Math.exp(singleLogs[k] - top);
  const none = Math.exp(unknown - shared - top);
  let sum = none;
  for (let i = 0; i < size; i++) sum += probabilities[i];
  const share = 1 / sum;
  for (let i = 0; i < size; i++) probabilities[i] *= share;
  return { probabilities, none: none * share };
}

/** Summed weights of each profile. */
function profileLogs(
  table: PartTable,
  evidence: readonly Evidence[],
  weights: readonly (readonly number[])[],
): number[] {
  const { profile } = table;
  const logs = profile.examples.map(() => 0);
  evidence.forEach(({ facet }, i) => {
    const name = PROFILE_FACETS.find((one) => one === facet);
    if (!name) return;
    const of = profile.facets[name];
    for (let value = 0; value < logs.length; value++) {
      const weight = weights[i][of[value]];
      if (!Number.isNaN(weight)) logs[value] += weight;
    }
  });
  return logs;
}

interface PriorMasses {
  readonly priors: Float64Array;
  /** The evidence that is in it. */
  readonly of: readonly Evidence[];
  readonly logs: Float64Array;
  readonly masses: Float64Array;
}

/** Priors with the evidence that all components of a device share: the device's maker and its release. */
function priorMasses(
  { table, priors, habits }: PosteriorInput,
  { evidence, weights }: Weighing,
): PriorMasses {
  const shared = evidence.flatMap((one, i) =>
    one.facet === 'maker' || one.facet === 'introduced' ? [{ one, weights: weights[i] }] : [],
  );
  const kept = habits.remember('prior masses', (): { last?: PriorMasses } => ({}));
  const { last } = kept;
  const isSame = ({ one }: (typeof shared)[number], i: number) => one === last?.of[i];
  if (last?.priors === priors && last.of.length === shared.length && shared.every(isSame)) return last;
  const logs = priors.slice();
  for (const { one, weights: byValue } of shared) {
    const { of } = table.facet(one.facet);
    for (let i = 0; i < logs.length; i++) {
      const weight = byValue[of[i]];
      if (!Number.isNaN(weight)) logs[i] += weight;
    }
  }
  kept.last = { priors, of: shared.map(({ one }) => one), logs, masses: logs.map(Math.exp) };
  return kept.last;
}

/**
 * How much likelier than at large a part nobody knows would be seen so: over the kinds of parts that it may be, as
 * often as each is used.
 */
function unknownLog(
  { sighting, habits, table, kinds }: PosteriorInput,
  byKind: readonly (readonly number[])[],
): number {
  const logOf = unknownOfKind(sighting, habits);
  let sum = 0;
  table.facet('category').examples.forEach(({ categories: [category] }, kind) => {
    let log = logOf(category);
    for (const weights of byKind) log += weights[kind];
    sum += kinds[kind] * Math.exp(log);
  });
  return sum > 0 ? Math.log(sum) : 0;
}

/** What a marking says of each part against a part nobody knows, natural logarithms. */
interface MarkingWeights {
  readonly seen: string;
  /** Numbers of the parts whose listed markings fit at all, and what it says of each. */
  readonly parts: readonly number[];
  readonly weights: readonly number[];
  /** Of a part that it does not fit. */
  readonly unfit: number;
}

/**
 * Likelihood of the marking: as the catalogue lists it, or once in a while something else, such as a customer's own.
 * That keeps to no manner, so chance stands for it; a part nobody knows mostly keeps to the manner of the others.
 */
function markingWeights(input: PosteriorInput): MarkingWeights | undefined {
  const { sighting, habits, marking } = input;
  if (!marking) return undefined;
  const { parts, ratios, ofUnknown } = marking;
  const listing = habits.agreement('marking');
  const other = Math.log(1 - listing);
  const listed = Math.log(listing);
  const lines = sighting.marking?.length ?? 0;
  return {
    seen: lines > 1 ? `the marking, ${lines} lines` : 'the marking',
    parts,
    weights: ratios.map((ratio) => logSum(ratio + listed, other) - ofUnknown),
    unfit: other - ofUnknown,
  };
}

/** Logarithm of the sum of two numbers given by their logarithms. */
function logSum(a: number, b: number): number {
  return a > b ? a + Math.log1p(Math.exp(b - a)) : b + Math.log1p(Math.exp(a - b));
}

/** Weights of evidence by number of its facet's value; NaN: says nothing. Some evidence serves a whole device. */
function weightsOf(table: PartTable, evidence: Evidence): readonly number[] {
  if (evidence.known?.table === table) return evidence.known.weights;
  const weights: number[] = [];
  for (const example of table.facet(evidence.facet).examples)
    weights.push(evidence.weigh(example) ?? Number.NaN);
  evidence.known = { table, weights };
  return weights;
}

function inFixedOrder(judgements: readonly Judgement[]): readonly Judgement[] {
  const keyOf = ({ part, decibans, by, reason }: Judgement) => JSON.stringify([part, decibans, by, reason]);
  return judgements.length < 2 ? judgements : judgements.toSorted((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
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
