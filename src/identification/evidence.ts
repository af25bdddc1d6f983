import { arrangementOfPart } from '../classes/class-pinouts.ts';
import type { NetClues } from '../classes/net-clues.ts';
import { type ClassFit, classFitOf, type Fit, fitOf, logSum } from '../classes/pinout-fit.ts';
import type { Part } from '../model/catalogue.ts';
import { dateRange } from '../model/dates.ts';
import { isUnder } from '../model/taxonomy.ts';
import { functionOf } from '../nets/pin-function.ts';
import { type AtLarge, CATALOGUE_COUNTS, type Sizes } from './at-large.ts';
import { type HabitsWithout, packageKey, plainPackage, samePackage, sameTerminals } from './habits.ts';
import { type FacetName, type PartTable, sizeKey } from './part-table.ts';
import type { Sighting } from './sighting.ts';

/** Kinds of evidence, in the order in which they are shown. */
export const EVIDENCE_KINDS = [
  'marking',
  'package',
  'pin-count',
  'body-size',
  'appearance',
  'board-side',
  'neighbours',
  'buses',
  'pinout',
  'maker-habit',
  'release-date',
  'unknown-part',
] as const;
export type EvidenceKind = (typeof EVIDENCE_KINDS)[number];

/**
 * One piece of evidence made ready: answers, for any part, the natural logarithm of
 * P(what was seen | this part) / P(what was seen | a part nobody has catalogued). Undefined where the catalogue says
 * nothing of the part that could be compared.
 */
export interface Evidence {
  readonly kind: EvidenceKind;
  /** What was seen, in words. */
  readonly seen: string;
  /** What of a part the weight depends on; parts alike in it weigh the same. */
  readonly facet: FacetName;
  weigh(part: Part): number | undefined;
  /** The same of a part that nobody knows, by its kind, where that does not follow from {@link weigh}. */
  weighKind?(category: string): number;
  /** What was seen, in words that fit this part, where they differ from part to part. */
  says?(part: Part): string;
  /**
   * Where what would be seen is foreseen: how likely exactly this is of a part, before any bound on what it may weigh, and of one
   * that nobody knows and that is like none. Densities in 1/mm for each side of a body.
   */
  readonly foreseen?: {
    /** Undefined where the catalogue says nothing of the part. */
    readonly of: (part: Part) => number | undefined;
    readonly atLarge: number;
  };
  /** Weights by number of the facet's value, once they were worked out for a table. */
  known?: { readonly table: object; readonly weights: readonly number[] };
}

/**
 * How often looks and measured size agree with the catalogue when the part is the right one. These and the tables of the trade
 * (class-pinouts.yaml) are common practice without a source: they count as fifty components, and weigh no more than that.
 */
export const LOOKS_AGREE = 0.98;
export const BODY_AGREES = 0.98;
const TRADE_COUNTS = 50;
/** A part may be sampled before its official delivery, once in fifty. */
const BEFORE_DELIVERY = 0.02;
/** Standard deviation of a body size read with callipers, mm, and as a share of the length. */
const BODY_SPREAD_MM = 0.08;
const BODY_SPREAD_SHARE = 0.02;
export const bodySpread = (side: number): number => BODY_SPREAD_MM + BODY_SPREAD_SHARE * side;
const ROOT_2_PI = Math.sqrt(2 * Math.PI);
/** Connections repeat one another's news; together they count as half (common practice, no source). */
const NEIGHBOUR_SHARE = 0.5;
/** Where a package was mistaken its terminals were seen with the same eyes: half of the time the count follows the name. */
const COUNT_FOLLOWS_NAME = 0.5;

/** Each piece of evidence that a sighting may give, with all fields of the sighting that it hangs on. */
const PIECES: readonly {
  readonly kind: EvidenceKind;
  readonly from: readonly (keyof Sighting)[];
  readonly make: (
    sighting: Sighting,
    habits: HabitsWithout,
    table: PartTable,
    unknown: AtLarge,
  ) => Evidence | undefined;
}[] = [
  { kind: 'package', from: ['package'], make: packageEvidence },
  { kind: 'pin-count', from: ['pins', 'package'], make: pinEvidence },
  { kind: 'body-size', from: ['body', 'package'], make: bodyEvidence },
  { kind: 'appearance', from: ['appears'], make: appearanceEvidence },
  { kind: 'board-side', from: ['side'], make: sideEvidence },
  { kind: 'neighbours', from: ['neighbours'], make: neighbourEvidence },
  { kind: 'buses', from: ['neighbours'], make: busEvidence },
  { kind: 'pinout', from: ['nets'], make: pinoutEvidence },
  { kind: 'maker-habit', from: ['deviceMaker'], make: makerEvidence },
  { kind: 'release-date', from: ['released'], make: dateEvidence },
];

