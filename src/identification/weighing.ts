import { formatMarking } from '../model/marking.ts';
import { atLargeOf } from './at-large.ts';
import type { MarkingRatios } from './catalogue-index.ts';
import { type Evidence, evidenceOf, unknownOfKind } from './evidence.ts';
import type { HabitsWithout } from './habits.ts';
import { kinOf } from './kin.ts';
import type { PartTable } from './part-table.ts';
import type { Sighting } from './sighting.ts';

/** One deciban: a tenth of a factor of ten (Good 1950). */
export const DECIBANS = 10 / Math.LN10;
/** An editor's own judgement, entered as evidence for or against one part. */
export interface Judgement {
  readonly part: string;
  /** Weight of evidence in decibans: +10 makes the part ten times as likely as it was. */
  readonly decibans: number;
  readonly by: string;
  readonly reason: string;
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
export interface Weighing {
  readonly evidence: readonly Evidence[];
  /** Weights of each piece by number of its facet's value, natural logarithms; NaN: says nothing. */
  readonly weights: readonly (readonly number[])[];
  readonly marking: MarkingWeights | undefined;
  readonly judgements: readonly Judgement[];
  /** Evidence for a part that nobody knows and that is like none of the catalogue's, the marking aside. */
  readonly stranger: number;
  /** What that is the sum of, kind by kind, by number of the category facet. */
  readonly strangers: readonly number[];
}

/**
 * Weighs everything that was seen.
 * @param known the same of a sighting that differs in little, from the same lessons: what hangs on none of the differences is
 *   taken from there
 */
export function weighEvidence(input: PosteriorInput, known?: KnownWeighing): Weighing {
  const { sighting, habits, table, judgements } = input;
  const evidence = evidenceOf(
    sighting,
    habits,
    table,
    atLargeOf(input),
    known && { of: known.input.sighting, all: known.weighing.evidence },
  );
  const weights = evidence.map((one) => weightsOf(table, one));
  const { examples: kinds } = table.facet('category');
  const byKind = evidence.flatMap((one, i) => {
    if (one.facet === 'category') return [weights[i]];
    const { weighKind } = one;
    return weighKind ? [kinds.map(({ categories: [category] }) => weighKind(category))] : [];
  });
  const strangers = strangerKinds(input, byKind);
  const sum = strangers.reduce((total, one) => total + one, 0);
  return {
    evidence,
    weights,
    marking:
      known && known.input.marking === input.marking
        ? known.weighing.marking
        : markingWeights(input, kinOf(input)),
    judgements: inFixedOrder(judgements),
    stranger: sum > 0 ? Math.log(sum) : 0,
    strangers,
  };
}

/** What was weighed before. */
export interface KnownWeighing {
  readonly input: PosteriorInput;
  readonly weighing: Weighing;
}

/**
 * How much likelier than at large a part nobody knows would be seen so, were it of each kind, times how often that is used: the
 * sum of them is how much likelier it would be seen so at all.
 */
function strangerKinds(
  { sighting, habits, table, kinds }: PosteriorInput,
  byKind: readonly (readonly number[])[],
): readonly number[] {
  const logOf = unknownOfKind(sighting, habits);
  return table.facet('category').examples.map(({ categories: [category] }, kind) => {
    let log = logOf(category);
    for (const weights of byKind) log += weights[kind];
    return kinds[kind] * Math.exp(log);
  });
}

/** What a marking says of each part against a part nobody knows, natural logarithms. */
export interface MarkingWeights {
  readonly seen: string;
  /** Numbers of the parts whose listed markings fit at all, and what it says of each. */
  readonly parts: readonly number[];
  readonly weights: readonly number[];
  /** Of a part that it does not fit. */
  readonly unfit: number;
  /** How much likelier it is of a part that it does not fit where the entry lists no marking; by number of the part, whether. */
  readonly unlisted: { readonly more: number; readonly is: Uint8Array };
  /** Of a part that nobody knows, whichever part of the catalogue it is like otherwise. */
  readonly strange: number;
  /** What comes to that by likeness to the markings of some parts: their numbers, and how much. */
  readonly akin: { readonly parts: readonly number[]; readonly weights: readonly number[] };
}

/**
 * Likelihood of the marking: as the catalogue lists it, or once in a while something else, such as a customer's own.
 * Such a text is as strange as that of a part nobody knows which is no sibling of a known one: it follows a known format at most.
 * So how long it is speaks neither for nor against the catalogue.
 * @param kin shares of the parts of the catalogue that a part nobody knows may be like
 */
function markingWeights(input: PosteriorInput, kin: Float64Array): MarkingWeights | undefined {
  const { sighting, habits, marking } = input;
  if (!marking) return undefined;
  const { parts, ratios, uncatalogued, foreign, unlisted } = marking;
  const listing = habits.agreement('marking');
  const other = Math.log(1 - listing) + foreign;
  const number = habits.agreement('number');
  const otherThanNumber = Math.log(1 - number) + foreign;
  const listed = Math.log(listing);
  const akin = uncatalogued.parts.reduce(
    (sum, part, at) => sum + kin[part] * Math.exp(uncatalogued.ratios[at]),
    0,
  );
  const ofUnknown = logSum(Math.log(Math.exp(uncatalogued.strange) + akin) + listed, other);
  return {
    // Formatted only on request: numbers are calculated far more often than texts.
    get seen() {
      return `marking "${formatMarking(sighting.marking ?? []).replaceAll('\n', ' / ')}"`;
    },
    parts,
    weights: ratios.map((ratio, at) =>
      unlisted[parts[at]] === 1
        ? logSum(ratio + Math.log(number), otherThanNumber) - ofUnknown
        : logSum(ratio + listed, other) - ofUnknown,
    ),
    unlisted: { more: otherThanNumber - other, is: unlisted },
    unfit: other - ofUnknown,
    strange: logSum(uncatalogued.strange + listed, other) - ofUnknown,
    akin: {
      parts: uncatalogued.parts,
      weights: uncatalogued.ratios.map((ratio) => ratio + listed - ofUnknown),
    },
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
