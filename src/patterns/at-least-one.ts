import { type Bits, has, without } from '../statistics/bits.ts';
import { wilson } from '../statistics/proportion.ts';

/**
 * How likely it is that at least one of several matches is real, when their evidence is uncertain.
 *
 * Each uncertain thing (a component) is exactly one of its alternatives (its candidate parts, or something else),
 * independently of the other things. A match is real when every thing it names is one of the alternatives it
 * allows. This is the probability of a formula in disjunctive normal form over independent discrete variables
 * (Dalvi & Suciu, VLDB Journal 16, 2007, section 2). It is computed exactly by conditioning on one thing at a
 * time, with matches that share no thing treated apart (Birnbaum & Lozinskii, JAIR 10, 1999, section 4); when
 * that takes more than the allowed steps, it is estimated by sampling worlds, with a Wilson interval.
 */

/** Probabilities of a thing's alternatives; the rest to 1 is "something else", which no match allows. */
export type Alternatives = readonly number[];

/** For each thing in a match, the set of the alternatives under which the match is real. */
export type Requirements = ReadonlyMap<number, Bits>;

export interface AtLeastOne {
  readonly probability: number;
  /** Whether the number is exact up to rounding; otherwise `low` and `high` are a 99 % interval. */
  readonly exact: boolean;
  readonly low: number;
  readonly high: number;
}

const MAX_STEPS = 20_000;
const SAMPLES = 4_000;
/** Matches of which the probability is worked out exactly, if it can be. */
const MOST_EXACT = 4_000;

/**
 * @param things alternatives of each uncertain thing
 * @param matches requirements of each match, by index into `things`; an empty match is certain
 * @param random numbers in [0, 1), for the estimate; seeded for a repeatable answer
 */
export function atLeastOne(
  things: readonly Alternatives[],
  matches: readonly Requirements[],
  random: () => number,
  maxSteps = MAX_STEPS,
): AtLeastOne {
  const budget = { steps: maxSteps };
  // Of so many, each step of the exact way takes too long.
  const exact = matches.length > MOST_EXACT ? undefined : union(things, withoutSuperfluous(matches), budget);
  if (exact !== undefined) {
    const probability = Math.min(1, Math.max(0, exact));
    return { probability, exact: true, low: probability, high: probability };
  }
  return estimate(things, matches, random);
}

/** Exact probability of at least one real match; undefined when the budget is used up. */
function union(
  things: readonly Alternatives[],
  matches: readonly Requirements[],
  budget: { steps: number },
): number | undefined {
  if (matches.length === 0) return 0;
  if (matches.some((match) => match.size === 0)) return 1;
  if (matches.length === 1) return product(things, matches[0]);
  if (budget.steps-- <= 0) return undefined;
  const groups = independentGroups(matches);
  if (groups.length > 1) {
    let noneStands = 1;
    for (const group of groups) {
      const some = union(things, group, budget);
      if (some === undefined) return undefined;
      noneStands *= 1 - some;
    }
    return 1 - noneStands;
  }
  return condition(things, matches, mostNamed(matches), budget);
}

/** Sums over the alternatives of a thing; those that no match distinguishes are merged. */
function condition(
  things: readonly Alternatives[],
  matches: readonly Requirements[],
  thing: number,
  budget: { steps: number },
): number | undefined {
  const masses = new Map<string, { mass: number; at: number }>();
  const alternatives = things[thing];
  const elsewhere = 1 - alternatives.reduce((sum, p) => sum + p, 0);
  alternatives.concat(Math.max(0, elsewhere)).forEach((mass, index) => {
    const told = matches.map((match) => Number(isAllowed(match, thing, index))).join('');
    const known = masses.get(told);
    if (known) known.mass += mass;
    else masses.set(told, { mass, at: index });
  });
  let total = 0;
  for (const { mass, at } of masses.values()) {
    if (mass === 0) continue;
    const left = matches.flatMap((match) => {
      if (!match.has(thing)) return [match];
      if (!isAllowed(match, thing, at)) return [];
      const rest = new Map(match);
      rest.delete(thing);
      return [rest];
    });
    const some = union(things, withoutSuperfluous(left), budget);
    if (some === undefined) return undefined;
    total += mass * some;
  }
  return total;
}

function isAllowed(match: Requirements, thing: number, at: number): boolean {
  const allowed = match.get(thing);
  return allowed === undefined || has(allowed, at);
}

