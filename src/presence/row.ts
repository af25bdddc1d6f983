import type { Component } from '../model/dossier.ts';
import { parseMemberId, pinOf, recordOfId } from '../model/ids.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import { Names } from '../state/names.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { mayBe, type OpenShare, openSharesOf } from '../state/unnamed/open-kinds.ts';
import type { KindSpread } from '../state/unnamed/unnamed-kinds.ts';
import { tidy } from '../statistics/tidy.ts';

/** How much of one thing a specimen may have: a term of the taxonomy, a part, or a maker of parts. */
export interface Amount {
  /** Probability of at least one such component; components are taken as independent. */
  readonly probability: number;
  /** Sum of the probabilities: the expected number of such components. */
  readonly expected: number;
  /** Variance of that number. */
  readonly variance: number;
  /** Such components with probability 0.95 or more. */
  readonly certain: number;
  /** Such components with probability 0.5 or more. */
  readonly likely: number;
  /** Such components with probability 0.05 or more. */
  readonly possible: number;
}

export const NONE: Amount = {
  probability: 0,
  expected: 0,
  variance: 0,
  certain: 0,
  likely: 0,
  possible: 0,
};

/**
 * Numbers of terms, part ids and maker ids: terms begin with a capital, parts hold a slash, makers neither, so one
 * space of numbers serves all, in every archive of the process.
 */
const names = new Names();

/** Number of a term, part or maker in a {@link PresenceRow}; undefined when no specimen read so far may have it. */
export function numberOf(name: string): number | undefined {
  return names.find(name);
}

/** Whether a name is that of a part, and neither a term nor a maker. */
export function isPart(name: string): boolean {
  return parseMemberId(name) !== undefined;
}

/** Columns: whole numbers, and fractions. */
const COUNTS = 6;
const SHARES = 4;

/** What a {@link PresenceRow} holds. */
export interface HeldPresence
  extends Pick<PresenceRow, 'lists' | 'inventoried' | 'bench' | 'hasNets' | 'unnamed' | 'learnt'> {
  readonly open: readonly OpenShare[];
  readonly counts: Uint32Array;
  readonly shares: Float64Array;
}

/** Every text that has a number in {@link PresenceRow}s, by its number. */
export function numberedNames(): readonly string[] {
  return names.all;
}

/**
 * Rows of another process with the numbers of this one.
 * @param texts by the other's numbers, the empty text first
 */
export function renumbering(texts: readonly string[]): (held: HeldPresence) => HeldPresence {
  const numbers = texts.map((text) => names.numberOf(text));
  if (numbers.every((number, at) => number === at)) return (held) => held;
  return (held) => {
    const rows = held.counts.length / COUNTS;
    const placed = Array.from({ length: rows }, (_, row) => ({
      row,
      number: numbers[held.counts[row * COUNTS]] as number,
    }));
    placed.sort((a, b) => a.number - b.number);
    const counts = new Uint32Array(held.counts.length);
    const shares = new Float64Array(held.shares.length);
    placed.forEach(({ row, number }, at) => {
      counts.set(held.counts.subarray(row * COUNTS, (row + 1) * COUNTS), at * COUNTS);
      counts[at * COUNTS] = number;
      shares.set(held.shares.subarray(row * SHARES, (row + 1) * SHARES), at * SHARES);
    });
    return { ...held, counts, shares };
  };
}

/** What one specimen may have of everything, packed in a few kB; things by rising number. */
export class PresenceRow {
  /** Whether the dossier lists components at all, as far as they count. */
  readonly lists: boolean;
  /** Whether every board is recorded as fully inventoried. */
  readonly inventoried: boolean;
  /** Whether the bench saw it; false for a record that comes from design files of its boards. */
  readonly bench: boolean;
  /** Whether nets are recorded. */
  readonly hasNets: boolean;
  /** Unidentified components. */
  readonly unnamed: number;
  /** Spreads of unnamed components that were used here. */
  readonly learnt: ReadonlySet<KindSpread>;
  /** What is left open of components that nobody named, or only roughly. */
  readonly #open: readonly OpenShare[];
  readonly #counts: Uint32Array;
  readonly #shares: Float64Array;

  constructor(held: HeldPresence) {
    this.lists = held.lists;
    this.inventoried = held.inventoried;
    this.bench = held.bench;
    this.hasNets = held.hasNets;
    this.unnamed = held.unnamed;
    this.learnt = held.learnt;
    this.#open = held.open;
    this.#counts = held.counts;
    this.#shares = held.shares;
  }