/**
 * Every piece of evidence that a sighting gives, the marking aside.
 * @param unknown looks of parts that nobody knows
 * @param known what another sighting gave by the same habits and table: pieces that hang on none of the differences are taken over
 */
export function evidenceOf(
  sighting: Sighting,
  habits: HabitsWithout,
  table: PartTable,
  unknown: AtLarge,
  known?: { readonly of: Sighting; readonly all: readonly Evidence[] },
): readonly Evidence[] {
  return PIECES.flatMap(({ kind, from, make }) => {
    const isKnown = known && from.every((field) => sighting[field] === known.of[field]);
    const one = isKnown
      ? known.all.find((piece) => piece.kind === kind)
      : make(sighting, habits, table, unknown);
    return one ?? [];
  });
}

/** Evidence that components of a device share, made ready once. */
function shared(habits: HabitsWithout, key: string, make: () => Evidence): Evidence {
  return habits.remember(key, make);
}

/**
 * How much likelier than at large a part nobody knows would be seen so, if it were of the given kind: natural
 * logarithm. What is taken as independent at large is tied together by the kind. Evidence whose facet is the category
 * comes on top: it weighs the same for parts nobody knows.
 */
export function unknownOfKind(
  { package: body }: Sighting,
  habits: HabitsWithout,
): (category: string) => number {
  return body === undefined ? () => 0 : habits.lifts('package', packageKey(body));
}

/** Agreement with probability `agrees`, else a value drawn from what is seen at large. */
function agreement(same: boolean, agrees: number, share: number): number {
  return same ? Math.log((agrees + (1 - agrees) * share) / share) : Math.log(1 - agrees);
}

function packageEvidence(
  { package: seen }: Sighting,
  habits: HabitsWithout,
  table: PartTable,
  atLarge: AtLarge,
): Evidence | undefined {
  if (seen === undefined) return undefined;
  const key = packageKey(seen);
  return shared(habits, `package ${key}`, () => {
    const agrees = habits.agreement('package');
    const against = habits.agreementCounts('package');
    // A name without the number of terminals stands for all of its family.
    const known = [...new Set([key, ...habits.values('package').keys(), ...table.packages])];
    const sumOf = (alike: (one: string) => boolean, of: (one: string) => number) =>
      known.reduce((sum, one) => sum + (alike(one) ? of(one) : 0), 0);
    const timesOf = (one: string) => habits.count('package', one) + atLarge.times('package', one);
    const weightOf = (alike: (one: string) => boolean) => {
      const share = sumOf(alike, (one) => habits.share('package', one));
      return (same: boolean) => atMost(sumOf(alike, timesOf), agreement(same, agrees, share), against);
    };
    const exact = weightOf((one) => one === key);
    const family = weightOf((one) => samePackage(one, key));
    return {
      kind: 'package',
      facet: 'package',
      seen: `package ${seen}`,
      weigh({ package: listed }) {
        if (listed === undefined) return undefined;
        return packageKey(listed) !== key && samePackage(listed, key)
          ? family(true)
          : exact(packageKey(listed) === key);
      },
      foreseen: {
        of: ({ package: listed }) =>
          listed === undefined
            ? undefined
            : (packageKey(listed) === key ? agrees : 0) + (1 - agrees) * habits.share('package', key),
        atLarge: habits.share('package', key),
      },
    };
  });
}

/**
 * The number of terminals, given the package: its name mostly has the number itself, so that a count says little more, of a
 * part that nobody knows as of any other.
 */
