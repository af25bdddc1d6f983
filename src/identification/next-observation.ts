import { BACKGROUND, SURROUNDINGS, type Surrounding } from '../classes/class-pinouts.ts';
import { classFitOf, expectationOf, pinPower } from '../classes/pinout-fit.ts';
import { cautionsFor, hazardsOfStep } from '../model/cautions.ts';
import { isCertain } from '../model/marking.ts';
import { isUnder } from '../model/taxonomy.ts';
import { partFits } from './evidence.ts';
import { Foresight, type Outcome } from './foresight.ts';
import { BENCH_METHODS, type BenchMethod } from './methods.ts';
import { type MarkingReader, readings } from './readings.ts';
import type { Sighting } from './sighting.ts';
import type { PosteriorInput } from './weighing.ts';

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

/** Groups of parts with one pinout that are looked at, the likeliest; pins of the others are as pins are at large. */
const PINOUTS = 64;
const FAILED = 'nothing learnt';

/**
 * Ranks what could still be looked at for one component by bits a minute: by how much the entropy of what it is falls on average
 * over what the look may show, each outcome as likely as the odds and their likelihoods say, the odds then worked out as after
 * any look (Lindley 1956). What was already seen without doubt is not offered again.
 */
export function nextObservations(input: PosteriorInput, reader: MarkingReader): readonly NextObservation[] {
  const { sighting } = input;
  const foresight = new Foresight(input);
  if (foresight.bits < 1e-6) return [];
  const open = BENCH_METHODS.filter((method) => stillOpen(method, sighting));
  const observation = (method: BenchMethod, pin: string | undefined, bits: number): NextObservation => {
    const gainBits = bits * method.succeeds;
    return {
      component: sighting.component,
      method,
      action: pin === undefined ? method.name : (method.atPin ?? method.name).replace('{pin}', pin),
      pin,
      gainBits,
      bitsPerMinute: gainBits / method.minutes,
      cautions: cautionsFor(hazardsOfStep(method)),
    };
  };
  // Two ways to read one thing may show the same.
  const falls = new Map<BenchMethod['reads'], number>();
  const wholes = open.map((method) => {
    const fall = falls.get(method.reads) ?? foresight.expectedFall(outcomesOf(method, foresight, reader));
    falls.set(method.reads, fall);
    return observation(method, undefined, fall);
  });
  const pins = pinOutcomes(foresight);
  const atPins = open.flatMap((method) => {
    if (method.atPin === undefined || !pins || pins.labels.size === 0) return [];
    const gains = [...pins.labels].map(([pin, rows]) =>
      observation(method, pin, fallAtPin(method, foresight, pins, rows)),
    );
    // One pin of each method: after it everything is worked out anew.
    return [gains.reduce((a, b) => (b.gainBits > a.gainBits ? b : a))];
  });
  return [...wholes, ...atPins]
    .filter(({ gainBits }) => gainBits > 1e-6)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute || (a.method.id < b.method.id ? -1 : 1));
}

/** What a method that succeeds may show of the whole component. */
function outcomesOf({ reads }: BenchMethod, foresight: Foresight, reader: MarkingReader): readonly Outcome[] {
  switch (reads) {
    case 'marking':
      return readings(foresight, reader);
    case 'package':
      return foresight.packages();
    case 'pin-count':
      return foresight.counts();
    case 'body-size':
      return foresight.bodies();
    case 'trace':
      return foresight.connections('neighbour');
    case 'probe':
      return foresight.connections('bus');
    default:
      // A look through the package shows the kind of component, not which part.
      return foresight.appearances();
  }
}

/** Parts with one pinout, and what their pins may hang on. */
interface PinoutGroup {
  /** Probability that it is one of them. */
  readonly parts: number;
  /** Sum of p ln p over them. */
  readonly nats: number;
  /** Probability that it is none of the catalogue, and like one of them. */
  readonly alike: number;
}