  static of(specimen: OpenedSpecimen): PresenceRow {
    const { dossier, counted, spreads, learnt } = specimen;
    const sums = sumsOf(specimen);
    const counts = new Uint32Array(sums.size * COUNTS);
    const shares = new Float64Array(sums.size * SHARES);
    [...sums.keys()]
      .sort((a, b) => a - b)
      .forEach((number, place) => {
        const sum = sums.get(number) as Sum;
        const { certain, likely, possible, untraced, partless } = sum;
        counts.set([number, certain, likely, possible, untraced, partless], place * COUNTS);
        // Nine digits, as in patterns: enough for any use, without rounding noise.
        const all = [1 - sum.none, sum.expected, sum.variance, 1 - sum.noneOpen].map(tidy);
        shares.set(all, place * SHARES);
      });
    return new PresenceRow({
      lists: counted.length > 0,
      inventoried:
        dossier.boards.length > 0 &&
        dossier.boards.every(({ fullyInventoried }) => fullyInventoried === true),
      bench: dossier.teardown.recordedFrom !== 'design-files',
      hasNets: specimen.nets.length > 0,
      unnamed: spreads.size,
      learnt,
      open: counted.flatMap((component) => openSharesOf(specimen, component)),
      counts,
      shares,
    });
  }

  /** Everything that it holds, with the numbers of this process. */
  get held(): HeldPresence {
    const { lists, inventoried, bench, hasNets, unnamed, learnt } = this;
    return {
      lists,
      inventoried,
      bench,
      hasNets,
      unnamed,
      learnt,
      open: this.#open,
      counts: this.#counts,
      shares: this.#shares,
    };
  }

  /** How much of a thing it may have; undefined for none at all. */
  amountOf(number: number | undefined): Amount | undefined {
    const place = this.#placeOf(number);
    if (place < 0) return undefined;
    const counts = place * COUNTS;
    const shares = place * SHARES;
    return {
      probability: this.#shares[shares],
      expected: this.#shares[shares + 1],
      variance: this.#shares[shares + 2],
      certain: this.#counts[counts + 1],
      likely: this.#counts[counts + 2],
      possible: this.#counts[counts + 3],
    };
  }

  /** Probability of at least one such component. */
  probabilityOf(number: number | undefined): number {
    const place = this.#placeOf(number);
    return place < 0 ? 0 : this.#shares[place * SHARES];
  }

  /** Probability of at least one such component without an identified part. */
  openOf(number: number | undefined): number {
    const place = this.#placeOf(number);
    return place < 0 ? 0 : this.#shares[place * SHARES + 3];
  }

