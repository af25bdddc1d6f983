import type { Component } from '../model/dossier.ts';
import { isUnder, PACKING } from '../model/taxonomy.ts';
import { tidy } from '../statistics/tidy.ts';
import type { Board } from './board.ts';
import { pinoutClassOf } from './class-pinouts.ts';
import { CLASSES, CLUES, type ClassRow, type LogNormal, rowOf } from './class-table.ts';
import { NOTHING_TAUGHT, type Taught } from './lessons.ts';
import { type Looks, looksOf } from './looks.ts';
import type { NeighbourClues, Neighbourhood } from './neighbour-clues.ts';
import { type NetClues, netCluesOf } from './net-clues.ts';
import { classFitOf } from './pinout-fit.ts';

// What a chip may be by what hangs on it, how many terminals it has and how large it is: naive Bayes over the classes of
// schema/class-neighbours.yaml, each clue a Bernoulli variable (McCallum and Nigam 1998). Rows of the table are what is
// believed before an archive has taught anything, and count as STRENGTH chips each; what was counted is drawn towards them by
// gamma-Poisson shrinkage (DuMouchel 1999): expected = what the rows predict, at the rate at which the archive records such a
// clue at all, so that boards of which little was traced do not make everything rare.

/** Chips that a row of the table counts as: the one number that says how soon an archive outweighs it (chosen, no source). */
export const STRENGTH = 10;
/**
 * Working values; tests/classes/held-out.test.ts says what comes of them. `traced`: what neighbours count of themselves on a chip of
 * which not every pin was followed, since what was followed is no fair draw of what hangs there. `pins`: the fit of the pins beside
 * neighbours, since pins hang on the same neighbours. `sizeBesidePackage`: terminals and size where the package has told much of them.
 */
const SHARES = { traced: 0.7, pins: 0.5, sizeBesidePackage: 0.5 };
/** Share of "none of these" that goes to classes hardly ever seen with such letters and package (chosen, no source). */
const UNSEEN_CLASSES = 0.8;
/** A class of which no usual arrangement has so many pins comes with them once in twenty times (common practice, no source). */
const OTHER_PINS = Math.log(0.05);
/** Pins alone never weigh more than 1 to 10,000, and half of that beside neighbours. */
const MAX_PINS = Math.log(10_000);
/** Minimum share of none of these: what hangs on a chip alone never makes a class certain (0.95). */
const OPEN_SHARE = 0.06;
/** Classes less likely than this go into none of these. */
const LISTED = 0.002;

/** The table with what was taught: ready to weigh chips. */
export class ClassModel {
  /** Weights of each clue for each class where it is there and where it is not, natural logarithms against any chip. */
  readonly #present: readonly Float64Array[];
  readonly #absent: readonly Float64Array[];
  readonly #has: readonly Float64Array[];

