import type { Random } from '../../../src/statistics/random.ts';
import { bodyOf, HOSTS, KINDS, type Kind, terminals } from './trade.ts';

// Makers of chips and their parts. A part is numbered within a family (one die, one drawing, several numbers that differ in a
// digit or a suffix), and each maker numbers and prints in a way of its own.

/** A part as it is made; whether a catalogue lists it is a fact of the world as well. */
export interface MadePart {
  readonly id: string;
  readonly maker: string;
  readonly number: string;
  readonly kind: Kind;
  readonly family: string;
  readonly package: string;
  readonly pins: number;
  /** mm: length, width, height. */
  readonly body: readonly [number, number, number];
  /** Which terminal of the package each pin of the kind is on; the same in a family. */
  readonly order: readonly number[];
  readonly introduced: number;
  /** What is printed on it, in the catalogue's notation for codes that change. */
  readonly print: string;
  readonly catalogued: boolean;
  /** What the catalogue says of its print: what is printed, or nothing. */
  readonly listsPrint: boolean;
  /** How often it is bought, beside others of its kind. */
  readonly popularity: number;
}

export interface PartHabits {
  readonly makers: number;
  /** Families of one kind, over all makers. */
  readonly families: number;
  /** Numbers of a family: fewest and most. */
  readonly siblings: readonly [number, number];
  /** Share of parts that no catalogue has, by maker. */
  readonly uncatalogued: (maker: number) => number;
  /** Share of catalogued parts whose print the catalogue knows. */
  readonly listed: number;
  /** Share of small parts that carry a code without relation to their number. */
  readonly coded: number;
  /** Characters that codes are made of, and how many of them; few of both are used again by other makers. */
  readonly codes: { readonly from: string; readonly length: number };
  /** Share of families that are a second source of another: same kind, package and body, and a number near to it. */
  readonly twins: number;
}

const LETTERS = 'BCDFGHKLMNPQRSTVWXZ';
const SUFFIXES = ['', 'A', 'B', 'C', 'D', 'E', 'H', 'K'];

export const makerName = (at: number) => `made-up-chips-${at}`;

/** All parts of a world, catalogued or not. */
export function makeParts(habits: PartHabits, random: Random): readonly MadePart[] {
  const taken = new Set<string>();
  const parts: MadePart[] = [];
  // Two letters that a maker begins its numbers with; Q and X keep clear of numbers that are in use (from memory).
  const prefixes = Array.from(
    { length: habits.makers },
    (_, at) => `${'QX'[at % 2]}${LETTERS[at % LETTERS.length]}`,
  );
  for (const kind of [...HOSTS, ...KINDS]) {
    const families: MadePart[] = [];
    for (let at = 0; at < habits.families; at++) {
      const first = families.length > 0 && random.chance(habits.twins) ? random.pick(families) : undefined;
      const made = family(habits, kind, prefixes, first, taken, random);
      families.push(made[0]);
      parts.push(...made);
    }
  }
  return parts;
}

function family(
  habits: PartHabits,
  kind: Kind,
  prefixes: readonly string[],
  twin: MadePart | undefined,
  taken: Set<string>,
  random: Random,
): MadePart[] {
  const at = random.integer(0, habits.makers - 1);
  const maker = makerName(at);
  const digits = twin ? near(twin.number.replaceAll(/\D/gu, ''), random) : String(random.integer(1000, 9999));
  const pack = twin?.package ?? kind.packages[random.weighted(kind.packages.map(([, weight]) => weight))][0];
  const body = twin?.body ?? bodyOf(pack, random.uniform);
  const order =
    twin && random.chance(0.7)
      ? twin.order
      : random.shuffled(Array.from({ length: terminals(pack) }, (_, pin) => pin));
  const introduced = random.integer(2008, 2021);
  const style = random.integer(0, 2);
  const small = terminals(pack) <= 9;
  const count = random.integer(...habits.siblings);
  const made: MadePart[] = [];
  // Voltages and grades: 18, 25, 33 … behind the stem, or a letter, or the last digit counts on.
  const steps = random.shuffled(style === 0 ? ['18', '25', '28', '30', '33', '12'] : SUFFIXES);
  for (let step = 0; step < count; step++) {
    const stem = style === 2 ? String(Number(digits) + step) : digits;
    const number = `${prefixes[at]}${stem}${style === 2 ? '' : steps[step % steps.length]}`;
    if (taken.has(`${maker}/${number}`)) continue;
    taken.add(`${maker}/${number}`);
    const catalogued = !random.chance(habits.uncatalogued(at));
    made.push({
      id: `${maker}/${number}`,
      maker,
      number,
      kind,
      family: `${maker}/${digits}`,
      package: pack,
      pins: terminals(pack),
      body,
      order,
      introduced: introduced + Math.min(step, 3),
      print: print(number, small, at, habits, random),
      catalogued,
      listsPrint: random.chance(habits.listed),
      popularity: 1 / (1 + 8 * random.uniform()),
    });
  }
  return made.length > 0 ? made : family(habits, kind, prefixes, twin, taken, random);
}

/** A number that differs from another in one digit, as second sources like to choose. */
function near(digits: string, random: Random): string {
  if (random.chance(0.5)) return digits.slice(0, 4);
  const at = random.integer(1, 3);
  return `${digits.slice(0, at)}${random.integer(0, 9)}${digits.slice(at + 1, 4)}`;
}

/** What is printed: in full where there is room, else without the maker's letters or a code; then lot and date as the maker does. */
function print(number: string, small: boolean, maker: number, habits: PartHabits, random: Random): string {
  const { from, length } = habits.codes;
  const top =
    small && random.chance(habits.coded)
      ? Array.from({ length }, () => random.pick([...from])).join('')
      : small && maker % 2 === 0
        ? number.slice(2)
        : number;
  if (small) return maker % 3 === 0 ? top : maker % 3 === 1 ? `${top}{lot:2}` : `${top}\n{date:YWW}`;
  return maker % 3 === 0
    ? `${top}\n{date:YYWW}{lot:2}`
    : maker % 3 === 1
      ? `${top}\n{lot:5}`
      : `${top}\n{date:YYWW}`;
}
