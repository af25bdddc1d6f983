import { type Part, partIdOf } from '../model/catalogue.ts';
import { type Evidence, type EvidenceKind, evidenceOf, unknownOfKind } from './evidence.ts';
import type { HabitsWithout } from './habits.ts';
import type { PartTable } from './partTable.ts';
import type { Sighting } from './sighting.ts';

/** Probability, before anything was seen of it, that a chip is in no catalogue (common practice, no source). */
export const PRIOR_NONE = 0.1;
/** What each catalogue part counts for before it was ever seen. */
const UNSEEN_PART = 0.5;
/**
 * How often a part carries a marking that its catalogue entry does not list, such as a customer's own
 * (common practice, no source). It bounds what a marking can say against a part.
 */
export const UNLISTED_MARKING = 0.03;
/** One deciban: a tenth of a factor of ten (Good 1950). */
const DECIBANS = 10 / Math.LN10;
const NOTHING = Math.log(1e-18);
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
  /** From {@link priorsOf}. */
  readonly priors: Float64Array;
  /** From {@link kindsOf}. */
  readonly kinds: Float64Array;
  /** Log-ratios of the marking for parts it fits at all, by number; undefined where no marking was read. */
  readonly markingRatios: ReadonlyMap<number, number> | undefined;
  readonly judgements: readonly Judgement[];
}

/**
 * Natural logarithm of each part's prior odds against "none in the catalogue". A part's share of what the catalogue
 * explains follows its use in the rest of the archive, each part counted half a use ahead.
 */
export function priorsOf(table: PartTable, habits: HabitsWithout): Float64Array {
  const whole = Math.log(wholeOf(table, habits));
  const priors = new Float64Array(table.parts.length).fill(logOf(0) - whole);
  for (const part of habits.values('part').keys()) {
    const number = table.numberOf(part);
    if (number !== undefined) priors[number] = logOf(habits.count('part', part)) - whole;
  }
  return priors;
}

/**
 * The same with some uses left out, from the priors with none left out: costs little where few parts are concerned.
 * @param all habits with nothing left out, which `priors` are of
 * @param parts ids of the parts whose uses are fewer now
 */
export function priorsWithout(
  table: PartTable,
  priors: Float64Array,
  all: HabitsWithout,
  habits: HabitsWithout,
  parts: Iterable<string>,
): Float64Array {
  const whole = Math.log(wholeOf(table, habits));
  const shift = Math.log(wholeOf(table, all)) - whole;
  const without = new Float64Array(priors.length);
  for (let i = 0; i < priors.length; i++) without[i] = priors[i] + shift;
  for (const part of parts) {
    const number = table.numberOf(part);
    if (number !== undefined) without[number] = logOf(habits.count('part', part)) - whole;
  }
  return without;
}

function logOf(count: number): number {
  return Math.log(((1 - PRIOR_NONE) / PRIOR_NONE) * (count + UNSEEN_PART));
}

function wholeOf(table: PartTable, habits: HabitsWithout): number {
  return habits.total('part') + UNSEEN_PART * table.parts.length;
}

/** A piece of evidence with its weights worked out, natural logarithms by part number; NaN: says nothing. */
interface Weighed {
  readonly kind: EvidenceKind;
  readonly seen: string;
  weightOf(number: number): number;
}

/**
 * Bayes' rule with the pieces of evidence taken as independent given the part (naive Bayes; Good 1950, weight of
 * evidence). Weights are added in one fixed order, so that the order in which things were seen does not show even in
 * the last digit.
 */
export function posterior(input: PosteriorInput): Posterior {
  const { sighting, habits, table, priors, markingRatios, judgements } = input;
  const others = evidenceOf(sighting, habits, table.bodies);
  const weights = others.map((evidence) => weightsOf(table, evidence));
  const unknown = unknownLog(
    input,
    weights.filter((_, i) => others[i].facet === 'category'),
  );
  const logs = new Float64Array(priors.length);
  for (let i = 0; i < logs.length; i++) logs[i] = priors[i] - unknown;
  const weighed: Weighed[] = [];
  if (markingRatios) weighed.push(addMarking(logs, markingRatios, sighting));
  others.forEach((evidence, i) => {
    weighed.push(addEvidence(logs, table, evidence, weights[i]));
  });
  for (const { part, decibans } of inFixedOrder(judgements)) {
    const number = table.numberOf(part);
    if (number !== undefined) logs[number] += decibans / DECIBANS;
  }
  let top = 0;
  for (let i = 0; i < logs.length; i++) if (logs[i] > top) top = logs[i];
  let mass = Math.exp(-top);
  for (let i = 0; i < logs.length; i++) {
    const log = logs[i] - top;
    // Less than a trillionth of a millionth of the likeliest is nothing.
    logs[i] = log < NOTHING ? 0 : Math.exp(log);
    mass += logs[i];
  }
  const none = Math.exp(-top) / mass;
  const candidates: CandidateOdds[] = [];
  let unlisted = 0;
  for (let i = 0; i < logs.length; i++) {
    logs[i] /= mass;
    if (logs[i] < LISTED) unlisted += logs[i];
    else candidates.push({ part: table.parts[i], probability: logs[i], priorDecibans: priors[i] * DECIBANS });
  }
  candidates.sort((a, b) => b.probability - a.probability || (partIdOf(a.part) < partIdOf(b.part) ? -1 : 1));
  return {
    candidates,
    others: unlisted,
    none,
    ...aggregated(table, logs),
    evidenceFor(id) {
      const number = table.numberOf(id);
      if (number === undefined) return [];
      return [
        {
          kind: 'unknown-part',
          says: 'a part nobody has catalogued would fit, too',
          decibans: -unknown * DECIBANS,
        },
        ...weighed.flatMap(({ kind, seen, weightOf }) => {
          const weight = weightOf(number);
          return Number.isNaN(weight) ? [] : [{ kind, says: seen, decibans: weight * DECIBANS }];
        }),
        ...inFixedOrder(judgements)
          .filter(({ part }) => part === id)
          .map(({ by, reason, decibans }) => ({
            kind: 'judgement' as const,
            says: `${by}: ${reason}`,
            decibans,
          })),
      ];
    },
  };
}