  constructor(taught: Taught = NOTHING_TAUGHT) {
    const has = CLASSES.map((row) => Float64Array.from(row.has));
    CLUES.forEach((_, clue) => {
      let [seen, predicted] = [0, 0];
      CLASSES.forEach((row, at) => {
        seen += taught.seen[at][clue];
        predicted += taught.chips[at] * row.has[clue];
      });
      const rate = (seen + STRENGTH) / (predicted + STRENGTH);
      CLASSES.forEach((row, at) => {
        const expected = taught.chips[at] * row.has[clue] * rate;
        const strength = STRENGTH * row.has[clue];
        has[at][clue] = Math.min(
          0.98,
          (row.has[clue] * (taught.seen[at][clue] + strength)) / (expected + strength),
        );
      });
    });
    this.#has = has;
    const large = CLUES.map((_, clue) =>
      CLASSES.reduce((sum, row, at) => sum + row.share * has[at][clue], 0),
    );
    // A clue seen on n chips weighs at most a factor of n + 1.
    const bounds = CLASSES.map((_, at) => Math.log(taught.chips[at] + STRENGTH + 1));
    this.#present = CLASSES.map((_, at) =>
      has[at].map((p, clue) => within(bounds[at], Math.log(p / large[clue]))),
    );
    this.#absent = CLASSES.map((_, at) =>
      has[at].map((p, clue) => within(bounds[at], Math.log((1 - p) / (1 - large[clue])))),
    );
  }

  /** Probability that a chip of a class has a clue, by places in the table. */
  probabilityOf(row: ClassRow, clue: number): number {
    return this.#has[row.at][clue];
  }

  /** Weight of each clue for a class, natural logarithm; 0 where it says nothing. */
  weightsOf({ has, isFull }: NeighbourClues, row: ClassRow): readonly number[] {
    return has.map((p, clue) => this.#weightOf(p, clue, row.at, isFull));
  }

  /** Their sum. */
  weightOf({ has, isFull }: NeighbourClues, row: ClassRow): number {
    let sum = 0;
    for (let clue = 0; clue < has.length; clue++)
      if (isFull || has[clue] > 0) sum += this.#weightOf(has[clue], clue, row.at, isFull);
    return sum;
  }

  #weightOf(p: number, clue: number, at: number, isFull: boolean): number {
    if (p === 0) return isFull ? this.#absent[at][clue] : 0;
    const weight = this.#present[at][clue];
    const there = p === 1 ? weight : Math.log1p(p * Math.expm1(weight));
    return isFull ? there + (1 - p) * this.#absent[at][clue] : SHARES.traced * there;
  }
}

/** Weight of terminals and size for each class, natural logarithm against any chip, by place in the table. */
function sizeWeights({ pins, body, package: outline }: Looks): readonly number[] {
  const logs = CLASSES.map(() => 0);
  const add = (size: number | undefined, of: (row: ClassRow) => LogNormal) => {
    if (size === undefined) return;
    const densities = CLASSES.map((row) => density(Math.log(size), of(row)) + HARDLY);
    const large = CLASSES.reduce((sum, { share }, at) => sum + share * densities[at], 0);
    densities.forEach((one, at) => {
      logs[at] += Math.log(one / large);
    });
  };
  add(pins, (row) => row.pins);
  add(body?.[0], (row) => row.body);
  const share = outline === undefined ? 1 : SHARES.sizeBesidePackage;
  return logs.map((log) => within(Math.log(STRENGTH + 1), share * log));
}

/** Density of a size that no class has: nothing is impossible. */
const HARDLY = 1e-4;

function density(x: number, { mean, deviation }: LogNormal): number {
  return Math.exp(-(((x - mean) / deviation) ** 2) / 2) / deviation;
}

function within(bound: number, log: number): number {
  return Math.max(-bound, Math.min(bound, log));
}

/** A class that a chip may be. */
export interface ClassOdds {
  readonly term: string;
  /** Its row; undefined for what the table has not. */
  readonly row: ClassRow | undefined;
  readonly probability: number;
  /** Probability by class letters and package alone. */
  readonly prior: number;
  /** Weights against any chip, natural logarithms: what the pins hang on, terminals and size, and each clue. */
  readonly pins: number;
  readonly size: number;
  readonly near: readonly number[];
}

/** What a chip may be, with what it was told by. */
export interface ChipOdds {
  /** Likeliest first; what they leave to 1 is none of these. */
  readonly classes: readonly ClassOdds[];
  readonly clues: NeighbourClues;
  readonly nets: NetClues | undefined;
  /** Whether anything is known to be joined to it. */
  readonly isTold: boolean;
  readonly looks: Looks;
  /** What it was weighed with. */
  readonly model: ClassModel;
}

/**
 * Probability of each class that a chip may be.
 * @param around what hangs on the chips of its board
 * @param spread kinds by class letters and package
 */