  /** Upper bound of the probability that what nobody named is, somewhere, a component of a term. */
  unnamedAs(term: string): number {
    let none = 1;
    for (const { kind, share } of this.#open) if (mayBe(kind, term)) none *= 1 - Math.min(1, share);
    return 1 - none;
  }

  /** Components that nobody named and that may be of a term, besides those that {@link amountOf} counts. */
  unnamedCount(term: string): number {
    return this.#open.filter(({ kind }) => mayBe(kind, term)).length;
  }

  /** Such components, with probability 0.05 or more, of which it is not known what all their pins are joined to. */
  untracedOf(number: number | undefined): number {
    const place = this.#placeOf(number);
    return place < 0 ? 0 : this.#counts[place * COUNTS + 4];
  }

  /** Such components, each with probability 0.05 or more of being one without an identified part. */
  partlessOf(number: number | undefined): number {
    const place = this.#placeOf(number);
    return place < 0 ? 0 : this.#counts[place * COUNTS + 5];
  }

  /** Everything that it may have, with the probability. */
  *all(): Generator<readonly [name: string, probability: number]> {
    for (let place = 0; place * COUNTS < this.#counts.length; place++) {
      const probability = this.#shares[place * SHARES];
      if (probability > 0) yield [names.textOf(this.#counts[place * COUNTS]), probability];
    }
  }

  #placeOf(number: number | undefined): number {
    if (number === undefined) return -1;
    let low = 0;
    let high = this.#counts.length / COUNTS - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = this.#counts[middle * COUNTS];
      if (at === number) return middle;
      if (at < number) low = middle + 1;
      else high = middle - 1;
    }
    return -1;
  }
}

/** Rows by their specimen, which is replaced whenever anything in it changes. */
const rows = new WeakMap<OpenedSpecimen, PresenceRow>();

/** What an opened specimen may have; calculated once. */
export function presenceIn(specimen: OpenedSpecimen): PresenceRow {
  let row = rows.get(specimen);
  if (!row) {
    row = PresenceRow.of(specimen);
    rows.set(specimen, row);
  }
  return row;
}

type Sum = { -readonly [K in Exclude<keyof Amount, 'probability'>]: number } & {
  none: number;
  noneOpen: number;
  untraced: number;
  partless: number;
};

function sumsOf(specimen: OpenedSpecimen): ReadonlyMap<number, Sum> {
  const sums = new Map<number, Sum>();
  const sumOf = (name: string) => {
    const number = names.numberOf(name);
    let sum = sums.get(number);
    if (!sum) {
      sum = {
        expected: 0,
        variance: 0,
        certain: 0,
        likely: 0,
        possible: 0,
        none: 1,
        noneOpen: 1,
        untraced: 0,
        partless: 0,
      };
      sums.set(number, sum);
    }
    return sum;
  };
  const isTraced = tracedIn(specimen);
  for (const component of specimen.fitted) {
    const { id: designator } = component;
    const untraced = isTraced(component) ? 0 : 1;
    const labels = specimen.labels.get(designator) ?? new Map<string, number>();
    const parts = partsOf(specimen, designator);
    for (const [name, weight] of [...labels, ...parts.weights]) {
      if (weight <= 0) continue;
      const sum = sumOf(name);
      sum.none *= 1 - weight;
      sum.expected += weight;
      sum.variance += weight * (1 - weight);
      if (weight >= POSSIBLE) {
        sum.possible++;
        sum.untraced += untraced;
      }
      if (weight >= 0.5) sum.likely++;
      if (weight >= CERTAIN) sum.certain++;
    }
    // A component without an identified part may be any part of its kind.
    const open = 1 - parts.total;
    if (open <= 0) continue;
    for (const [term, weight] of labels) {
      const sum = sumOf(term);
      sum.noneOpen *= 1 - Math.min(weight, open);
      if (Math.min(weight, open) >= POSSIBLE) sum.partless++;
    }
  }
  return sums;
}

/** Probability that a component is each part, and a part of each maker. Rival candidates exclude one another. */
function partsOf({ identified }: OpenedSpecimen, designator: string) {
  const weights = new Map<string, number>();
  let total = 0;
  const add = (name: string, probability: number) =>
    weights.set(name, Math.min(1, tidy((weights.get(name) ?? 0) + probability)));
  for (const { part, maker, probability } of identified.get(designator)?.candidates ?? []) {
    if (part !== undefined) {
      add(part, probability);
      total += probability;
    }
    const makerOf = part === undefined ? maker : recordOfId(part);
    if (makerOf !== undefined) add(makerOf, probability);
  }
  return { weights, total };
}

/**
 * Tells whether everything that a component is joined to is on record: its board is recorded as fully traced, or all of its pins
 * are known and each is on a complete net or not connected. What lies on no board ends on boards, which are traced then.
 */
function tracedIn({ dossier, nets, boards }: OpenedSpecimen): (component: Component) => boolean {
  const all = dossier.boards.length > 0 && dossier.boards.every(({ fullyTraced }) => fullyTraced === true);
  if (all) return () => true;
  const complete = new Map<string, Set<string>>();
  for (const { pins } of nets.filter((net) => net.complete === true)) {
    for (const reference of pins) {
      const { component, pin } = pinOf(reference);
      if (pin === undefined) continue;
      const known = complete.get(component);
      if (known) known.add(pin);
      else complete.set(component, new Set([pin]));
    }
  }
  return ({ id, board, pinout, pins }) => {
    if (board !== undefined && boards.get(board)?.fullyTraced === true) return true;
    const joined = complete.get(id);
    if (!joined) return false;
    if (!pinout || pinout.length < (pins ?? 1)) return pins !== undefined && joined.size >= pins;
    return pinout.every(
      ({ number, name, direction, function: means }) =>
        direction === 'not-connected' ||
        means === 'not-connected' ||
        (number !== undefined && joined.has(number)) ||
        (name !== undefined && joined.has(name)),
    );
  };
}
