import { BACKGROUND, SURROUNDINGS, type Surrounding } from '../classes/class-pinouts.ts';
import { expectationOf } from '../classes/pinout-fit.ts';
import { type Part, partIdOf } from '../model/catalogue.ts';
import { cautionsFor, hazardsOfStep } from '../model/cautions.ts';
import { isCertain } from '../model/marking.ts';
import { isUnder } from '../model/taxonomy.ts';
import { entropyBits } from '../statistics/entropy.ts';
import { partFits } from './evidence.ts';
import { type HabitsWithout, packageKey } from './habits.ts';
import { expectedGainBits } from './information.ts';
import { BENCH_METHODS, type BenchMethod } from './methods.ts';
import type { Posterior } from './posterior.ts';
import type { Sighting } from './sighting.ts';

/** Something that could still be looked at, and what may be learnt from it. */
export interface NextObservation {
  readonly component: string;
  readonly method: BenchMethod;
  /** What to do, in words. */
  readonly action: string;
  /** Number or name of the pin that it is about; undefined for the whole component. */
  readonly pin: string | undefined;
  /** Expected information gain about what the component is, bits. */
  readonly gainBits: number;
  readonly bitsPerMinute: number;
  /** The cautions that belong to it; the standing caution always. */
  readonly cautions: readonly string[];
}

/** Hypotheses less likely than this are taken together with "none in the catalogue". */
const NEGLIGIBLE = 1e-4;
/** How often the bench reads a value as the catalogue has it, where the method succeeds at all. */
const READ_RIGHT = 0.95;
const FAILED = 'nothing learnt';

/**
 * Ranks what could still be looked at for one component by bits a minute. Each method is modelled by what it would
 * show under each candidate; what was already seen without doubt is not offered again.
 */
export function nextObservations(
  sighting: Sighting,
  odds: Posterior,
  habits: HabitsWithout,
): readonly NextObservation[] {
  const kept = odds.candidates.filter(({ probability }) => probability >= NEGLIGIBLE);
  const prior = [
    ...kept.map(({ probability }) => probability),
    Math.max(0, 1 - kept.reduce((sum, { probability }) => sum + probability, 0)),
  ];
  if (entropyBits(prior) < 1e-6) return [];
  const parts = kept.map(({ part }) => part);
  const open = BENCH_METHODS.filter((method) => stillOpen(method, sighting));
  const observation = (method: BenchMethod, pin: string | undefined, gainBits: number): NextObservation => ({
    component: sighting.component,
    method,
    action: pin === undefined ? method.name : (method.atPin ?? method.name).replace('{pin}', pin),
    pin,
    gainBits,
    bitsPerMinute: gainBits / method.minutes,
    cautions: cautionsFor(hazardsOfStep(method)),
  });
  const wholes = open.map((method) => {
    const outcomes = [...parts, undefined].map((part) =>
      spread(method, outcomesUnder(method, part, parts, habits)),
    );
    return observation(method, undefined, expectedGainBits(prior, outcomes));
  });
  const pins = pinOutcomes(sighting, parts);
  const atPins = open.flatMap((method) => {
    if (method.atPin === undefined || pins.size === 0) return [];
    const gains = [...pins].map(([pin, outcomes]) => {
      const seen = outcomes.map((one) => spread(method, asSeenBy(method, one)));
      return observation(method, pin, expectedGainBits(prior, seen));
    });
    // One pin of each method: after it everything is worked out anew.
    return [gains.reduce((a, b) => (b.gainBits > a.gainBits ? b : a))];
  });
  return [...wholes, ...atPins]
    .filter(({ gainBits }) => gainBits > 1e-6)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute || (a.method.id < b.method.id ? -1 : 1));
}

/**
 * What each pin may turn out to hang on that no net tells yet: under every part and under none of them, by label. Empty where
 * no net of the component is recorded, or where its pins have no numbers to ask for.
 */
function pinOutcomes(
  { nets }: Sighting,
  parts: readonly Part[],
): ReadonlyMap<string, readonly ReadonlyMap<string, number>[]> {
  const outcomes = new Map<string, ReadonlyMap<string, number>[]>();
  if (nets?.terminals === undefined) return outcomes;
  const told = new Map(nets.pins.map(({ label, may }) => [label, may]));
  const byPins = new Map<string, ReturnType<typeof expectationOf>>();
  const expected = parts.map((part) => {
    const key = part.pinout ? partIdOf(part) : part.categories.join(' ');
    let known = byPins.get(key);
    if (!known) {
      known = expectationOf(partFits(part, nets));
      byPins.set(key, known);
    }
    return known;
  });
  for (let pin = 1; pin <= nets.terminals; pin++) {
    const label = String(pin);
    const may = told.get(label) ?? SURROUNDINGS;
    if (may.length === 1) continue;
    outcomes.set(
      label,
      [...expected, () => BACKGROUND].map((of) => among(may, of(label))),
    );
  }
  return outcomes;
}