export function chipOddsOf(
  board: Board,
  around: Neighbourhood,
  component: Component,
  spread: Spread,
  model: ClassModel,
): ChipOdds {
  const looks = looksOf(board, component);
  const clues = around.of(component.id);
  const nets = netCluesOf(board, component, looks);
  const sizes = sizeWeights(looks);
  const hypotheses = hypothesesOf(spread, looks.appears);
  const logs = hypotheses.map(({ term, row }) => {
    const pins = SHARES.pins * pinWeight(term, nets);
    return row ? model.weightOf(clues, row) + sizes[row.at] + pins : pins;
  });
  const masses = hypotheses.map(({ prior }, at) => prior * Math.exp(logs[at]));
  const none = 1 - hypotheses.reduce((sum, { prior }) => sum + prior, 0);
  const named = masses.reduce((sum, mass) => sum + mass, 0);
  const scale = Math.min(1 / (named + none), (1 - OPEN_SHARE) / named);
  const classes = hypotheses.flatMap(({ term, row, prior }, at): readonly ClassOdds[] => {
    const probability = Number((masses[at] * scale).toFixed(4));
    if (probability < LISTED) return [];
    const pins = SHARES.pins * pinWeight(term, nets);
    return [
      {
        ...{ term, row, prior, probability, pins },
        size: row ? sizes[row.at] : 0,
        // Wanted for words alone.
        get near() {
          return row ? model.weightsOf(clues, row) : [];
        },
      },
    ];
  });
  return {
    ...{ clues, nets, looks, model },
    isTold: around.isJoined(component.id),
    classes: classes.sort((a, b) => b.probability - a.probability || (a.term < b.term ? -1 : 1)),
  };
}

type Spread = readonly { readonly category: string; readonly probability: number }[];
interface Hypothesis {
  readonly term: string;
  readonly row: ClassRow | undefined;
  readonly prior: number;
}

/** Hypotheses by the spread that they begin from, and by looks: many chips share both. */
const known = new WeakMap<Spread, Map<string | undefined, readonly Hypothesis[]>>();

function hypothesesOf(spread: Spread, appears: string | undefined): readonly Hypothesis[] {
  let byLooks = known.get(spread);
  if (!byLooks) {
    byLooks = new Map();
    known.set(spread, byLooks);
  }
  let found = byLooks.get(appears);
  if (!found) {
    found = hypothesesFrom(spread, appears);
    byLooks.set(appears, found);
  }
  return found;
}

/** The kinds of a spread, and a share of what they leave to 1 for the classes that are not among them. */
function hypothesesFrom(spread: Spread, appears: string | undefined): readonly Hypothesis[] {
  const listed = spread.map(({ category, probability }) => ({ term: category, prior: probability }));
  const open = 1 - listed.reduce((sum, { prior }) => sum + prior, 0);
  const unseen = CLASSES.filter(
    ({ term }) =>
      isPossible(term, appears) && !listed.some((one) => isUnder(one.term, term) || isUnder(term, one.term)),
  );
  const shares = unseen.reduce((sum, { share }) => sum + share, 0);
  return [
    ...listed,
    ...unseen.map(({ term, share }) => ({ term, prior: (UNSEEN_CLASSES * open * share) / shares })),
  ].map((one) => ({ ...one, row: rowOf(one.term) }));
}

/** Whether a class fits what a component plainly is. */
function isPossible(term: string, appears: string | undefined): boolean {
  if (appears === undefined || PACKING.has(appears)) return true;
  return isUnder(term, appears) || isUnder(appears, term);
}

/** Weight of the pins for a class, natural logarithm. */
function pinWeight(term: string, nets: NetClues | undefined): number {
  if (!nets || nets.pins.length === 0 || pinoutClassOf(term) === undefined) return 0;
  return within(MAX_PINS, classFitOf(nets, term)?.log ?? OTHER_PINS);
}

/** Classes that cannot be told apart, under the name that an engineer gives them. */
export interface NamedClass {
  readonly is: string;
  readonly probability: number;
  /** Its kinds, likeliest first. */
  readonly kinds: readonly ClassOdds[];
}

/** Odds by the name that an engineer gives, likeliest first. */
export function byName(classes: readonly ClassOdds[]): readonly NamedClass[] {
  const named = Map.groupBy(classes, ({ row, term }) => row?.is ?? term);
  return [...named]
    .map(([is, kinds]) => ({
      is,
      kinds,
      probability: tidy(kinds.reduce((sum, one) => sum + one.probability, 0)),
    }))
    .sort((a, b) => b.probability - a.probability || (a.is < b.is ? -1 : 1));
}
