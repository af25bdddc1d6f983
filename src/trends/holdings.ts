import { recordOfId } from '../model/ids.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { Home } from '../state/home.ts';
import { CERTAIN } from '../state/labels.ts';
import { Names } from '../state/names.ts';
import { readingsOf } from '../state/readings.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { View } from '../state/view.ts';
import { tidy } from '../statistics/tidy.ts';

/** What one specimen may hold of one thing: a term of the taxonomy, a part, or a maker of parts. */
export interface Held {
  /** Probability that at least one component is one; components are taken as independent. */
  readonly atLeastOne: number;
  /** Sum of the probabilities: the expected number of components. */
  readonly expected: number;
  /** Variance of that number, components being independent. */
  readonly variance: number;
  /** Components that are one with probability 0.95 or more. */
  readonly certain: number;
  /** Components that are one at least as likely as not. */
  readonly likely: number;
  /** Components that may be one at all. */
  readonly possible: number;
}

const NOTHING: Held = { atLeastOne: 0, expected: 0, variance: 0, certain: 0, likely: 0, possible: 0 };

/**
 * What every specimen may hold, for questions over the whole archive: a few kB a specimen. The component columns
 * know the likeliest category and part alone; a chip with two functions, or one that may be either of two, has more.
 * Reads dossiers when first asked, and again only those that have changed since.
 */
export class Holdings {
  /** Terms begin with a capital, parts hold a slash, makers neither: one space of numbers serves all. */
  readonly #names = new Names();
  readonly #rows = new WeakMap<SpecimenRow, Row>();
  /** Reads what has changed; what {@link of} says is current until others get their turn. */
  readonly catchUp: (view: View, signal?: AbortSignal) => Promise<void>;

  constructor(home: Home) {
    this.catchUp = readingsOf(home).add({
      needs: (row) => !this.#rows.has(row),
      take: (row, specimen) => this.#rows.set(row, rowOf(specimen, this.#names)),
    });
  }

  /** Number by which {@link of} knows a term, a part id or a maker id; undefined when no specimen may hold one. */
  find(name: string): number | undefined {
    return this.#names.find(name);
  }

  of(specimen: SpecimenRow, number: number | undefined): Held {
    const row = number === undefined ? undefined : this.#rows.get(specimen);
    return row?.find(number as number) ?? NOTHING;
  }
}

/** Columns of {@link Row}: whole numbers, and fractions. */
const COUNTS = 4;
const SHARES = 3;

/** One specimen, packed; things by rising number. */
class Row {
  readonly #counts: Uint32Array;
  readonly #shares: Float64Array;

  constructor(counts: Uint32Array, shares: Float64Array) {
    this.#counts = counts;
    this.#shares = shares;
  }

  find(number: number): Held | undefined {
    let low = 0;
    let high = this.#counts.length / COUNTS - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = this.#counts[middle * COUNTS];
      if (at === number) return this.#at(middle);
      if (at < number) low = middle + 1;
      else high = middle - 1;
    }
    return undefined;
  }

  #at(place: number): Held {
    const [, certain, likely, possible] = this.#counts.subarray(place * COUNTS);
    const [atLeastOne, expected, variance] = this.#shares.subarray(place * SHARES);
    return { atLeastOne, expected, variance, certain, likely, possible };
  }
}

type Sum = { -readonly [K in keyof Held]: number } & { none: number };

function rowOf(specimen: OpenedSpecimen, names: Names): Row {
  const sums = new Map<number, Sum>();
  for (const designator of specimen.components.keys()) {
    for (const [name, weight] of weightsOf(specimen, designator)) {
      if (weight <= 0) continue;
      const number = names.numberOf(name);
      let sum = sums.get(number);
      if (!sum) {
        sum = { ...NOTHING, none: 1 };
        sums.set(number, sum);
      }
      sum.none *= 1 - weight;
      sum.expected += weight;
      sum.variance += weight * (1 - weight);
      sum.possible++;
      if (weight >= 0.5) sum.likely++;
      if (weight >= CERTAIN) sum.certain++;
    }
  }
  const counts = new Uint32Array(sums.size * COUNTS);
  const shares = new Float64Array(sums.size * SHARES);
  [...sums.keys()]
    .sort((a, b) => a - b)
    .forEach((number, place) => {
      const { none, expected, variance, certain, likely, possible } = sums.get(number) as Sum;
      counts.set([number, certain, likely, possible], place * COUNTS);
      // Nine digits, as patterns have: enough for any use, and free of the dust of binary fractions.
      shares.set([tidy(1 - none), tidy(expected), tidy(variance)], place * SHARES);
    });
  return new Row(counts, shares);
}

/** Probability that a component is each term, part, and part of a maker. Rival candidates exclude one another. */
function weightsOf({ labels, identified }: OpenedSpecimen, designator: string): ReadonlyMap<string, number> {
  const weights = new Map(labels.get(designator));
  const add = (name: string, probability: number) =>
    weights.set(name, Math.min(1, (weights.get(name) ?? 0) + probability));
  for (const { part, maker, probability } of identified.get(designator)?.candidates ?? []) {
    if (part !== undefined) add(part, probability);
    const makerOf = part === undefined ? maker : recordOfId(part);
    if (makerOf !== undefined) add(makerOf, probability);
  }
  return weights;
}

/** The holdings of a view's archive, current; ask only for specimens that the view may see. */
export async function holdingsOf(view: View, signal?: AbortSignal): Promise<Holdings> {
  const holdings = view.home.kept(makeHoldings);
  await holdings.catchUp(view, signal);
  return holdings;
}

function makeHoldings(home: Home): Holdings {
  return new Holdings(home);
}
