import { atLargeOf } from './at-large.ts';
import type { MarkingRatios } from './catalogue-index.ts';
import { BODY_AGREES, bodySpread, type EvidenceKind, LOOKS_AGREE } from './evidence.ts';
import { packageKey } from './habits.ts';
import { massesOf } from './masses.ts';
import { type FacetName, sizeKey } from './part-table.ts';
import type { Sighting } from './sighting.ts';
import { type PosteriorInput, type Weighing, weighEvidence } from './weighing.ts';

// What a further look at a component may show, how likely each is, and what the odds would be then. Likely is what the odds of
// now say together with the likelihoods that the odds are made of; what would follow is worked out as any odds are.

/** Something that a look may show. */
export interface Outcome {
  /** How likely; shares of the outcomes of one look need not sum to 1. */
  readonly share: number;
  /** What of the sighting it changes. */
  readonly changes: Partial<Sighting>;
  /** What the marking says then; undefined where it says what it did. */
  readonly marking?: MarkingRatios;
}

/** Outcomes that are worked out, the likeliest, and how much of all they must make up at most. */
const OUTCOMES = 60;
const COVERED = 0.995;
/** Sizes of bodies that are worked out with their spread: those likelier than this. */
const SPREAD_OUT = 0.02;
/** Nodes and weights of a normal distribution (Gauss and Hermite, three points). */
const NODES = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const;

/** Odds of now, and what may come. */
export class Foresight {
  readonly input: PosteriorInput;
  readonly weighing: Weighing;
  /** Probability of each part of the catalogue, by number. */
  readonly parts: Float64Array;
  /** Probability that it is none of them, like each, and looks so. */
  readonly alike: Float64Array;
  /** Probability that it is none of them and looks like none, by number of the category facet, and of all kinds. */
  readonly unlike: Float64Array;
  readonly strangers: number;
  readonly none: number;
  /** Entropy of what it is, bits: each part, or none. */
  readonly bits: number;
  readonly #sums = new Map<FacetName, Float64Array>();

  constructor(input: PosteriorInput) {
    this.input = input;
    this.weighing = weighEvidence(input);
    this.alike = new Float64Array(input.priors.length);
    const { probabilities, none, unlike } = massesOf(input, this.weighing, this.alike);
    this.parts = probabilities.slice(0, input.priors.length);
    this.none = none;
    this.unlike = unlike ?? new Float64Array();
    this.strangers = this.unlike.reduce((sum, one) => sum + one, 0);
    this.bits = bitsOf(this.parts, none);
  }

  /** Entropy after an outcome, bits. */
  bitsAfter({ changes, marking = this.input.marking }: Omit<Outcome, 'share'>): number {
    const input = { ...this.input, sighting: { ...this.input.sighting, ...changes }, marking };
    const { probabilities, none } = massesOf(input, weighEvidence(input, this));
    return bitsOf(probabilities.subarray(0, input.priors.length), none);
  }

  /** By how much the entropy falls on average, bits, never below 0. */
  expectedFall(outcomes: readonly Outcome[]): number {
    const sorted = outcomes.filter(({ share }) => share > 0).sort((a, b) => b.share - a.share);
    const whole = sorted.reduce((sum, { share }) => sum + share, 0);
    let [covered, fall] = [0, 0];
    for (const one of sorted.slice(0, OUTCOMES)) {
      covered += one.share;
      fall += one.share * (this.bits - this.bitsAfter(one));
      if (covered >= COVERED * whole) break;
    }
    return covered === 0 ? 0 : Math.max(0, fall / covered);
  }

  /** Probability of each value of a facet: of a part that has it, in the catalogue or not. */
  sumsOf(name: FacetName): Float64Array {
    let sums = this.#sums.get(name);
    if (!sums) {
      const { of, examples } = this.input.table.facet(name);
      sums = new Float64Array(examples.length);
      for (let i = 0; i < of.length; i++) sums[of[i]] += this.parts[i] + this.alike[i];
      this.#sums.set(name, sums);
    }
    return sums;
  }

  /** Probability of each kind, by number of the category facet. */
  kinds(): Float64Array {
    return this.sumsOf('category').map((sum, kind) => sum + this.unlike[kind]);
  }