function product(things: readonly Alternatives[], match: Requirements): number {
  let probability = 1;
  for (const [thing, allowed] of match) probability *= massOf(things[thing], allowed);
  return probability;
}

function massOf(alternatives: Alternatives, allowed: Bits): number {
  return alternatives.reduce((sum, p, at) => (has(allowed, at) ? sum + p : sum), 0);
}

/** Drops a match that is real only when another is real anyway (absorption); keeps large sets small. */
function withoutSuperfluous(matches: readonly Requirements[]): readonly Requirements[] {
  if (matches.length < 2) return matches;
  const distinct = [...new Map(matches.map((match) => [keyOf(match), match])).values()];
  if (distinct.length > 200) return distinct;
  return distinct.filter(
    (match) =>
      !distinct.some((other) => other !== match && other.size <= match.size && implies(match, other)),
  );
}

function keyOf(match: Requirements): string {
  if (match.size === 1) for (const [thing, allowed] of match) return `${thing}:${allowed}`;
  return [...match]
    .sort(([a], [b]) => a - b)
    .map(([thing, allowed]) => `${thing}:${allowed}`)
    .join(' ');
}

/** Whether `other` is real whenever `match` is. */
function implies(match: Requirements, other: Requirements): boolean {
  for (const [thing, allowed] of other) {
    const own = match.get(thing);
    if (own === undefined || without(own, allowed)) return false;
  }
  return true;
}

/** Groups of matches; different groups share no thing. */
function independentGroups(matches: readonly Requirements[]): Requirements[][] {
  const groups: { things: Set<number>; matches: Requirements[] }[] = [];
  for (const match of matches) {
    const merged = { things: new Set(match.keys()), matches: [match] };
    for (let i = groups.length - 1; i >= 0; i--) {
      if (![...match.keys()].some((thing) => groups[i].things.has(thing))) continue;
      for (const thing of groups[i].things) merged.things.add(thing);
      merged.matches.push(...groups[i].matches);
      groups.splice(i, 1);
    }
    groups.push(merged);
  }
  return groups.map((group) => group.matches);
}

function mostNamed(matches: readonly Requirements[]): number {
  const counts = new Map<number, number>();
  for (const match of matches)
    for (const thing of match.keys()) counts.set(thing, (counts.get(thing) ?? 0) + 1);
  return [...counts].reduce((best, next) => (next[1] > best[1] ? next : best))[0];
}

/**
 * Share of sampled worlds with a real match, with its Wilson interval (Wilson 1927). All worlds are drawn first and tested together, a
 * bit for each, so that a match takes as long as a few hundred words.
 */
function estimate(
  things: readonly Alternatives[],
  matches: readonly Requirements[],
  random: () => number,
): AtLeastOne {
  const worlds: Int32Array[] = [];
  for (let sample = 0; sample < SAMPLES; sample++)
    worlds.push(Int32Array.from(things, (alternatives) => drawn(alternatives, random())));
  const size = Math.ceil(SAMPLES / 32);
  const known = new Map<string, Int32Array>();
  const where = (thing: number, allowed: Bits): Int32Array => {
    const key = `${thing}:${allowed}`;
    let bits = known.get(key);
    if (!bits) {
      bits = new Int32Array(size);
      for (let sample = 0; sample < SAMPLES; sample++)
        if (has(allowed, worlds[sample][thing])) bits[sample >> 5] |= 1 << (sample & 31);
      known.set(key, bits);
    }
    return bits;
  };
  const real = new Int32Array(size);
  for (const match of matches) {
    const sets = [...match].map(([thing, allowed]) => where(thing, allowed));
    for (let word = 0; word < size; word++) {
      let all = -1;
      for (const set of sets) all &= set[word];
      real[word] |= all;
    }
  }
  let hits = 0;
  for (let sample = 0; sample < SAMPLES; sample++) hits += (real[sample >> 5] >>> (sample & 31)) & 1;
  return { probability: hits / SAMPLES, exact: false, ...wilson(hits, SAMPLES, 0.99) };
}

/** Index of the alternative that a number in [0, 1) falls on; 31, which no match allows, for "something else". */
function drawn(alternatives: Alternatives, at: number): number {
  let sum = 0;
  for (let index = 0; index < alternatives.length; index++) {
    sum += alternatives[index];
    if (at < sum) return index;
  }
  return alternatives.length;
}