/**
 * How much likelier than at large a part nobody knows would be seen so: over the kinds of parts that it may be, as
 * often as each is used.
 */
function unknownLog(
  { sighting, habits, table, kinds }: PosteriorInput,
  byKind: readonly Float64Array[],
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

/** Share of each kind of part, by number of the category facet: from the priors of its parts. */
export function kindsOf(table: PartTable, priors: Float64Array): Float64Array {
  const { of, examples } = table.facet('category');
  const shares = new Float64Array(examples.length);
  for (let i = 0; i < priors.length; i++) shares[of[i]] += Math.exp(priors[i]);
  const sum = shares.reduce((total, one) => total + one, 0);
  return shares.map((one) => one / sum);
}

/** Likelihood of the marking: as the catalogue lists it, or once in a while something else. */
function addMarking(logs: Float64Array, ratios: ReadonlyMap<number, number>, { marking }: Sighting): Weighed {
  const unlisted = Math.log(UNLISTED_MARKING);
  const weightOf = (number: number) => {
    const ratio = ratios.get(number);
    if (ratio === undefined) return unlisted;
    const listed = ratio + Math.log(1 - UNLISTED_MARKING);
    return listed > unlisted
      ? listed + Math.log1p(Math.exp(unlisted - listed))
      : unlisted + Math.log1p(Math.exp(listed - unlisted));
  };
  for (let i = 0; i < logs.length; i++) logs[i] += unlisted;
  for (const number of ratios.keys()) logs[number] += weightOf(number) - unlisted;
  const lines = marking?.length ?? 0;
  return { kind: 'marking', seen: lines > 1 ? `the marking, ${lines} lines` : 'the marking', weightOf };
}

/** Weights already worked out: some evidence serves all components of a device. */
const weightsKnown = new WeakMap<Evidence, { readonly table: PartTable; readonly weights: Float64Array }>();

/** Weights of evidence by number of its facet's value; NaN: says nothing. */
function weightsOf(table: PartTable, evidence: Evidence): Float64Array {
  const known = weightsKnown.get(evidence);
  if (known?.table === table) return known.weights;
  const { examples } = table.facet(evidence.facet);
  const weights = new Float64Array(examples.length);
  for (let value = 0; value < weights.length; value++)
    weights[value] = evidence.weigh(examples[value]) ?? Number.NaN;
  weightsKnown.set(evidence, { table, weights });
  return weights;
}

function addEvidence(
  logs: Float64Array,
  table: PartTable,
  { kind, seen, facet: name }: Evidence,
  weights: Float64Array,
): Weighed {
  const { of } = table.facet(name);
  const sums = new Float64Array(weights.length);
  for (let value = 0; value < sums.length; value++)
    if (!Number.isNaN(weights[value])) sums[value] = weights[value];
  for (let i = 0; i < logs.length; i++) logs[i] += sums[of[i]];
  return { kind, seen, weightOf: (number) => weights[of[number]] };
}

function inFixedOrder(judgements: readonly Judgement[]): readonly Judgement[] {
  const keyOf = ({ part, decibans, by, reason }: Judgement) => JSON.stringify([part, decibans, by, reason]);
  return judgements.length < 2 ? judgements : judgements.toSorted((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
}

function aggregated(table: PartTable, probabilities: Float64Array): Pick<Posterior, 'categories' | 'makers'> {
  const summed = (name: 'categories' | 'maker') => {
    const { of, examples } = table.facet(name);
    const sums = new Float64Array(examples.length);
    for (let i = 0; i < probabilities.length; i++) sums[of[i]] += probabilities[i];
    return examples.flatMap((part, value) =>
      sums[value] >= LISTED ? [{ part, value, sum: sums[value] }] : [],
    );
  };
  const categories = new Map<string, number>();
  for (const { value, sum } of summed('categories')) {
    for (const term of table.terms[value])
      categories.set(term, Math.min(1, (categories.get(term) ?? 0) + sum));
  }
  return { categories, makers: new Map(summed('maker').map(({ part, sum }) => [part.maker, sum])) };
}
