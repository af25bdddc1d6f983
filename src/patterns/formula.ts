import { type Bits, both, either, has, without } from '../statistics/bits.ts';
import { wilson } from '../statistics/proportion.ts';
import type { Alternatives, AtLeastOne } from './at-least-one.ts';

/**
 * How likely a formula over uncertain things is: each thing (a component) is exactly one of its alternatives, independently of
 * the other things. Exact by conditioning on one thing at a time, parts that share no thing treated apart, what was
 * worked out kept (Bacchus, Dalmao & Pitassi, "Solving #SAT and Bayesian inference with backtracking search", JAIR 34, 2009;
 * from memory). When that takes more than the allowed steps it is estimated by sampling worlds, with a Wilson interval.
 */
export type Formula =
  | boolean
  /** A thing is one of some alternatives. */
  | { readonly kind: 'is'; readonly thing: number; readonly bits: Bits; readonly name: string }
  | { readonly kind: 'all' | 'any'; readonly of: readonly Formula[]; readonly name: string }
  /** May hold or not. */
  | { readonly kind: 'open'; readonly name: string };

const MAX_STEPS = 20_000;
const SAMPLES = 4_000;

export const OPEN: Formula = { kind: 'open', name: '?' };

/** @param all set of all alternatives of the thing */
export function isOneOf(thing: number, bits: Bits, all: Bits): Formula {
  const some = both(bits, all);
  if (some === all) return true;
  if (!some) return false;
  return { kind: 'is', thing, bits, name: `${thing}:${bits}` };
}

export function allOf(parts: readonly Formula[]): Formula {
  return joined('all', parts);
}

export function anyOf(parts: readonly Formula[]): Formula {
  return joined('any', parts);
}

/** Parts about one thing become one, the same part counts once; what decides the whole is the whole. */
function joined(kind: 'all' | 'any', parts: readonly Formula[]): Formula {
  const decides = kind === 'any';
  const found = new Map<string, Exclude<Formula, boolean>>();
  const bits = new Map<number, Bits>();
  const add = (part: Formula): boolean => {
    if (typeof part === 'boolean') return part !== decides;
    if (part.kind === kind) return part.of.every(add);
    if (part.kind === 'is') {
      const before = bits.get(part.thing);
      if (before === undefined) bits.set(part.thing, part.bits);
      else bits.set(part.thing, decides ? either(before, part.bits) : both(before, part.bits));
    } else found.set(part.name, part);
    return true;
  };
  if (!parts.every(add)) return decides;
  const of: Exclude<Formula, boolean>[] = [...found.values()];
  for (const [thing, set] of bits) {
    // Only parts of `all` can exclude one another; a union of all alternatives is seen when probabilities are added.
    if (!set) return false;
    of.push({ kind: 'is', thing, bits: set, name: `${thing}:${set}` });
  }
  if (of.length === 0) return !decides;
  if (of.length === 1) return of[0];
  of.sort((a, b) => (a.name < b.name ? -1 : 1));
  const name = `${decides ? '|' : '&'}(${of.map((part) => part.name).join(' ')})`;
  return { kind, of, name };
}

/** @param all sets of all alternatives, by thing */
export function notOf(formula: Formula, all: readonly Bits[]): Formula {
  if (typeof formula === 'boolean') return !formula;
  switch (formula.kind) {
    case 'is':
      return isOneOf(formula.thing, without(all[formula.thing], formula.bits), all[formula.thing]);
    case 'all':
      return anyOf(formula.of.map((part) => notOf(part, all)));
    case 'any':
      return allOf(formula.of.map((part) => notOf(part, all)));
    case 'open':
      return formula;
    default:
      return formula satisfies never;
  }
}

/**
 * @param things probabilities of the alternatives of each thing, which sum to 1
 * @param random numbers in [0, 1), for the estimate; seeded for a repeatable answer
 */
export function probabilityOf(
  things: readonly Alternatives[],
  formula: Formula,
  random: () => number,
  maxSteps = MAX_STEPS,
): AtLeastOne {
  const least = bound(things, withOpen(formula, false), random, maxSteps);
  if (!hasOpen(formula)) return least;
  const most = bound(things, withOpen(formula, true), random, maxSteps);
  const [low, high] = [least.low, most.high];
  return { probability: (low + high) / 2, exact: false, low, high };
}

function bound(
  things: readonly Alternatives[],
  formula: Formula,
  random: () => number,
  maxSteps: number,
): AtLeastOne {
  const exact = new Conditioning(things, maxSteps).of(formula);
  if (exact === undefined) return estimate(things, formula, random);
  const probability = Math.min(1, Math.max(0, exact));
  return { probability, exact: true, low: probability, high: probability };
}

class Conditioning {
  readonly #things: readonly Alternatives[];
  readonly #known = new Map<string, number>();
  #left: number;

  constructor(things: readonly Alternatives[], maxSteps: number) {
    this.#things = things;
    this.#left = maxSteps;
  }

