// What the archive's own settled identifications teach: how often this goes with that. Every table is a set of
// counts "given A, saw B"; a device in hand is left out by subtracting what it contributed itself.

/** Kinds of habit. The given and the seen value of each stand beside it. */
export type HabitTable =
  /** nothing → part id, once a specimen */
  | 'part'
  /** category → package, by its family where terminals hide */
  | 'package'
  /** package, by its whole name → number of terminals */
  | 'pins'
  /** category → side of the board */
  | 'side'
  /** category → category of a connected neighbour */
  | 'neighbour'
  /** category → bus of a connection */
  | 'bus'
  /** device maker → maker of the part */
  | 'maker'
  /** character that a settled part is marked with → character that was read */
  | 'reading'
  /** the same with the name of the reader → character that was read */
  | 'reading-by'
  /** name of the reader → slip of eye or hand, or "compared" for each character that was */
  | 'slip'
  /** what of it → whether bench and catalogue agree on the settled part: AGREES or DIFFERS */
  | 'agreement';

/** The given of a reading by somebody. */
export const readBy = (truth: string, reader: string): string => `${truth} ${reader}`;

export const AGREES = 'agrees';
export const DIFFERS = 'differs';

/**
 * How often bench and catalogue agree when the part is the right one, before the archive has taught anything: on the
 * name of the package, on the number of terminals, that the part carries a marking that the catalogue lists, and that a part
 * whose entry lists none carries its number (working values, common practice, no source). They count as much as fifty settled components.
 */
const AGREEMENT = { package: 0.95, pins: 0.97, marking: 0.97, number: 0.8 } as const;
const AGREEMENT_COUNTS = 50;
export type Agreement = keyof typeof AGREEMENT;

export interface Contribution {
  readonly table: HabitTable;
  readonly given: string;
  readonly seen: string;
  /** How many times. @default 1 */
  readonly times?: number;
}

/** At or above this probability a settled identification teaches. */
export const LEARN_FROM = 0.95;

interface Counts {
  total: number;
  readonly seen: Map<string, number>;
}

interface Table {
  /** Over all givens: what is seen at large. */
  readonly atLarge: Counts;
  readonly byGiven: Map<string, Counts>;
}

/** Counts of contributions, by table, given and seen. */
export class Habits {
  readonly #tables = new Map<HabitTable, Table>();

  add(contributions: Iterable<Contribution>, by = 1): void {
    for (const { table: name, given, seen, times = 1 } of contributions) {
      let table = this.#tables.get(name);
      if (!table) {
        table = { atLarge: noCounts(), byGiven: new Map() };
        this.#tables.set(name, table);
      }
      let counts = table.byGiven.get(given);
      if (!counts) {
        counts = noCounts();
        table.byGiven.set(given, counts);
      }
      bump(counts, seen, by * times);
      bump(table.atLarge, seen, by * times);
    }
  }

  /** How often a value was seen given something; given undefined, at large. */
  count(table: HabitTable, given: string | undefined, seen: string): number {
    return this.#counts(table, given)?.seen.get(seen) ?? 0;
  }

  total(table: HabitTable, given: string | undefined): number {
    return this.#counts(table, given)?.total ?? 0;
  }

  /** What was seen given something, with its counts. */
  given(table: HabitTable, given: string): ReadonlyMap<string, number> {
    return this.#counts(table, given)?.seen ?? NOTHING;
  }

  /** Total and counts given something, for many look-ups; given undefined, at large. */
  counts(table: HabitTable, given: string | undefined): Readonly<Counts> | undefined {
    return this.#counts(table, given);
  }

  /** Values that something was seen with. */
  givens(table: HabitTable): Iterable<string> {
    return this.#tables.get(table)?.byGiven.keys() ?? [];
  }

  /** Values ever seen in a table. */
  values(table: HabitTable): ReadonlyMap<string, number> {
    return this.#tables.get(table)?.atLarge.seen ?? NOTHING;
  }