  /** How likely a look is to show just this. */
  #shareOf(kind: EvidenceKind, changes: Partial<Sighting>): number {
    const { sighting } = this.input;
    const { evidence } = weighEvidence({ ...this.input, sighting: { ...sighting, ...changes } }, this);
    const one = evidence.find((piece) => piece.kind === kind);
    if (!one?.foreseen) return 0;
    const { of, atLarge } = one.foreseen;
    const { examples } = this.input.table.facet(one.facet);
    return this.sumsOf(one.facet).reduce(
      (sum, mass, value) => (mass > 0 ? sum + mass * (of(examples[value]) ?? atLarge) : sum),
      this.strangers * atLarge,
    );
  }

  /** Packages that it may turn out to be in. */
  packages(): readonly Outcome[] {
    const { table, habits } = this.input;
    const names = new Map<string, string>();
    for (const key of habits.values('package').keys()) names.set(key, key);
    for (const { package: name } of table.facet('package').examples)
      if (name !== undefined) names.set(packageKey(name), name);
    return [...names.values()].map((name) => ({
      share: this.#shareOf('package', { package: name }),
      changes: { package: name },
    }));
  }

  /** Numbers of terminals that may be counted. */
  counts(): readonly Outcome[] {
    const { table, habits } = this.input;
    const counts = new Set<number>();
    for (const written of habits.values('pins').keys()) counts.add(Number(written));
    const sums = this.sumsOf('pins');
    table.facet('pins').examples.forEach(({ pins }, value) => {
      if (!pins) return;
      counts.add(pins);
      // Now and then the count is off by one, or takes the pad below in.
      if (sums[value] > 0.01) counts.add(pins + 1).add(Math.max(1, pins - 1));
    });
    return [...counts].map((pins) => ({ share: this.#shareOf('pin-count', { pins }), changes: { pins } }));
  }

  /** Sizes that may be measured. */
  bodies(): readonly Outcome[] {
    const { table, sighting } = this.input;
    const { examples } = table.facet('body');
    const sums = this.sumsOf('body');
    const name = sighting.package;
    const unknown = atLargeOf(this.input);
    const all = unknown.sizesOf(undefined);
    const given = name === undefined ? undefined : unknown.sizesOf(packageKey(name));
    // Of a part whose size the catalogue lacks, one that is like none, and one that was measured wrong: a size of its package, or of all.
    const known = examples.reduce((sum, { body }, value) => (body ? sum + sums[value] : sum), 0);
    const atLarge = 1 - BODY_AGREES * known;
    const shareAtLarge = (key: string) => {
      const any = (all.counts.get(key) ?? 0) / (all.whole + 1);
      return given ? ((given.counts.get(key) ?? 0) + any) / (given.whole + 1) : any;
    };
    return examples.flatMap((one, value): readonly Outcome[] => {
      const { body } = one;
      if (!body) return [];
      const share = BODY_AGREES * sums[value] + atLarge * shareAtLarge(sizeKey(one));
      const [longer, shorter] = [Math.max(body.length, body.width), Math.min(body.length, body.width)];
      if (share < SPREAD_OUT) return [{ share, changes: { body: [longer, shorter] } }];
      return NODES.flatMap(([a, p]) =>
        NODES.map(([b, q]) => ({
          share: share * p * q,
          changes: { body: [longer + a * bodySpread(longer), shorter + b * bodySpread(shorter)] as const },
        })),
      );
    });
  }

  /** What a trace may lead to, or which bus a probe may show, by what parts of each kind are connected to elsewhere. */
  connections(table: 'neighbour' | 'bus'): readonly Outcome[] {
    const { habits, sighting, table: parts } = this.input;
    const kinds = this.kinds();
    const { examples } = parts.facet('category');
    return [...habits.values(table).keys()].map((seen) => ({
      share: kinds.reduce(
        (sum, mass, kind) => sum + mass * habits.shareGiven(table, examples[kind].categories[0], seen),
        0,
      ),
      changes: {
        neighbours: [
          ...sighting.neighbours,
          table === 'bus' ? { category: undefined, bus: seen } : { category: seen, bus: undefined },
        ],
      },
    }));
  }

  /** Kinds that a look through or under what covers it may show. */
  appearances(): readonly Outcome[] {
    const kinds = this.kinds();
    const whole = kinds.reduce((sum, one) => sum + one, 0);
    const others = Math.max(1, kinds.length - 1);
    return this.input.table.facet('category').examples.map(({ categories: [appears] }, kind) => ({
      share: LOOKS_AGREE * kinds[kind] + ((1 - LOOKS_AGREE) * (whole - kinds[kind])) / others,
      changes: { appears },
    }));
  }
}

function bitsOf(probabilities: Float64Array, none: number): number {
  let nats = none > 0 ? -none * Math.log(none) : 0;
  for (let i = 0; i < probabilities.length; i++) {
    const p = probabilities[i];
    if (p > 1e-12) nats -= p * Math.log(p);
  }
  return nats / Math.LN2;
}
