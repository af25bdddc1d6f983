import {
  type Alternative,
  type Arrangement,
  arrangementsOf,
  BACKGROUND,
  PAD,
  PAIRS,
  pinoutClassOf,
  type Role,
  type StepShares,
  SURROUNDINGS,
  type Surrounding,
} from './class-pinouts.ts';
import type { CluePin, NetClues } from './net-clues.ts';
import { numberingsOf } from './numberings.ts';

/**
 * Pins of one part repeat one another's news a little, and those of a large chip more: up to twelve count as 0.7 of
 * themselves each, more pins together as much as twelve (working values, common practice, no source).
 */
const PIN_SHARE = 0.7;
const PINS_COUNTED = 12;
/** A fit or misfit that is worth a word: 0.4 decibans. */
const NOTABLE = 0.1;

/** How much of its weight each pin of a component of so many counts for. */
export function pinPower(pins: number): number {
  return PIN_SHARE * Math.min(1, PINS_COUNTED / pins);
}

/** How well the pins fit an arrangement. */
export interface Fit {
  readonly arrangement: Arrangement;
  /** Natural logarithm of P(what the pins hang on | arrangement) / P(the same | any component). */
  readonly log: number;
  /** In words: which pins fit what, and which do not. */
  readonly says: () => string;
  /** Probability of each surrounding of a pin that no net reaches, in the order of SURROUNDINGS. */
  readonly expected: (label: string) => readonly number[];
}

/** One order of roles under one numbering, or the roles in any order. */
interface Case {
  readonly log: number;
  readonly kind: Alternative | undefined;
  readonly roleOf: (label: string | undefined) => Role | undefined;
}

/**
 * Sums over the orders of an arrangement and over the numberings that the package allows, each with its share, and over the
 * roles in any order for the rest. So a turned reading fits nearly as well as an upright one, and turning costs its share.
 */
export function fitOf(clues: NetClues, arrangement: Arrangement): Fit {
  const count = Math.max(clues.terminals ?? 0, arrangement.pins[0], clues.pins.length);
  const power = pinPower(count);
  const lift = (pin: CluePin, on: readonly number[]) => power * liftOf(pin.may, on);
  const mixed = mixtureOf(arrangement);
  const cases: Case[] = [];
  let left = 1;
  for (const { share, roles } of arrangement.orders) {
    left -= share;
    const places = placesOf(roles, arrangement.pins[0]);
    const pad = clues.terminals === places.length + 1 ? String(clues.terminals) : undefined;
    for (const { kind, share: turned, to } of numberingsOf(places, clues.package, clues.seenBy)) {
      const roleOf = (label: string | undefined) =>
        label === undefined
          ? undefined
          : (roles.get(to.get(label) ?? label) ?? (label === pad ? PAD : undefined));
      let log = Math.log(share * turned);
      for (const pin of clues.pins) {
        const role = roleOf(pin.label);
        // Of a pin that is not told apart only the roles at large are known; a pin beyond the pinout says nothing.
        if (role) log += lift(pin, role.on);
        else if (pin.label === undefined) log += lift(pin, mixed);
      }
      if (arrangement.pair) log += power * pairLog(clues.pins, arrangement.pair, roleOf);
      cases.push({ log, kind, roleOf });
    }
  }
  if (left > 1e-9) {
    const log =
      clues.pins.reduce((sum, pin) => sum + lift(pin, mixed), Math.log(left)) +
      // Where no order says which supply pin is which, the nets may.
      power * stepLog(clues, arrangement.pair);
    cases.push({ log, kind: undefined, roleOf: () => undefined });
  }
  const step = power * stepLog(clues, arrangement.step);
  const log = logSum(cases.map((one) => one.log));
  return {
    arrangement,
    log: log + step,
    says: () =>
      wordsOf(
        clues,
        arrangement,
        cases.reduce((a, b) => (b.log > a.log ? b : a)),
        lift,
      ),
    expected(label) {
      const on = SURROUNDINGS.map(() => 0);
      for (const one of cases) {
        const weight = Math.exp(one.log - log);
        (one.roleOf(label)?.on ?? mixed).forEach((p, at) => {
          on[at] += weight * p;
        });
      }
      return on;
    },
  };
}

/** What a class says of a component's pins: its arrangements for that many pins, all equally likely. */
export interface ClassFit {
  readonly log: number;
  /** The arrangement that fits best. */
  readonly best: Fit;
  readonly expected: (label: string) => readonly number[];
}