function pinEvidence(
  { pins, package: body }: Sighting,
  habits: HabitsWithout,
  table: PartTable,
  unknown: AtLarge,
): Evidence | undefined {
  if (pins === undefined) return undefined;
  return shared(habits, `pins ${pins} ${body ?? ''}`, () => {
    const agrees = habits.agreement('pins');
    const [counted, total] = [habits.count('pins', String(pins)), habits.total('pins')];
    const times = counted + unknown.times('pins', String(pins));
    // What was counted elsewhere, the catalogue beside it, and as much as one more for counts not met yet.
    const share =
      (counted + CATALOGUE_COUNTS * unknown.pins(pins) + (total + 1) * habits.share('pins', '')) /
      (total + CATALOGUE_COUNTS + 1);
    const atLarge = body === undefined ? share : terminalsGiven(body, pins, share, habits, table);
    const ofPart = (part: Part) => {
      if (!part.pins) return undefined;
      const isOther = body !== undefined && part.package !== undefined && !samePackage(body, part.package);
      const follows = isOther ? COUNT_FOLLOWS_NAME : 0;
      return (
        follows * atLarge + (1 - follows) * countOf(pins, part.pins, part.package ?? body, agrees, share)
      );
    };
    return {
      kind: 'pin-count',
      facet: 'packagePins',
      seen: `${pins} pins`,
      weigh(part) {
        const likelihood = ofPart(part);
        if (likelihood === undefined) return undefined;
        const against = habits.agreementCounts('pins') / (isFarOff(pins, part.pins ?? pins) ? FAR_OFF : 1);
        return atMost(times, Math.log(likelihood / atLarge), against);
      },
      foreseen: { of: ofPart, atLarge },
    };
  });
}

/** How often the pad below is counted as a terminal, and how often a wrong count is off by one (common practice, no source). */
const PAD_COUNTED = 0.3;
const OFF_BY_ONE = 0.5;

/** P(so many terminals were counted | the part has so many): right, with the pad below, off by one, or as counts are at large. */
function countOf(
  counted: number,
  has: number,
  packageName: string | undefined,
  agrees: number,
  share: number,
): number {
  const isPadded = sameTerminals(has + 1, has, packageName);
  const right = counted === has ? 1 - (isPadded ? PAD_COUNTED : 0) : 0;
  const withPad = isPadded && counted === has + 1 ? PAD_COUNTED : 0;
  const near = Math.abs(counted - has) === 1 ? OFF_BY_ONE / 2 : 0;
  const any = (isFarOff(counted, has) ? FAR_OFF : 1) * (1 - OFF_BY_ONE) * share;
  return agrees * (right + withPad) + (1 - agrees) * (near + any);
}

/** A count that is wrong is rarely wrong by half and more: one in ten of those that are not off by one (common practice, no source). */
const FAR_OFF = 0.1;

function isFarOff(counted: number, has: number): boolean {
  return Math.abs(counted - has) > 2 && (counted > 1.5 * has || has > 1.5 * counted);
}

/** How often a name's number is that of the terminals, before anything was learnt of the name, and how much that counts. */
const NAME_TELLS = 0.9;
const NAME_COUNTS = 2;

/** P(so many terminals | name of the package), from the chips of other devices and the parts of the catalogue that have it. */
function terminalsGiven(
  body: string,
  pins: number,
  share: number,
  habits: HabitsWithout,
  table: PartTable,
): number {
  const name = plainPackage(body);
  const known = table.terminalsOf(name);
  const learnt = habits.given('pins', name);
  let total = 0;
  for (const counts of [known, learnt]) for (const times of counts.values()) total += times;
  const times = (known.get(String(pins)) ?? 0) + (learnt.get(String(pins)) ?? 0);
  const number = /-(\d+)$/u.exec(body.trim())?.[1];
  const ahead = number === undefined ? share : countOf(pins, Number(number), body, NAME_TELLS, share);
  return (times + NAME_COUNTS * ahead) / (total + NAME_COUNTS);
}

/**
 * The size, given the package: a part that nobody knows is as large as one of those known in the same package, or as one of
 * all, or else as chips are. So a size that all of a package have says nothing.
 */
