import type { MatchedEdge, OpenTest, Requirement, SegmentMatch } from '../gql/gql.ts';
import type { IsOneOf } from '../nets/conditions.ts';
import type { State } from '../state/state.ts';
import { type Bits, bitsOf, both } from '../statistics/bits.ts';
import { seededRandom } from '../statistics/random.ts';
import { tidy } from '../statistics/tidy.ts';
import { type AtLeastOne, atLeastOne, type Requirements } from './at-least-one.ts';
import { allOf, anyOf, type Formula, isOneOf, notOf, OPEN, probabilityOf } from './formula.ts';
import type { PatternIndex } from './pattern-index.ts';
import { whenOf } from './segments.ts';
import { type Alternatives, NO_DOUBT } from './worlds.ts';

/** A fixed seed, so that estimates are repeatable. */
const SEED = 20_260_101;

/** What a match asks of uncertain components, and its probability, 0 to 1. */
export interface Asked extends Likelihood {
  /** What its labels and edges ask. */
  readonly requirements: Requirements;
  /** What its conditions ask besides. */
  readonly conditions: Formula;
}

/** A probability, exact or between `low` and `high`. */
export type Likelihood = AtLeastOne;

const CERTAINLY: Likelihood = { probability: 1, exact: true, low: 1, high: 1 };

/** What a certain match asks. */
const NOTHING: Asked = { requirements: new Map(), conditions: true, ...CERTAINLY };

interface Component {
  readonly alternatives: Alternatives;
  /** Set of all alternatives. */
  readonly all: Bits;
}

/** Allowed alternatives of a component (by node). */
interface Allowed {
  readonly node: number;
  readonly bits: Bits;
}

/**
 * The uncertain components in the matches of one specimen, numbered in order of appearance. Each test of a match
 * concerns one component, so the alternatives that a match allows are found component by component.
 */
export class Doubts {
  readonly #index: PatternIndex;
  readonly #state: State;
  /** By node of the graph. */
  readonly #components = new Map<number, Component>();
  readonly #numbers = new Map<number, number>();
  /** Probabilities of the alternatives of each numbered component. */
  readonly #things: number[][] = [];
  /** Bit sets of all of them. */
  readonly #all: Bits[] = [];
  readonly #byTest = new Map<OpenTest, Bits>();
  /** At least one of these, each of which asks several things. */
  readonly #byEdge = new Map<MatchedEdge, readonly (readonly Allowed[])[]>();
  /** Most matches of a specimen have the same requirements as others. */
  readonly #asked = new Map<string, Asked>();

  constructor(index: PatternIndex, state: State) {
    this.#index = index;
    this.#state = state;
  }