  #counts(name: HabitTable, given: string | undefined): Counts | undefined {
    const table = this.#tables.get(name);
    return given === undefined ? table?.atLarge : table?.byGiven.get(given);
  }
}

const NOTHING: ReadonlyMap<string, number> = new Map();

function noCounts(): Counts {
  return { total: 0, seen: new Map() };
}

/** A value counted down to nothing is forgotten, so that withdrawn evidence leaves no trace, not even in smoothing. */
function bump(counts: Counts, seen: string, by: number): void {
  counts.total += by;
  const count = (counts.seen.get(seen) ?? 0) + by;
  if (count === 0) counts.seen.delete(seen);
  else counts.seen.set(seen, count);
}

/** Pseudo-observations that a thin table is filled up with (Dirichlet smoothing with the general share as mean). */
const PSEUDO = 4;
/** Values never seen yet that may still turn up, all equally likely. */
const UNSEEN_VALUES = 10;

/** Habits with one device left out. */
export interface HabitsWithout {
  /** P(seen) at large, smoothed by one pseudo-observation spread over all values and ten not seen yet. */
  share(table: HabitTable, seen: string): number;
  /** P(seen | given), drawn towards the share at large where little was seen. */
  shareGiven(table: HabitTable, given: string, seen: string): number;
  /**
   * Natural logarithm of how much likelier a value is given something than at large, for any given. What was seen n times with
   * it weighs at most log(n + 1); that it was not, of n values, at most as much against it.
   */
  lifts(table: HabitTable, seen: string): (given: string) => number;
  /** How often bench and catalogue agree on something when the part is the right one. */
  agreement(of: Agreement): number;
  /** How many components that rests on, those that stand for the figure it began with included. */
  agreementCounts(of: Agreement): number;
  count(table: HabitTable, seen: string): number;
  total(table: HabitTable): number;
  totalGiven(table: HabitTable, given: string): number;
  /** What was seen given something, with its counts. */
  given(table: HabitTable, given: string): ReadonlyMap<string, number>;
  /** Something worked out from these habits, made when first asked for and kept as long as they are. */
  remember<T extends object>(key: string, make: () => T): T;
  /** Values seen in a table, the device in hand included, with their counts. */
  values(table: HabitTable): ReadonlyMap<string, number>;
}

/** One row of a table without the device in hand. */
interface Row {
  readonly all: ReadonlyMap<string, number> | undefined;
  readonly own: ReadonlyMap<string, number> | undefined;
  readonly total: number;
}