function bodyEvidence(
  { body, package: name }: Sighting,
  _habits: HabitsWithout,
  table: PartTable,
  unknown: AtLarge,
): Evidence | undefined {
  if (!body) return undefined;
  const sides = body.flatMap((side) => side ?? []);
  const any = sides.reduce((product, side, i) => {
    const { mean, deviation } = unknown.bodies[i];
    const off = (Math.log(side) - mean) / deviation;
    return (product * Math.exp(-(off ** 2) / 2)) / (side * deviation * ROOT_2_PI);
  }, 1);
  const likelihood = ({ body: known }: Part) => {
    if (!known) return undefined;
    const both = [Math.max(known.length, known.width), Math.min(known.length, known.width)];
    return sides.reduce((product, side, i) => {
      const spread = bodySpread(both[i]);
      return (product * Math.exp(-(((side - both[i]) / spread) ** 2) / 2)) / (spread * ROOT_2_PI);
    }, 1);
  };
  const bySize = new Map(
    table.facet('body').examples.map((part) => [sizeKey(part), likelihood(part) ?? 0] as const),
  );
  const mixture = ({ counts, whole }: Sizes, ahead: number) => {
    let sum = ahead;
    for (const [size, times] of counts) sum += times * (bySize.get(size) ?? 0);
    return sum / (whole + 1);
  };
  const ofAll = mixture(unknown.sizesOf(undefined), any);
  const atLarge = name === undefined ? ofAll : mixture(unknown.sizesOf(packageKey(name)), ofAll);
  return {
    kind: 'body-size',
    facet: 'body',
    seen: sides.length > 1 ? `body ${sides.join(' × ')} mm` : `body ${sides[0]} mm on its longer side`,
    weigh(part) {
      const one = part.body && bySize.get(sizeKey(part));
      return one === undefined ? undefined : Math.log(1 - BODY_AGREES + (BODY_AGREES * one) / atLarge);
    },
    foreseen: {
      of: (part) => {
        const one = part.body && bySize.get(sizeKey(part));
        return one === undefined ? undefined : (1 - BODY_AGREES) * atLarge + BODY_AGREES * one;
      },
      atLarge,
    },
  };
}

function appearanceEvidence({ appears }: Sighting): Evidence | undefined {
  if (appears === undefined || appears === 'Module' || appears === 'IntegratedCircuit') return undefined;
  return {
    kind: 'appearance',
    facet: 'categories',
    seen: `plainly a ${appears}`,
    // Not against parts at large but as it is: a part that nobody knows is weighed by what it may be.
    weigh: ({ categories }) => looks(categories.some((one) => isUnder(one, appears))),
    weighKind: (category) => looks(isUnder(category, appears)),
  };
}

function looks(agree: boolean): number {
  return Math.log(agree ? LOOKS_AGREE : 1 - LOOKS_AGREE);
}

function sideEvidence({ side }: Sighting, habits: HabitsWithout): Evidence | undefined {
  if (side === undefined) return undefined;
  return shared(habits, `side ${side}`, () => {
    const lift = habits.lifts('side', side);
    return {
      kind: 'board-side',
      facet: 'category',
      seen: `${side} side`,
      weigh: ({ categories: [category] }) => lift(category),
    };
  });
}

function neighbourEvidence({ neighbours }: Sighting, habits: HabitsWithout): Evidence | undefined {
  // In order of name: neither weight nor words depend on the order of the connections.
  const kinds = neighbours.flatMap(({ category }) => category ?? []).sort();
  if (kinds.length === 0) return undefined;
  const lifts = kinds.map((kind) => habits.lifts('neighbour', kind));
  return {
    kind: 'neighbours',
    facet: 'category',
    get seen() {
      return `connected to ${[...new Set(kinds)].join(', ')}`;
    },
    weigh: ({ categories: [category] }) =>
      together(lifts, category, habits.totalGiven('neighbour', category)),
  };
}

function busEvidence({ neighbours }: Sighting, habits: HabitsWithout): Evidence | undefined {
  const buses = [...new Set(neighbours.flatMap(({ bus }) => bus ?? []))].sort();
  if (buses.length === 0) return undefined;
  const said = buses.join(', ');
  return shared(habits, `buses ${said}`, () => {
    const lifts = buses.map((bus) => habits.lifts('bus', bus));
    return {
      kind: 'buses',
      facet: 'category',
      seen: `speaks ${said}`,
      weigh: ({ categories: [category] }) => together(lifts, category, habits.totalGiven('bus', category)),
    };
  });
}

