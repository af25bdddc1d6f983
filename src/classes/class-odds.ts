import { isUnder } from '../model/taxonomy.ts';
import { CLASSES, CLUES, type ClassRow, type LogNormal, rowOf } from './class-table.ts';
import type { NeighbourClues } from './neighbour-clues.ts';

// What a chip may be by what hangs on it, how many terminals it has and how large it is: naive Bayes over the classes of
// schema/class-neighbours.yaml, each clue a Bernoulli variable (McCallum and Nigam 1998). Rows of the table are what is
// believed before an archive has taught anything, and count as STRENGTH chips each; what was counted is drawn towards them by
// gamma-Poisson shrinkage (DuMouchel 1999): expected = what the rows predict, at the rate at which the archive records such a
// clue at all, so that boards of which little was traced do not make everything rare.

/** Chips that a row of the table counts as: the one number that says how soon an archive outweighs it (chosen, no source). */
export const STRENGTH = 10;
/** What clues count of themselves: they repeat one another's news (fitted; tests/identification/class-odds.test.ts). */
export const SHARES = { neighbours: 0.7, pins: 0.8, size: 0.7 };
/** Share of "none of these" that goes to classes that were never seen with such letters and package (chosen, no source). */
const UNSEEN_CLASSES = 0.5;

/** What boards have taught: chips of each class, and how often each clue was seen on them. */
export interface Taught {
  /** Chips of each class, by its place in the table. */
  readonly chips: readonly number[];
  /** Clues seen, by class and clue. */
  readonly seen: readonly (readonly number[])[];
}

export const NOTHING_TAUGHT: Taught = {
  chips: CLASSES.map(() => 0),
  seen: CLASSES.map(() => CLUES.map(() => 0)),
};

/** Sums of what several boards have taught. */
export function taughtTogether(all: readonly Taught[]): Taught {
  return {
    chips: CLASSES.map((_, at) => all.reduce((sum, one) => sum + one.chips[at], 0)),
    seen: CLASSES.map((_, at) =>
      CLUES.map((_c, clue) => all.reduce((sum, one) => sum + one.seen[at][clue], 0)),
    ),
  };
}

/** The table with what was taught: ready to weigh chips. */
export class ClassModel {
  /** Weights of each clue for each class where it is there and where it is not, natural logarithms against any chip. */
  readonly #present: readonly Float64Array[];
  readonly #absent: readonly Float64Array[];
  readonly #bounds: readonly number[];

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
    const large = CLUES.map((_, clue) =>
      CLASSES.reduce((sum, row, at) => sum + row.share * has[at][clue], 0),
    );
    this.#bounds = CLASSES.map((_, at) => Math.log(taught.chips[at] + STRENGTH + 1));
    const bounded = (log: number, at: number) => Math.max(-this.#bounds[at], Math.min(this.#bounds[at], log));
    this.#present = CLASSES.map((_, at) => has[at].map((p, clue) => bounded(Math.log(p / large[clue]), at)));
    this.#absent = CLASSES.map((_, at) =>
      has[at].map((p, clue) => bounded(Math.log((1 - p) / (1 - large[clue])), at)),
    );
  }

  /** Weight of each clue for a class, natural logarithm; 0 where it says nothing. */
  weightsOf({ has, isFull }: NeighbourClues, row: ClassRow): readonly number[] {
    return has.map((p, clue) => {
      const present = p === 0 ? 0 : Math.log(1 - p + p * Math.exp(this.#present[row.at][clue]));
      const absent = isFull && p < 1 ? (1 - p) * this.#absent[row.at][clue] : 0;
      return SHARES.neighbours * (present + absent);
    });
  }
}

/** What else is known of a chip. */
export interface ChipLooks {
  readonly pins: number | undefined;
  /** Longer side, mm. */
  readonly body: number | undefined;
}

/** Weight of terminals and size for a class, natural logarithm against any chip. */
export function sizeWeight({ pins, body }: ChipLooks, row: ClassRow): number {
  let log = 0;
  if (pins !== undefined) log += lift(Math.log(pins), row, (one) => one.pins);
  if (body !== undefined) log += lift(Math.log(body), row, (one) => one.body);
  const bound = Math.log(STRENGTH + 1);
  return Math.max(-bound, Math.min(bound, SHARES.size * log));
}

function lift(x: number, row: ClassRow, of: (row: ClassRow) => LogNormal): number {
  const large = CLASSES.reduce((sum, one) => sum + one.share * density(x, of(one)), 0);
  return Math.log((density(x, of(row)) + 1e-4) / (large + 1e-4));
}

function density(x: number, { mean, deviation }: LogNormal): number {
  return Math.exp(-(((x - mean) / deviation) ** 2) / 2) / deviation;
}

/** A class that a chip may be, before and after what hangs on it. */
export interface Hypothesis {
  readonly term: string;
  readonly row: ClassRow | undefined;
  readonly prior: number;
  readonly log: number;
  readonly probability: number;
}

/**
 * Probability of each class; what they leave to 1 is none of these.
 * @param spread kinds by class letters and package
 * @param pinsOf weight of what the pins hang on, natural logarithm; undefined where the pins say nothing
 */
export function classOdds(
  spread: readonly { readonly category: string; readonly probability: number }[],
  model: ClassModel,
  clues: NeighbourClues | undefined,
  looks: ChipLooks,
  pinsOf: (term: string) => number | undefined,
  isPossible: (term: string) => boolean = () => true,
): readonly Hypothesis[] {
  const listed = spread.map(({ category, probability }) => ({ term: category, prior: probability }));
  const open = 1 - listed.reduce((sum, { prior }) => sum + prior, 0);
  const unseen = CLASSES.filter(
    ({ term }) =>
      isPossible(term) && !listed.some((one) => isUnder(one.term, term) || isUnder(term, one.term)),
  );
  const share = unseen.reduce((sum, one) => sum + one.share, 0);
  const hypotheses = [
    ...listed,
    ...unseen.map((row) => ({ term: row.term, prior: (UNSEEN_CLASSES * open * row.share) / share })),
  ].map((one) => {
    const row = rowOf(one.term);
    const pins = SHARES.pins * (pinsOf(one.term) ?? 0);
    const near = row && clues ? model.weightsOf(clues, row).reduce((sum, w) => sum + w, 0) : 0;
    return { ...one, row, log: pins + near + (row ? sizeWeight(looks, row) : 0) };
  });
  const none = 1 - hypotheses.reduce((sum, { prior }) => sum + prior, 0);
  const whole = hypotheses.reduce((sum, { prior, log }) => sum + prior * Math.exp(log), none);
  return hypotheses
    .map((one) => ({ ...one, probability: (one.prior * Math.exp(one.log)) / whole }))
    .sort((a, b) => b.probability - a.probability || (a.term < b.term ? -1 : 1));
}
