import type { MatchedEdge, OpenTest, SegmentMatch } from '../gql/gql.ts';
import type { State } from '../state/state.ts';
import { seededRandom } from '../statistics/random.ts';
import { tidy } from '../statistics/tidy.ts';
import { atLeastOne, type Requirements } from './at-least-one.ts';
import type { PatternIndex } from './pattern-index.ts';
import { type Alternatives, NO_DOUBT } from './worlds.ts';

/** A fixed seed, so that estimates are repeatable. */
const SEED = 20_260_101;

/** Requirements of a match on uncertain components, and their probability, 0 to 1. */
export interface Asked {
  readonly requirements: Requirements;
  readonly probability: number;
}

/** Requirements of a certain match. */
const NOTHING: Asked = { requirements: new Map(), probability: 1 };

interface Component {
  readonly alternatives: Alternatives;
  /** Bit set of all alternatives. */
  readonly all: number;
}

/** Allowed alternatives of a component (by node), as a bit set. */
interface Allowed {
  readonly node: number;
  readonly bits: number;
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
  readonly #byTest = new Map<OpenTest, number>();
  readonly #byEdge = new Map<MatchedEdge, Allowed>();
  /** Most matches of a specimen have the same requirements as others. */
  readonly #asked = new Map<string, Asked>();

  constructor(index: PatternIndex, state: State) {
    this.#index = index;
    this.#state = state;
  }

  /** Requirements of a match; equal requirements share an object. */
  of(match: SegmentMatch): Asked {
    const allowed = new Map<number, number>();
    const narrow = (node: number, bits: number) => allowed.set(node, (allowed.get(node) ?? -1) & bits);
    for (const test of match.open) narrow(test.node, this.#underTest(test));
    for (const edge of match.edgesLabelled('IDENTIFIED_AS')) {
      const { node, bits } = this.#underEdge(edge);
      narrow(node, bits);
    }
    if (allowed.size === 0) return NOTHING;
    const requirements = new Map<number, number>();
    let key = '';
    for (const [node, bits] of allowed) {
      if (bits === this.#components.get(node)?.all) continue;
      const number = this.#numberOf(node);
      requirements.set(number, bits);
      key += `${number}:${bits} `;
    }
    if (requirements.size === 0) return NOTHING;
    let asked = this.#asked.get(key);
    if (!asked) {
      asked = { requirements, probability: this.#probabilityOf([requirements]).probability };
      this.#asked.set(key, asked);
    }
    return asked;
  }

  /** Probability that at least one of these is real. */
  atLeastOneOf(asked: ReadonlySet<Asked>): { readonly probability: number; readonly exact: boolean } {
    if (asked.has(NOTHING)) return { probability: 1, exact: true };
    const [only, ...more] = asked;
    if (only && more.length === 0) return { probability: only.probability, exact: true };
    return this.#probabilityOf([...asked].map(({ requirements }) => requirements));
  }

  #probabilityOf(matches: readonly Requirements[]): {
    readonly probability: number;
    readonly exact: boolean;
  } {
    const { probability, exact } = atLeastOne(this.#things, matches, numbersWhenAsked());
    return { probability: tidy(probability), exact };
  }

  /** Alternatives of the test's component under which it holds. */
  #underTest(test: OpenTest): number {
    let bits = this.#byTest.get(test);
    if (bits === undefined) {
      const { alternatives, all } = this.#componentOf(test.node, test.id);
      const { probabilities, terms } = alternatives;
      bits =
        probabilities.length === 0
          ? all
          : bitsOf(terms, (under) => test.holdsIn((label) => under.has(label)));
      this.#byTest.set(test, bits);
    }
    return bits;
  }

  /** Alternatives of a component under which it is the part that an edge IDENTIFIED_AS leads to. */
  #underEdge(edge: MatchedEdge): Allowed {
    let allowed = this.#byEdge.get(edge);
    if (!allowed) {
      const { alternatives, all } = this.#componentOf(edge.source, edge.sourceId);
      const { probabilities, parts } = alternatives;
      const bits = probabilities.length === 0 ? all : bitsOf(parts, (part) => part === edge.targetId);
      allowed = { node: edge.source, bits };
      this.#byEdge.set(edge, allowed);
    }
    return allowed;
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
    return number;
  }
}

function bitsOf<T>(items: readonly T[], holds: (item: T) => boolean): number {
  let bits = 0;
  for (let at = 0; at < items.length; at++) if (holds(items[at])) bits |= 1 << at;
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
