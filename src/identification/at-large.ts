import type { HabitsWithout } from './habits.ts';
import { kinOf } from './kin.ts';
import { type BodySpread, type FacetName, type PartTable, sizeKey } from './part-table.ts';

// What chips that nobody knows look like at large: as the parts of the catalogue do, each counted by how likely an unknown part is
// like it. Parts of kinds that are never met (cells in a list of chips) hardly count, however many there are.

/** The catalogue counts as so many components whose looks were seen, however long it is (common practice, no source). */
export const CATALOGUE_COUNTS = 50;
/** Assumed where nothing is known: chips mostly from 1 to 7 mm. It counts as so many components (common practice, no source). */
const ANY_BODY = { mean: Math.log(2.5), deviation: 0.8, counts: 10 };
const MIN_DEVIATION = 0.3;

/** Sizes and how much each counts, by value of the facet. */
export interface Sizes {
  readonly counts: ReadonlyMap<string, number>;
  readonly whole: number;
}

/** How looks are spread over parts that nobody knows. */
export interface AtLarge {
  /** Share of the catalogue's parts with so many terminals. */
  readonly pins: (pins: number) => number;
  /** As how many parts those with one value count: fewer where few of them are what is met. */
  readonly times: (facet: 'package' | 'pins', value: string) => number;
  readonly bodies: BodySpread;
  /** Bodies of all parts, or of those in packages of one key. */
  readonly sizesOf: (packageKey: string | undefined) => Sizes;
}

/** Where parts that nobody knows are like the catalogue's by {@link kinOf}. */
export function atLargeOf(input: {
  readonly table: PartTable;
  readonly kinds: Float64Array;
  readonly priors: Float64Array;
  readonly habits: HabitsWithout;
}): AtLarge {
  const { table, habits } = input;
  const shares = kinOf(input);
  const kept = habits.remember('at large', (): { of?: Float64Array; found?: AtLarge } => ({}));
  if (kept.found && kept.of === shares) return kept.found;
  const sums = new Map<FacetName, ReadonlyMap<string, Share>>();
  const sumsOf = (name: 'package' | 'pins') => {
    const known = sums.get(name) ?? sharesOf(table, name, shares);
    sums.set(name, known);
    return known;
  };
  let bodies: BodySpread | undefined;
  let sizes: ReadonlyMap<string | undefined, Sizes> | undefined;
  kept.of = shares;
  kept.found = {
    pins: (pins) => sumsOf('pins').get(String(pins))?.share ?? 0,
    times: (facet, value) => effective(sumsOf(facet).get(value)),
    get bodies() {
      bodies ??= bodySpread(table, shares);
      return bodies;
    },
    sizesOf(key) {
      sizes ??= sizesOf(table, shares);
      return sizes.get(key) ?? NO_SIZES;
    },
  };
  return kept.found;
}

const NO_SIZES: Sizes = { counts: new Map(), whole: 0 };

/** Sum of some parts' shares, and of their squares. */
interface Share {
  share: number;
  squares: number;
}

/** As how many equally likely parts some count: the square of their sum over the sum of squares (Kish 1965, section 11.7). */
function effective(of: Share | undefined): number {
  return of && of.squares > 0 ? of.share ** 2 / of.squares : 0;
}

function add(sums: Map<string | undefined, Share>, key: string | undefined, share: number): void {
  const known = sums.get(key);
  if (known) {
    known.share += share;
    known.squares += share ** 2;
  } else sums.set(key, { share, squares: share ** 2 });
}

function sharesOf(
  table: PartTable,
  name: 'package' | 'pins',
  shares: Float64Array,
): ReadonlyMap<string, Share> {
  const { of, examples } = table.facet(name);
  const sums: Share[] = examples.map(() => ({ share: 0, squares: 0 }));
  for (let i = 0; i < of.length; i++) {
    sums[of[i]].share += shares[i];
    sums[of[i]].squares += shares[i] ** 2;
  }
  return new Map(examples.map((part, value) => [table.keyOf(name, part), sums[value]]));
}

function sizesOf(table: PartTable, shares: Float64Array): ReadonlyMap<string | undefined, Sizes> {
  const sums = new Map<string | undefined, Share>();
  const bySize = new Map<string | undefined, Map<string, number>>();
  table.parts.forEach((part, i) => {
    if (!part.body) return;
    const size = sizeKey(part);
    for (const key of part.package === undefined ? [undefined] : [undefined, table.keyOf('package', part)]) {
      add(sums, key, shares[i]);
      const sizes = bySize.get(key) ?? new Map<string, number>();
      sizes.set(size, (sizes.get(size) ?? 0) + shares[i]);
      bySize.set(key, sizes);
    }
  });
  return new Map(
    [...bySize].map(([key, sizes]) => {
      const sum = sums.get(key);
      const count = effective(sum);
      const whole = key === undefined ? Math.min(CATALOGUE_COUNTS, count) : count;
      const scale = sum && sum.share > 0 ? whole / sum.share : 0;
      return [key, { whole, counts: new Map([...sizes].map(([size, share]) => [size, share * scale])) }];
    }),
  );
}

function bodySpread(table: PartTable, shares: Float64Array): BodySpread {
  const all: Share = { share: 0, squares: 0 };
  table.parts.forEach(({ body }, i) => {
    if (!body) return;
    all.share += shares[i];
    all.squares += shares[i] ** 2;
  });
  const count = Math.min(CATALOGUE_COUNTS, effective(all));
  const of = (side: 0 | 1) => {
    const { mean: usual, deviation, counts } = ANY_BODY;
    let [sum, squares] = [counts * usual, counts * (deviation ** 2 + usual ** 2)];
    table.parts.forEach(({ body }, i) => {
      if (!body) return;
      const log = Math.log(
        side === 0 ? Math.max(body.length, body.width) : Math.min(body.length, body.width),
      );
      const weight = (count * shares[i]) / all.share;
      sum += weight * log;
      squares += weight * log ** 2;
    });
    const mean = sum / (counts + count);
    const variance = squares / (counts + count) - mean ** 2;
    return { mean, deviation: Math.max(MIN_DEVIATION, Math.sqrt(variance)) };
  };
  return [of(0), of(1)];
}