  /** Undefined when the steps are used up. */
  of(formula: Formula): number | undefined {
    if (typeof formula === 'boolean') return formula ? 1 : 0;
    if (formula.kind === 'is') return massOf(this.#things[formula.thing], formula.bits);
    if (formula.kind === 'open') return undefined;
    const known = this.#known.get(formula.name);
    if (known !== undefined) return known;
    if (this.#left-- <= 0) return undefined;
    const groups = independentGroups(formula.of);
    const found = groups.length > 1 ? this.#apart(formula.kind, groups) : this.#conditioned(formula);
    if (found !== undefined) this.#known.set(formula.name, found);
    return found;
  }

  #apart(kind: 'all' | 'any', groups: readonly (readonly Formula[])[]): number | undefined {
    let product = 1;
    for (const group of groups) {
      const some = this.of(joined(kind, group));
      if (some === undefined) return undefined;
      product *= kind === 'all' ? some : 1 - some;
    }
    return kind === 'all' ? product : 1 - product;
  }

  #conditioned(formula: Formula): number | undefined {
    const sets = new Map<number, Bits[]>();
    collect(formula, sets);
    const [thing, bits] = [...sets].reduce((best, next) => (next[1].length > best[1].length ? next : best));
    const distinct = [...new Set(bits)];
    // Alternatives that no part tells apart are one.
    const masses = new Map<string, { mass: number; place: number }>();
    this.#things[thing].forEach((mass, at) => {
      const told = distinct.map((set) => Number(has(set, at))).join('');
      const known = masses.get(told);
      if (known) known.mass += mass;
      else masses.set(told, { mass, place: at });
    });
    let total = 0;
    for (const { mass, place } of masses.values()) {
      if (mass <= 0) continue;
      const some = this.of(given(formula, thing, place));
      if (some === undefined) return undefined;
      total += mass * some;
    }
    return total;
  }
}

/** Sets that a formula names, by thing. */
function collect(formula: Formula, sets: Map<number, Bits[]>): void {
  if (typeof formula === 'boolean' || formula.kind === 'open') return;
  if (formula.kind !== 'is') {
    for (const part of formula.of) collect(part, sets);
    return;
  }
  const known = sets.get(formula.thing);
  if (known) known.push(formula.bits);
  else sets.set(formula.thing, [formula.bits]);
}

/** A formula when a thing is one alternative, by its place. */
function given(formula: Formula, thing: number, at: number): Formula {
  if (typeof formula === 'boolean' || formula.kind === 'open') return formula;
  if (formula.kind === 'is') return formula.thing === thing ? has(formula.bits, at) : formula;
  return joined(
    formula.kind,
    formula.of.map((part) => given(part, thing, at)),
  );
}

function massOf(alternatives: Alternatives, bits: Bits): number {
  return alternatives.reduce((sum, p, at) => (has(bits, at) ? sum + p : sum), 0);
}

/** Groups of parts; different groups share no thing. */
function independentGroups(parts: readonly Formula[]): readonly (readonly Formula[])[] {
  const groups: { readonly things: Set<number>; readonly parts: Formula[] }[] = [];
  for (const part of parts) {
    const sets = new Map<number, Bits[]>();
    collect(part, sets);
    const merged = { things: new Set(sets.keys()), parts: [part] };
    for (let i = groups.length - 1; i >= 0; i--) {
      if (![...sets.keys()].some((thing) => groups[i].things.has(thing))) continue;
      for (const thing of groups[i].things) merged.things.add(thing);
      merged.parts.push(...groups[i].parts);
      groups.splice(i, 1);
    }
    groups.push(merged);
  }
  return groups.map((group) => group.parts);
}

function hasOpen(formula: Formula): boolean {
  if (typeof formula === 'boolean' || formula.kind === 'is') return false;
  return formula.kind === 'open' || formula.of.some(hasOpen);
}

function withOpen(formula: Formula, holds: boolean): Formula {
  if (typeof formula === 'boolean' || formula.kind === 'is') return formula;
  if (formula.kind === 'open') return holds;
  return joined(
    formula.kind,
    formula.of.map((part) => withOpen(part, holds)),
  );
}

/** Share of sampled worlds in which a formula holds, with its Wilson interval (Wilson 1927). */
function estimate(things: readonly Alternatives[], formula: Formula, random: () => number): AtLeastOne {
  const sets = new Map<number, Bits[]>();
  collect(formula, sets);
  const named = [...sets.keys()].sort((a, b) => a - b);
  const world = new Map<number, number>();
  let hits = 0;
  for (let sample = 0; sample < SAMPLES; sample++) {
    for (const thing of named) world.set(thing, drawn(things[thing], random()));
    if (holdsIn(formula, world)) hits++;
  }
  return { probability: hits / SAMPLES, exact: false, ...wilson(hits, SAMPLES, 0.99) };
}

function drawn(alternatives: Alternatives, at: number): number {
  let sum = 0;
  for (let index = 0; index < alternatives.length - 1; index++) {
    sum += alternatives[index];
    if (at < sum) return index;
  }
  return alternatives.length - 1;
}

function holdsIn(formula: Formula, world: ReadonlyMap<number, number>): boolean {
  if (typeof formula === 'boolean') return formula;
  switch (formula.kind) {
    case 'is':
      return has(formula.bits, world.get(formula.thing)!);
    case 'all':
      return formula.of.every((part) => holdsIn(part, world));
    case 'any':
      return formula.of.some((part) => holdsIn(part, world));
    case 'open':
      return false;
    default:
      return formula satisfies never;
  }
}