/** Probabilities of the surroundings that are still possible, scaled to 1. */
function among(may: readonly Surrounding[], on: readonly number[]): ReadonlyMap<string, number> {
  const masses = SURROUNDINGS.flatMap((one, at) => (may.includes(one) ? [[one, on[at]] as const] : []));
  const whole = masses.reduce((sum, [, mass]) => sum + mass, 0);
  return new Map(masses.map(([one, mass]) => [one, mass / whole]));
}

/** A probe tells supplies and buses, and which other lines are quiet, but not what hangs on them. */
function asSeenBy(
  { reads }: BenchMethod,
  outcomes: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  if (reads !== 'probe') return outcomes;
  const seen = new Map<string, number>();
  for (const [one, p] of outcomes) {
    const as = PROBED.has(one) ? one : 'a line';
    seen.set(as, (seen.get(as) ?? 0) + p);
  }
  return seen;
}

const PROBED: ReadonlySet<string> = new Set<Surrounding>([
  ...([
    'ground',
    'rail',
    'battery',
    'outside-supply',
    'switch-node',
    'supplied-inductor',
    'crystal',
  ] as const),
  ...(['i2c', 'spi', 'debug', 'usb', 'audio', 'uart'] as const),
]);

/** A shield, or a component of which nothing was seen that a shield would hide. */
function isCovered({ appears, marking, package: outline, body }: Sighting): boolean {
  if (appears !== undefined && isUnder(appears, 'Shield')) return true;
  return marking === undefined && outline === undefined && body === undefined;
}

/** Whether a method may still show something of a component. */
export function stillOpen({ reads, destructive, covered }: BenchMethod, sighting: Sighting): boolean {
  if (covered && !isCovered(sighting)) return false;
  switch (reads) {
    case 'marking':
      return destructive || !sighting.marking || !isCertain(sighting.marking);
    case 'package':
      return sighting.package === undefined;
    case 'pin-count':
      return sighting.pins === undefined;
    case 'body-size':
      return sighting.body === undefined;
    default:
      return true;
  }
}

/** Outcomes with the chance of failing taken in: a failure looks the same under every hypothesis. */
export function spread(
  { succeeds }: BenchMethod,
  outcomes: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const all = new Map([...outcomes].map(([outcome, p]) => [outcome, p * succeeds]));
  // Where nothing is known of what a trace may show, a success teaches nothing either.
  all.set(FAILED, (all.get(FAILED) ?? 0) + 1 - succeeds);
  return all;
}

/** What a method that succeeds would show if the component were this part (undefined: none of the catalogue's). */
function outcomesUnder(
  method: BenchMethod,
  part: Part | undefined,
  rivals: readonly Part[],
  habits: HabitsWithout,
): ReadonlyMap<string, number> {
  switch (method.reads) {
    case 'marking':
      return likely(
        part && (part.markings[0] ?? partIdOf(part)),
        rivals.map((one) => one.markings[0] ?? partIdOf(one)),
      );
    case 'package':
      return likely(
        part?.package && packageKey(part.package),
        rivals.flatMap((one) => (one.package ? packageKey(one.package) : [])),
      );
    case 'pin-count':
      return likely(
        part?.pins?.toString(),
        rivals.flatMap((one) => one.pins?.toString() ?? []),
      );
    case 'body-size':
      return likely(
        bodyKey(part),
        rivals.flatMap((one) => bodyKey(one) ?? []),
      );
    case 'trace':
      return habitual(part, habits, 'neighbour');
    case 'probe':
      return habitual(part, habits, 'bus');
    default:
      // A look through the package shows the kind of component, not which part.
      return likely(
        part?.categories[0],
        rivals.map(({ categories }) => categories[0]),
      );
  }
}

/** The value the catalogue has with READ_RIGHT, the rest spread over what the rivals have and "something else". */
function likely(value: string | undefined, rivals: readonly string[]): ReadonlyMap<string, number> {
  const values = [...new Set(rivals), 'something else'];
  if (value === undefined) {
    if (values.length === 1) return new Map([[values[0], 1]]);
    // A part nobody knows mostly shows something else.
    return new Map(
      values.map((one) => [
        one,
        one === 'something else' ? READ_RIGHT : (1 - READ_RIGHT) / (values.length - 1),
      ]),
    );
  }
  const others = values.filter((one) => one !== value);
  return new Map([
    [value, READ_RIGHT],
    ...others.map((one) => [one, (1 - READ_RIGHT) / others.length] as const),
  ]);
}

function habitual(
  part: Part | undefined,
  habits: HabitsWithout,
  table: 'neighbour' | 'bus',
): ReadonlyMap<string, number> {
  const values = [...habits.values(table).keys()];
  const weights = values.map((seen) =>
    part ? habits.shareGiven(table, part.categories[0], seen) : habits.share(table, seen),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return total === 0 ? new Map([[FAILED, 1]]) : new Map(values.map((seen, i) => [seen, weights[i] / total]));
}

/** Body sizes that callipers can distinguish, to 0.2 mm. */
function bodyKey(part: Part | undefined): string | undefined {
  if (!part?.body) return undefined;
  const sides = [part.body.length, part.body.width].sort((a, b) => b - a);
  return sides.map((side) => Math.round(side / 0.2)).join('x');
}