  /** What a match asks; equal ones share an object. */
  of(match: SegmentMatch): Asked {
    const allowed = new Map<number, Bits>();
    const narrow = ({ node, bits }: Allowed) => {
      const before = allowed.get(node);
      allowed.set(node, before === undefined ? bits : both(before, bits));
    };
    for (const test of match.open) narrow({ node: test.node, bits: this.#underTest(test) });
    const parts: Formula[] = [];
    for (const edge of match.maybeEdges) {
      const ways = this.#underEdge(edge);
      if (ways.length === 1) ways[0].forEach(narrow);
      else parts.push(this.#isThere(ways));
    }
    const own = this.#formulaOf(match.conditions);
    const conditions = parts.length > 0 ? allOf([...parts, own]) : own;
    if (allowed.size === 0 && conditions === true) return NOTHING;
    const requirements = new Map<number, Bits>();
    let key = typeof conditions === 'boolean' ? `${conditions} ` : conditions.name;
    for (const [node, bits] of allowed) {
      if (bits === this.#components.get(node)?.all) continue;
      const number = this.#numberOf(node);
      requirements.set(number, bits);
      key += ` ${number}:${bits}`;
    }
    if (requirements.size === 0 && conditions === true) return NOTHING;
    let asked = this.#asked.get(key);
    if (!asked) {
      const bare = { requirements, conditions };
      asked = { ...bare, ...this.#likelihoodOf([bare]) };
      this.#asked.set(key, asked);
    }
    return asked;
  }

  /** Probability that at least one of these is real. */
  atLeastOneOf(asked: ReadonlySet<Asked>): Likelihood {
    if (asked.has(NOTHING)) return CERTAINLY;
    const [only, ...more] = asked;
    if (only && more.length === 0) return only;
    return this.#likelihoodOf([...asked]);
  }

  /** Whether no world has both. */
  areExclusive(one: Asked, other: Asked): boolean {
    for (const [thing, bits] of one.requirements) {
      const theirs = other.requirements.get(thing);
      if (theirs !== undefined && !both(theirs, bits)) return true;
    }
    if (one.conditions === true && other.conditions === true) return false;
    const together = allOf([this.#wholeOf(one), this.#wholeOf(other)]);
    return probabilityOf(this.#things, together, numbersWhenAsked()).high === 0;
  }

  #likelihoodOf(matches: readonly Pick<Asked, 'requirements' | 'conditions'>[]): Likelihood {
    const random = numbersWhenAsked();
    const { probability, exact, low, high } = matches.every(({ conditions }) => conditions === true)
      ? atLeastOne(
          this.#things,
          matches.map(({ requirements }) => requirements),
          random,
        )
      : probabilityOf(this.#things, anyOf(matches.map((match) => this.#wholeOf(match))), random);
    return { probability: tidy(probability), exact, low: tidy(low), high: tidy(high) };
  }

  #wholeOf({ requirements, conditions }: Pick<Asked, 'requirements' | 'conditions'>): Formula {
    const parts = [...requirements].map(([thing, bits]) => isOneOf(thing, bits, this.#all[thing]));
    return allOf([...parts, conditions]);
  }

  #formulaOf(requirement: Requirement): Formula {
    if (typeof requirement === 'boolean') return requirement;
    switch (requirement.kind) {
      case 'test': {
        const { test } = requirement;
        return this.#isUnder({ node: test.node, bits: this.#underTest(test) });
      }
      case 'edge':
        return this.#isThere(this.#underEdge(requirement.edge));
      case 'not':
        return notOf(this.#formulaOf(requirement.of), this.#all);
      case 'all':
        return allOf(requirement.of.map((part) => this.#formulaOf(part)));
      case 'any':
        return anyOf(requirement.of.map((part) => this.#formulaOf(part)));
      case 'open':
        return OPEN;
      default:
        return requirement satisfies never;
    }
  }

  #isThere(ways: readonly (readonly Allowed[])[]): Formula {
    return anyOf(ways.map((all) => allOf(all.map((one) => this.#isUnder(one)))));
  }

  #isUnder({ node, bits }: Allowed): Formula {
    const all = this.#components.get(node)?.all ?? 0;
    if (bits === all) return true;
    if (!bits) return false;
    const number = this.#numberOf(node);
    return isOneOf(number, bits, this.#all[number]);
  }

  /** Alternatives of the test's component under which it holds. */
  #underTest(test: OpenTest): Bits {
    let bits = this.#byTest.get(test);
    if (bits === undefined) {
      const { alternatives, all } = this.#componentOf(test.node, test.id);
      bits = alternatives.probabilities.length === 0 ? all : bitsUnder(test, alternatives);
      this.#byTest.set(test, bits);
    }
    return bits;
  }

  /** Alternatives of components under which an edge is there. */
  #underEdge(edge: MatchedEdge): readonly (readonly Allowed[])[] {
    let allowed = this.#byEdge.get(edge);
    if (!allowed) {
      allowed =
        edge.label === 'IDENTIFIED_AS'
          ? [[this.#underPart(edge)]]
          : whenOf(edge).map((all) => all.map((one) => this.#underOne(one)));
      this.#byEdge.set(edge, allowed);
    }
    return allowed;
  }

  /** Those under which a component is the part that an edge leads to. */
  #underPart({ source, sourceId, targetId }: MatchedEdge): Allowed {
    const { alternatives, all } = this.#componentOf(source, sourceId);
    const { probabilities, parts } = alternatives;
    const bits = probabilities.length === 0 ? all : bitsOf(parts, (part) => part === targetId);
    return { node: source, bits };
  }

  /** A component of an edge's condition; it may have alternatives that the condition has merged. */
  #underOne({ id, bits }: IsOneOf): Allowed {
    const node = this.#index.graph.findNode(id);
    this.#componentOf(node, id);
    return { node, bits };
  }

  #componentOf(node: number, id: string): Component {
    let component = this.#components.get(node);
    if (!component) {
      const alternatives = this.#index.alternativesOf(this.#state, id) ?? NO_DOUBT;
      component = { alternatives, all: bitsOf(alternatives.terms, () => true) };
      this.#components.set(node, component);
    }
    return component;
  }

  #numberOf(node: number): number {
    const known = this.#numbers.get(node);
    if (known !== undefined) return known;
    const number = this.#things.length;
    this.#numbers.set(node, number);
    const { probabilities } = this.#components.get(node)?.alternatives ?? NO_DOUBT;
    // The last alternative is "none of the candidates".
    this.#things.push([...probabilities, Math.max(0, 1 - probabilities.reduce((sum, p) => sum + p, 0))]);
    this.#all.push(this.#components.get(node)?.all ?? 0);
    return number;
  }
}

/** Bits of the alternatives under which a test holds: most components have the same alternatives as others. */
const knownBits = new WeakMap<object, WeakMap<Alternatives, Bits>>();

function bitsUnder(test: OpenTest, alternatives: Alternatives): Bits {
  let known = knownBits.get(test.alike);
  if (!known) {
    known = new WeakMap();
    knownBits.set(test.alike, known);
  }
  let bits = known.get(alternatives);
  if (bits === undefined) {
    bits = bitsOf(alternatives.terms, (under) => test.holdsIn((label) => under.has(label)));
    known.set(alternatives, bits);
  }
  return bits;
}

/** Random numbers from the fixed seed; the generator is made on first use, which is rare. */
function numbersWhenAsked(): () => number {
  let uniform: (() => number) | undefined;
  return () => {
    uniform ??= seededRandom(SEED).uniform;
    return uniform();
  };
}
