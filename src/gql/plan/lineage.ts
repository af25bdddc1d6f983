/**
 * Under which circumstances something uncertain holds: the lineage of a match in the sense of Suciu, Olteanu, Ré and
 * Koch, "Probabilistic Databases", 2011, section 2.3: a formula over memberships and edges that may or may not be there.
 */
import type { LabelTest } from './label-test.ts';

/** Plain data, so that it can cross to another thread. */
export type Lineage =
  | boolean
  /** A label expression of a node, by its number. */
  | { readonly kind: 'label'; readonly node: number; readonly label: LabelTest }
  /** An edge, by its number. */
  | { readonly kind: 'edge'; readonly edge: number }
  | { readonly kind: 'all' | 'any'; readonly of: readonly Lineage[] }
  | { readonly kind: 'not'; readonly of: Lineage }
  /** Too long to be written down: it may hold or not. */
  | { readonly kind: 'open' };

export const OPEN: Lineage = { kind: 'open' };

export function allOf(parts: readonly Lineage[]): Lineage {
  return joined('all', parts);
}

export function anyOf(parts: readonly Lineage[]): Lineage {
  return joined('any', parts);
}

export function notOf(part: Lineage): Lineage {
  if (typeof part === 'boolean') return !part;
  if (part.kind === 'open') return part;
  return part.kind === 'not' ? part.of : { kind: 'not', of: part };
}

function joined(kind: 'all' | 'any', parts: readonly Lineage[]): Lineage {
  const decides = kind === 'any';
  const left: Lineage[] = [];
  for (const part of parts) {
    if (part === decides) return decides;
    if (part === !decides) continue;
    if (typeof part === 'object' && part.kind === kind) left.push(...part.of);
    else left.push(part);
  }
  if (left.length < 2) return left[0] ?? !decides;
  return { kind, of: left };
}

/** Where an expression asks for what is uncertain while it is evaluated. */
export interface Asks {
  label(node: number, label: LabelTest, name: string): boolean;
  /** Whether the body of an EXISTS has a row; by the numbers of its possible and its certain reading. */
  exists(possible: number, certain: number): boolean;
}

/** What is asked, and by whom; empty when nothing is being followed. */
export interface Asking {
  asks: Asks | undefined;
  /** Another number whenever the answers may be others. */
  round: number;
}

/** How the body of an EXISTS is asked: decided, or a lineage that is not. */
export type AskBody = (possible: number, certain: number) => Lineage;

/** Cases of one expression that are followed; beyond, its lineage is open. */
const MOST_CASES = 4096;

/**
 * An expression of any kind, evaluated for every answer to what it asks that is uncertain (Shannon's expansion). What one
 * answer leaves unasked makes no further cases.
 */
export class Cases implements Asks {
  readonly #asking: Asking;
  readonly #evaluate: () => boolean;
  readonly #body: AskBody;
  readonly #answers = new Map<string, boolean>();
  #first: { readonly name: string; readonly lineage: Lineage } | undefined;
  #left = MOST_CASES;

  constructor(asking: Asking, evaluate: () => boolean, body: AskBody) {
    this.#asking = asking;
    this.#evaluate = evaluate;
    this.#body = body;
  }

  label(node: number, label: LabelTest, name: string): boolean {
    return this.#ask(`${node} ${name}`, () => ({ kind: 'label', node, label }));
  }

  exists(possible: number, certain: number): boolean {
    return this.#ask(`{${possible}}`, () => this.#body(possible, certain));
  }

  /** Whether the expression is true in some case (`may`), or in every case. */
  holds(may: boolean): boolean {
    const { value, first } = this.#once();
    if (!first) return value;
    if (this.#left-- <= 0) return may;
    for (const answer of [true, false]) {
      this.#answers.set(first.name, answer);
      const holds = this.holds(may);
      this.#answers.delete(first.name);
      if (holds === may) return may;
    }
    return !may;
  }

  lineage(): Lineage {
    const { value, first } = this.#once();
    if (!first) return value;
    if (this.#left-- <= 0) return OPEN;
    const [yes, no] = [true, false].map((answer) => {
      this.#answers.set(first.name, answer);
      const lineage = this.lineage();
      this.#answers.delete(first.name);
      return lineage;
    }) as [Lineage, Lineage];
    if (yes === no) return yes;
    return anyOf([allOf([first.lineage, yes]), allOf([notOf(first.lineage), no])]);
  }

  #ask(name: string, lineageOf: () => Lineage): boolean {
    const known = this.#answers.get(name);
    if (known !== undefined) return known;
    if (this.#first) return this.#first.name === name;
    const lineage = lineageOf();
    if (typeof lineage === 'boolean') return lineage;
    this.#first = { name, lineage };
    return true;
  }

  /** Evaluates with the answers given so far; `first` is what is asked beyond them. */
  #once() {
    const before = this.#asking.asks;
    this.#asking.asks = this;
    this.#asking.round++;
    this.#first = undefined;
    try {
      const value = this.#evaluate();
      return {
        value,
        first: this.#first as { readonly name: string; readonly lineage: Lineage } | undefined,
      };
    } finally {
      this.#asking.asks = before;
      this.#asking.round++;
    }
  }
}