/**
 * What the pins hang on, against the pinout that the catalogue has of a part, else against the arrangements of its classes.
 * A class of which no arrangement is listed says nothing, nor does one of which none has so many pins: that is what package
 * and terminals are weighed for.
 */
function pinoutEvidence({ nets }: Sighting): Evidence | undefined {
  if (!nets || nets.pins.length === 0) return undefined;
  return {
    kind: 'pinout',
    facet: 'pinout',
    seen: 'what its pins are connected to',
    weigh: (part) => weightOf(partFits(part, nets)),
    weighKind: (category) => atMost(TRADE_COUNTS, classFitOf(nets, category)?.log ?? 0),
    says: (part) => likeliest(partFits(part, nets))?.says() ?? 'what its pins are connected to',
  };
}

/** Fits of a part: by its own pinout, else one for each of its functions that has arrangements. */
export function partFits({ number, pinout, pins, categories }: Part, nets: NetClues): readonly ClassFit[] {
  const own =
    pinout &&
    arrangementOfPart(`${number} of the catalogue`, pinout, pins, (pin) =>
      functionOf(pin, (term) => categories.some((one) => isUnder(one, term))),
    );
  if (own && own.orders.length > 0) {
    const fit = fitOf(nets, own);
    return [{ log: fit.log, best: fit, expected: fit.expected }];
  }
  return categories.flatMap((term) => classFitOf(nets, term) ?? []);
}

/** A part of several functions has the pins of one or the other, all equally likely. */
function weightOf(fits: readonly ClassFit[]): number {
  return fits.length === 0
    ? 0
    : atMost(TRADE_COUNTS, logSum(fits.map(({ log }) => log)) - Math.log(fits.length));
}

function likeliest(fits: readonly ClassFit[]): Fit | undefined {
  return fits.toSorted((a, b) => b.log - a.log)[0]?.best;
}

/**
 * Which makers of parts the maker of the device buys from, among those that make such a part: where one maker has all of a
 * kind, that another is preferred for other kinds says nothing.
 */
function makerEvidence({ deviceMaker }: Sighting, habits: HabitsWithout, table: PartTable): Evidence {
  return shared(habits, `maker ${deviceMaker}`, () => {
    const liftOf = (maker: string) => habits.lifts('maker', maker)(deviceMaker);
    const usual = new Map<string, number>();
    const usualOf = (category: string) => {
      let log = usual.get(category);
      if (log === undefined) {
        let [sum, parts] = [0, 0];
        for (const [maker, count] of table.makersOf(category)) {
          sum += count * Math.exp(liftOf(maker));
          parts += count;
        }
        log = Math.log(sum / parts);
        usual.set(category, log);
      }
      return log;
    };
    return {
      kind: 'maker-habit',
      facet: 'makerOfKind',
      seen: `in a device of ${deviceMaker}`,
      weigh: ({ maker, categories: [category] }) => liftOf(maker) - usualOf(category),
    };
  });
}

function dateEvidence({ released }: Sighting, habits: HabitsWithout): Evidence {
  return shared(habits, `released ${released}`, () => {
    const { last } = dateRange(released);
    return {
      kind: 'release-date',
      facet: 'introduced',
      seen: `in a device released ${released}`,
      weigh: ({ introduced }) =>
        introduced === undefined ? undefined : last < firstDayOf(introduced) ? Math.log(BEFORE_DELIVERY) : 0,
    };
  });
}

/** First days of delivery dates; a catalogue has few different ones. */
const firstDays = new Map<string, string>();

function firstDayOf(date: string): string {
  let first = firstDays.get(date);
  if (first === undefined) {
    ({ first } = dateRange(date));
    firstDays.set(date, first);
  }
  return first;
}

function together(lifts: readonly ((category: string) => number)[], category: string, times: number): number {
  let sum = 0;
  for (const lift of lifts) sum += lift(category);
  return atMost(times, NEIGHBOUR_SHARE * sum);
}

/**
 * No more than was learnt: a clue seen n times weighs at most 10 log10(n + 1) decibans, which is what the next one like it is
 * worth by Laplace's rule of succession.
 * @param times how often what speaks for it was seen
 * @param against how often what speaks against it was
 */
function atMost(times: number, log: number, against = times): number {
  return Math.max(-Math.log(against + 1), Math.min(Math.log(times + 1), log));
}