/** Fits of classes, as long as what the nets say is at hand: parts and kinds are both weighed by them. */
const classFits = new WeakMap<NetClues, Map<string, ClassFit | undefined>>();

/** @returns undefined where no arrangement is listed for the class, or none for so many pins or the package */
export function classFitOf(clues: NetClues, term: string): ClassFit | undefined {
  let known = classFits.get(clues);
  if (!known) {
    known = new Map();
    classFits.set(clues, known);
  }
  const listed = pinoutClassOf(term);
  if (listed === undefined) return undefined;
  if (!known.has(listed)) known.set(listed, fitOfClass(clues, listed));
  return known.get(listed);
}

function fitOfClass(clues: NetClues, term: string): ClassFit | undefined {
  const listed = arrangementsOf(term, clues.terminals, clues.package);
  if (listed.length === 0) return undefined;
  const fits = listed.map((one) => fitOf(clues, one));
  const whole = logSum(fits.map(({ log }) => log));
  return {
    log: whole - Math.log(fits.length),
    best: fits.reduce((a, b) => (b.log > a.log ? b : a)),
    expected: expectationOf(fits),
  };
}

/** What a pin hangs on under several rival fits, each weighed by how well it fits; of none, as pins do at large. */
export function expectationOf(
  fits: readonly Pick<ClassFit, 'log' | 'expected'>[],
): (label: string) => readonly number[] {
  if (fits.length === 0) return () => BACKGROUND;
  const whole = logSum(fits.map(({ log }) => log));
  return (label) => {
    const on = SURROUNDINGS.map(() => 0);
    for (const fit of fits) {
      const weight = Math.exp(fit.log - whole);
      fit.expected(label).forEach((p, at) => {
        on[at] += weight * p;
      });
    }
    return on;
  };
}

/** Labels of all places of a package: 1 to n where pins are counted, else those that are known. */
function placesOf(roles: ReadonlyMap<string, Role>, count: number): readonly string[] {
  const known = [...roles.keys()].filter((label) => /^[A-Z]{0,2}\d+$/u.test(label));
  const isCounted = known.every((label) => /^\d+$/u.test(label));
  return isCounted ? Array.from({ length: count }, (_, at) => String(at + 1)) : known;
}

/** Natural logarithms of the lifts of single surroundings, by the distribution that they are of. */
const singles = new WeakMap<readonly number[], readonly number[]>();

/** How much likelier than at large a pin that has these probabilities hangs on one of some things: natural logarithm. */
function liftOf(may: readonly Surrounding[], on: readonly number[]): number {
  if (may.length > 1) return Math.log(massOf(may, on) / massOf(may, BACKGROUND));
  let lifts = singles.get(on);
  if (!lifts) {
    lifts = on.map((p, at) => Math.log(p / BACKGROUND[at]));
    singles.set(on, lifts);
  }
  return lifts[PLACE_OF[may[0]]];
}

function massOf(may: readonly Surrounding[], on: readonly number[]): number {
  let sum = 0;
  for (const one of may) sum += on[PLACE_OF[one]];
  return sum;
}

const PLACE_OF = Object.fromEntries(SURROUNDINGS.map((one, at) => [one, at])) as Readonly<
  Record<Surrounding, number>
>;

const mixtures = new WeakMap<Arrangement, readonly number[]>();

/** What a pin hangs on when only the roles of its part are known. */
function mixtureOf(arrangement: Arrangement): readonly number[] {
  let on = mixtures.get(arrangement);
  if (!on) {
    on =
      arrangement.any.length === 0
        ? BACKGROUND
        : SURROUNDINGS.map((_, at) =>
            arrangement.any.reduce((sum, { role, share }) => sum + share * role.on[at], 0),
          );
    mixtures.set(arrangement, on);
  }
  return on;
}

const SUPPLIES: ReadonlySet<Surrounding> = new Set(['rail', 'battery', 'outside-supply']);

/** Two supply pins compared: whether they share a net, and where not and both voltages are known, which is higher. */
function pairLog(
  pins: readonly CluePin[],
  pair: NonNullable<Arrangement['pair']>,
  roleOf: Case['roleOf'],
): number {
  const pinFor = (id: string) =>
    pins.find(({ label, may }) => roleOf(label)?.id === id && may.every((one) => SUPPLIES.has(one)));
  const [first, second] = pair.of.map(pinFor);
  if (!first || !second) return 0;
  if (first.net === second.net) return Math.log(pair.same / PAIRS.same);
  const apart = Math.log((1 - pair.same) / (1 - PAIRS.same));
  const how = stepOf(first, second);
  return how ? apart + Math.log(outOfThree(pair, how) / outOfThree(PAIRS, how)) : apart;
}