/** What each pin that no net tells yet may hang on: for each group of parts with one pinout, in order. */
interface PinOutcomes {
  readonly groups: readonly PinoutGroup[];
  /** How much of its weight a pin counts for. */
  readonly power: number;
  readonly labels: ReadonlyMap<
    string,
    { readonly may: readonly Surrounding[]; readonly rows: readonly (readonly number[])[] }
  >;
}

/**
 * What each pin may turn out to hang on that no net tells yet, by label. Undefined where no net of the component is recorded, or
 * where its pins have no numbers to ask for.
 */
function pinOutcomes({ input, parts, alike, unlike }: Foresight): PinOutcomes | undefined {
  const { sighting, table } = input;
  const { nets } = sighting;
  if (nets?.terminals === undefined) return undefined;
  const { of, examples } = table.facet('pinout');
  const all = examples.map(() => ({ parts: 0, nats: 0, alike: 0 }));
  for (let i = 0; i < of.length; i++) {
    const group = all[of[i]];
    group.parts += parts[i];
    group.alike += alike[i];
    if (parts[i] > 0) group.nats += parts[i] * Math.log(parts[i]);
  }
  const likest = [...all.keys()]
    .sort((a, b) => all[b].parts + all[b].alike - all[a].parts - all[a].alike || a - b)
    .slice(0, PINOUTS);
  const groups: PinoutGroup[] = likest.map((at) => all[at]);
  const expected = likest.map((at) => expectationOf(partFits(examples[at], nets)));
  const chosen = new Set(likest);
  const rest = { parts: 0, nats: 0, alike: 0 };
  all.forEach((group, at) => {
    if (chosen.has(at)) return;
    rest.parts += group.parts;
    rest.nats += group.nats;
    rest.alike += group.alike;
  });
  groups.push(rest);
  expected.push(() => BACKGROUND);
  // A part that is like none has the pins of its kind.
  table.facet('category').examples.forEach(({ categories: [category] }, kind) => {
    if (unlike[kind] < 1e-4) return;
    const fit = classFitOf(nets, category);
    groups.push({ parts: 0, nats: 0, alike: unlike[kind] });
    expected.push(fit ? expectationOf([fit]) : () => BACKGROUND);
  });
  const told = new Map(nets.pins.map(({ label, may }) => [label, may]));
  const labels = new Map<string, { may: readonly Surrounding[]; rows: readonly (readonly number[])[] }>();
  for (let pin = 1; pin <= nets.terminals; pin++) {
    const label = String(pin);
    const may = told.get(label) ?? SURROUNDINGS;
    if (may.length > 1) labels.set(label, { may, rows: expected.map((on) => on(label)) });
  }
  return { groups, labels, power: pinPower(nets.terminals) };
}

/** By how much the entropy falls on average when one pin is told, bits. A pin counts as it does among all that nets say. */
function fallAtPin(
  method: BenchMethod,
  { bits }: Foresight,
  { groups, power }: PinOutcomes,
  { may, rows }: { readonly may: readonly Surrounding[]; readonly rows: readonly (readonly number[])[] },
): number {
  const seen = rows.map((on) => asSeenBy(method, among(may, on)));
  const atLarge = asSeenBy(method, among(may, BACKGROUND));
  let [fall, whole] = [0, 0];
  for (const [outcome, usual] of atLarge) {
    const weights = seen.map((one) => ((one.get(outcome) ?? 0) / usual) ** power);
    let [share, sum, nats, unknown] = [0, 0, 0, 0];
    groups.forEach((group, at) => {
      share += (group.parts + group.alike) * (seen[at].get(outcome) ?? 0);
      sum += group.parts * weights[at];
      unknown += group.alike * weights[at];
      if (weights[at] > 0) nats += weights[at] * (group.nats + group.parts * Math.log(weights[at]));
    });
    if (unknown > 0) nats += unknown * Math.log(unknown);
    sum += unknown;
    if (sum === 0) continue;
    const after = (Math.log(sum) - nats / sum) / Math.LN2;
    whole += share;
    fall += share * (bits - after);
  }
  return whole > 0 ? Math.max(0, fall / whole) : 0;
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