/** The habits of all other devices: `own` is what the device in hand contributed. */
export function habitsWithout(habits: Habits, own: Habits): HabitsWithout {
  // The same few rows are asked for over and over.
  const rows = new Map<HabitTable, Map<string | undefined, Row>>();
  const row = (table: HabitTable, given: string | undefined): Row => {
    let ofTable = rows.get(table);
    if (!ofTable) {
      ofTable = new Map();
      rows.set(table, ofTable);
    }
    let found = ofTable.get(given);
    if (!found) {
      const [all, mine] = [habits.counts(table, given), own.counts(table, given)];
      found = { all: all?.seen, own: mine?.seen, total: (all?.total ?? 0) - (mine?.total ?? 0) };
      ofTable.set(given, found);
    }
    return found;
  };
  const n = (table: HabitTable, given: string | undefined, seen: string) => {
    const { all, own: mine } = row(table, given);
    return (all?.get(seen) ?? 0) - (mine?.get(seen) ?? 0);
  };
  const total = (table: HabitTable, given: string | undefined) => row(table, given).total;
  // Values that the device in hand alone has shown are as good as not seen yet.
  const sizes = new Map<HabitTable, number>();
  const sizeOf = (table: HabitTable) => {
    let size = sizes.get(table);
    if (size === undefined) {
      const all = habits.values(table);
      size = all.size;
      for (const [seen, count] of own.values(table)) if (all.get(seen) === count) size--;
      sizes.set(table, size);
    }
    return size;
  };
  const share = (table: HabitTable, seen: string) =>
    (n(table, undefined, seen) + 1 / (sizeOf(table) + UNSEEN_VALUES)) / (total(table, undefined) + 1);
  const drawn = (table: HabitTable, given: string, seen: string, atLarge: number) => {
    const { all, own: mine, total: sum } = row(table, given);
    const count = (all?.get(seen) ?? 0) - (mine?.get(seen) ?? 0);
    return (count + PSEUDO * atLarge) / (sum + PSEUDO);
  };
  const remembered = new Map<string, object>();
  // The components of one device ask the same few questions of every category.
  const lifts = new Map<string, (given: string) => number>();
  return {
    share,
    shareGiven: (table, given, seen) => drawn(table, given, seen, share(table, seen)),
    lifts(table, seen) {
      const key = `${table} ${seen}`;
      const ready = lifts.get(key);
      if (ready) return ready;
      const known = new Map<string, number>();
      const atLarge = share(table, seen);
      const lift = (given: string) => {
        let value = known.get(given);
        if (value === undefined) {
          const { all, own: mine, total: sum } = row(table, given);
          const times = (all?.get(seen) ?? 0) - (mine?.get(seen) ?? 0);
          const log = Math.log(drawn(table, given, seen, atLarge) / atLarge);
          value = Math.max(-Math.log(sum + 1), Math.min(Math.log(times + 1), log));
          known.set(given, value);
        }
        return value;
      };
      lifts.set(key, lift);
      return lift;
    },
    agreement: (of) =>
      (n('agreement', of, AGREES) + AGREEMENT_COUNTS * AGREEMENT[of]) /
      (total('agreement', of) + AGREEMENT_COUNTS),
    agreementCounts: (of) => total('agreement', of) + AGREEMENT_COUNTS,
    count: (table, seen) => n(table, undefined, seen),
    total: (table) => total(table, undefined),
    totalGiven: total,
    given(table, given) {
      const taken = own.given(table, given);
      const all = habits.given(table, given);
      return taken.size === 0
        ? all
        : new Map([...all].map(([seen, count]) => [seen, count - (taken.get(seen) ?? 0)]));
    },
    remember<T extends object>(key: string, make: () => T): T {
      let known = remembered.get(key) as T | undefined;
      if (!known) {
        known = make();
        remembered.set(key, known);
      }
      return known;
    },
    values: (table) => habits.values(table),
  };
}

/** Packages whose terminals lie under the body: their number is not seen, so the family alone counts. */
const HIDDEN_TERMINALS = /^(?:WLCSP|BGA|LGA|SIP|CSP|FCBGA|UFBGA)/u;

/** A package name in capitals, without blanks and hyphens. */
export function plainPackage(written: string): string {
  return written.toUpperCase().replace(/[\s_-]/gu, '');
}

/** The family of a package, as {@link packageKey} gives it: without the number of terminals at its end. */
export function packageFamily(key: string): string {
  return /^(T?SOT23|T?SOT\d{3}|SC70|SOD\d{3}|.*?[A-Z])\d*$/u.exec(key)?.[1] ?? key;
}

/** Whether two names stand for one package, as far as they go: one of them may leave out the number of terminals. */
export function samePackage(a: string, b: string): boolean {
  const [one, other] = [packageKey(a), packageKey(b)];
  return one === other || packageFamily(one) === other || one === packageFamily(other);
}

/** Whether so many terminals may have been counted of a part that has so many: a pad below is counted or not. */
export function sameTerminals(counted: number, pins: number, packageName: string | undefined): boolean {
  return counted === pins || (counted === pins + 1 && countsPad(packageName && packageKey(packageName)));
}

/** Packages with a pad below that is often counted as one terminal more (common practice, no source). */
const PADDED = /^[A-Z]*(?:QFN|DFN|SON|QFP|SSOP|SOIC)/u;

function countsPad(key: string | undefined): boolean {
  return key === undefined || PADDED.test(key);
}

/** A package name as tables know it: plain, and the family alone where terminals hide. */
export function packageKey(written: string): string {
  const plain = plainPackage(written);
  return HIDDEN_TERMINALS.exec(plain)?.[0] ?? plain;
}