function stepOf({ volts: from, may }: CluePin, { volts: to }: CluePin): NetClues['step'] {
  if (to === undefined) return undefined;
  if (from === undefined) return may.every((one) => one === 'battery') ? 'unlike' : undefined;
  return to < from ? 'lower' : to > from ? 'higher' : 'equal';
}

/** What the part makes against what it is supplied with. */
function stepLog({ step }: NetClues, shares: StepShares | undefined): number {
  return step && shares ? Math.log(outOfThree(shares, step) / outOfThree(PAIRS, step)) : 0;
}

function outOfThree(pair: StepShares, how: NonNullable<NetClues['step']>): number {
  const share = how === 'unlike' ? pair.lower + pair.higher : pair[how];
  return share / (pair.lower + pair.equal + pair.higher);
}

export function logSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
}

const NUMBERED: Readonly<Record<Alternative, string>> = {
  'as-is': '',
  turned: ', its numbers turned',
  mirrored: ', its numbers mirrored',
  reversed: ', its numbers counted the other way round',
};

/** Surroundings in words, where the name alone does not read well. */
const PLAIN: Partial<Record<Surrounding, string>> = {
  'outside-supply': 'supply from outside',
  'switch-node': 'inductor',
  'supplied-inductor': 'inductor from a supply',
  capacitor: 'capacitor alone',
  'fly-capacitor': 'capacitor between two pins',
  'pull-up': 'resistor to a supply',
  'resistor-to-ground': 'resistor to ground',
  'sense-resistor': 'resistor under 1 Ohm',
  feedback: 'resistor between two pins',
  load: 'driven part',
  'analogue-source': 'bare sensor',
  i2c: 'I2C',
  spi: 'SPI',
  usb: 'USB',
  uart: 'serial line',
  audio: 'sound line',
  debug: 'debug line',
};

function wordsOf(
  clues: NetClues,
  { is }: Arrangement,
  best: Case,
  lift: (pin: CluePin, on: readonly number[]) => number,
): string {
  const fitting: { label: string; role: Role }[] = [];
  const against: { label: string; on: string }[] = [];
  for (const pin of clues.pins.toSorted(byLabel)) {
    const role = best.roleOf(pin.label);
    if (!role || pin.label === undefined) continue;
    const weight = lift(pin, role.on);
    if (weight > NOTABLE) fitting.push({ label: pin.label, role });
    else if (weight < -NOTABLE && pin.may.length === 1)
      against.push({ label: pin.label, on: PLAIN[pin.may[0]] ?? pin.may[0] });
  }
  if (best.kind === undefined || fitting.length + against.length === 0) return anyOrder(clues, is);
  const fit =
    fitting.length === 0
      ? `no pin speaks for ${withArticle(is)}`
      : `${pinList(fitting.map(({ label }) => label))} ${fitting.length === 1 ? 'fits' : 'fit'} ${withArticle(is)}: ${fitting.map(({ role }) => role.is).join(', ')}`;
  const misfit =
    against.length === 0
      ? ''
      : `; not ${pinList(against.map(({ label }) => label))} (${[...new Set(against.map(({ on }) => on))].join(', ')})`;
  return fit + misfit + NUMBERED[best.kind];
}

/** What the pins hang on, most frequent first, where no order of pins is known or none fits. */
function anyOrder({ pins }: NetClues, is: string): string {
  const counts = new Map<Surrounding, number>();
  for (const { may } of pins) if (may.length === 1) counts.set(may[0], (counts.get(may[0]) ?? 0) + 1);
  const listed = [...counts]
    .sort(([a, m], [b, n]) => n - m || PLACE_OF[a] - PLACE_OF[b])
    .map(([on, times]) => `${times > 1 ? `${times} × ` : ''}${PLAIN[on] ?? on}`);
  return `pins as ${withArticle(is)} may have them, in some order: ${listed.join(', ') || 'nothing certain'}`;
}

const COLLATOR = new Intl.Collator('en', { numeric: true });

function byLabel(a: CluePin, b: CluePin): number {
  return COLLATOR.compare(a.label ?? '', b.label ?? '');
}

function withArticle(words: string): string {
  return `${/^[aeiou]/iu.test(words) ? 'an' : 'a'} ${words}`;
}

function pinList(labels: readonly string[]): string {
  if (labels.length === 1) return `pin ${labels[0]}`;
  return `pins ${labels.slice(0, -1).join(', ')} and ${labels.at(-1)}`;
}
