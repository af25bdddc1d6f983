/**
 * What is known while code is being written: its lines and constants, which elements are bound to variables, and
 * which conditions have been written.
 */
import { adjacencyCodes } from '../plan/adjacency-codes.ts';
import type { Condition, Pattern, PatternEdge, PatternNode } from '../plan/pattern.ts';
import type { Step, ValueAsked } from '../plan/step.ts';
import { IN, OUT } from '../storage/catalog.ts';
import type { ValueLists } from './value-lists.ts';

export interface GenerateOptions {
  readonly counting?: boolean;
  /** First step of a tail whose findings are kept for the node it starts at; -1 for none. */
  readonly keepFrom: number;
  /** The body of an EXISTS, by its number, when it can be written in place. */
  readonly body: (
    number: number,
  ) => { readonly pattern: Pattern; readonly steps: readonly Step[] } | undefined;
  /** Counts the bindings after each step, for explain. */
  readonly trace?: Float64Array | undefined;
  /** Per adjacency code: whether an entry with it may lead to another segment, or from another one. */
  readonly leaves: (code: number) => boolean;
  readonly entered: (code: number) => boolean;
  /** Whether a node of the pattern may be in a segment other than that of the search. */
  readonly mayRoam: (node: PatternNode) => boolean;
  /** Whether other nodes are looked for in one segment at a time. */
  readonly isAlone: boolean;
  /** Truth per node kind that counts as a match, and per edge label. */
  readonly nodeTable: (node: PatternNode) => Uint8Array | undefined;
  readonly edgeTable: (edge: PatternEdge) => Uint8Array;
  /** Adjacency codes in the graph. */
  readonly codes: number;
  /** The nodes with a value, by segment. */
  readonly valueLists: (asked: ValueAsked) => ValueLists;
  /** The node table, by label set. */
  readonly setTable: (node: PatternNode) => Uint8Array | undefined;
}

/** Places of the nodes of a label in a segment: variables with the rows of `LabelRanges`, and the place of the row. */
export interface Range {
  readonly table: string;
  readonly spans: string;
  readonly rows: string;
  readonly at: string;
  /** For the nodes with a value, whose rows are those of `ValueLists`: the variable with their list. */
  readonly list?: string;
}

/** Characters of code for a condition that take as long as looking at an entry, as a power of two. */
const EMITTED_PER_STEP = 6;

export abstract class CodeState {
  readonly constants: unknown[] = [];
  readonly #places = new Map<unknown, number>();
  protected pattern: Pattern;
  protected steps: readonly Step[];
  /** Code after all steps; undefined for the end of the search. */
  protected end: (() => void) | undefined;
  protected readonly options: GenerateOptions;
  protected readonly lines: string[] = [];
  protected readonly bySlot = new Map<number, PatternNode | PatternEdge>();
  protected readonly bound = new Set<number>();
  protected readonly stored = new Set<number>();
  protected readonly checked = new Set<Condition>();
  protected readonly labels = { n: 0 };
  protected scans = 0;
  /** Nodes in the current segment of the first scan. */
  protected readonly tied = new Set<number>();
  protected readonly ranges: Range[] = [];
  /** The range that the first scan goes through. */
  protected scanned: Range | undefined;
  /** Lines at the head of the code. */
  protected readonly heads: string[] = [];
  /** Line at which ranges are found, -1 when the code starts with no scan. */
  protected rangeLine = -1;
  /** For nodes reached over an edge that may leave the segment: the variable with the reference as it stood there. */
  protected readonly raw = new Map<string, string>();
  protected readonly outer: string[] = [];
  /** Memories of kept tails. */
  protected readonly memos: string[] = [];
  /** Variables of conditions, declared ahead. */
  protected readonly declared: string[] = [];

  constructor(pattern: Pattern, steps: readonly Step[], options: GenerateOptions) {
    this.pattern = pattern;
    this.steps = steps;
    this.options = options;
    for (const element of [...pattern.nodes, ...pattern.edges, ...pattern.held])
      this.bySlot.set(element.slot, element);
  }

  protected line(text: string): void {
    this.lines.push(text);
  }

  protected constant(value: unknown): string {
    let place = this.#places.get(value);
    if (place === undefined) {
      place = this.constants.push(value) - 1;
      this.#places.set(value, place);
    }
    return `k${place}`;
  }

  protected fresh(letter: string): string {
    return `${letter}_${this.labels.n++}`;
  }

  /** Writes the body of an EXISTS in place; false when it cannot be. */
  protected inPlace(condition: Condition, fail: string): boolean {
    const body = condition.exists && this.options.body(condition.exists.number);
    if (!condition.exists || !body) return false;
    const outer = { pattern: this.pattern, steps: this.steps, end: this.end };
    const sets = {
      bound: new Set(this.bound),
      stored: new Set(this.stored),
      checked: new Set(this.checked),
    };
    const elements = [...body.pattern.nodes, ...body.pattern.edges];
    const hidden = elements.map(({ slot }) => [slot, this.bySlot.get(slot)] as const);
    // Conditions inside may be evaluated from the row.
    this.store(condition.slots);
    const [found, label] = [this.fresh('found'), this.fresh('exists')];
    this.line(`let ${found} = false; ${label}: do {`);
    this.pattern = body.pattern;
    this.steps = body.steps;
    this.end = () => this.line(`${found} = true; break ${label};`);
    const before = elements.filter((element) => element.bound);
    for (const element of before) {
      if (!this.bound.has(element.slot)) {
        this.line(`const ${nameOf(element)} = row[${element.slot}]; if (${nameOf(element)} < 0) continue;`);
        this.bound.add(element.slot);
        this.stored.add(element.slot);
      }
    }
    for (const element of elements) this.bySlot.set(element.slot, element);
    for (const element of before) {
      this.tests(element, 'continue;');
      this.distinct(element.slot, 'continue;', before);
    }
    this.conditions('continue;');
    this.step(0);
    this.line('} while (false);');
    this.line(`if (${found} !== ${condition.exists.wanted}) ${fail}`);
    this.pattern = outer.pattern;
    this.steps = outer.steps;
    this.end = outer.end;
    for (const [slot, element] of hidden) {
      if (element) this.bySlot.set(slot, element);
      else this.bySlot.delete(slot);
    }
    restore(this.bound, sets.bound);
    restore(this.stored, sets.stored);
    restore(this.checked, sets.checked);
    return true;
  }

  /** Writes bound elements into the row, those that are not there yet. */
  protected store(slots: readonly number[]): void {
    for (const slot of slots) {
      if (this.stored.has(slot)) continue;
      const element = this.bySlot.get(slot);
      if (!element || !this.bound.has(slot)) continue;
      this.line(`row[${slot}] = ${nameOf(element)};`);
      this.stored.add(slot);
    }
  }

  /** Whether edges with these codes never join two segments. */
  protected stays(codes: readonly number[]): boolean {
    return !codes.some((code) => this.options.entered(code) || this.options.leaves(code));
  }

  /** Notes a new binding and checks that it is distinct; the code around it is a loop, so failing is `continue`. */
  protected bind(element: PatternNode | PatternEdge): void {
    const before = [...this.bound].map((slot) => this.bySlot.get(slot)!);
    this.bound.add(element.slot);
    this.distinct(element.slot, 'continue;', before);
  }

  protected distinct(
    slot: number,
    fail: string,
    before: readonly (PatternNode | PatternEdge | undefined)[],
  ): void {
    const element = this.bySlot.get(slot)!;
    for (const other of before) {
      if (!other || other.slot === slot || !this.mustDiffer(slot, other.slot)) continue;
      if (element.kind === 'node' && other.kind === 'node' && this.cannotBeOne(element, other)) continue;
      if (element.kind === 'edge' && other.kind === 'edge' && this.differAnyway(element, other)) continue;
      this.line(`if (${nameOf(element)} === ${nameOf(other)}) ${fail}`);
    }
  }

  protected mustDiffer(slot: number, other: number): boolean {
    return this.pattern.distinct.mustDiffer(slot, other);
  }

  readonly #nodeTables = new Map<PatternNode, Uint8Array | undefined>();
  readonly #edgeTables = new Map<PatternEdge, Uint8Array>();
  /** By the tables of two labels: whether something fits both. */
  readonly #shared = new Map<Uint8Array, Map<Uint8Array, boolean>>();

  #own: { readonly pattern: Pattern; readonly edges: ReadonlySet<PatternEdge> } | undefined;

  protected nodeTable(node: PatternNode): Uint8Array | undefined {
    let table = this.#nodeTables.get(node);
    if (!table) {
      table = this.options.nodeTable(node);
      this.#nodeTables.set(node, table);
    }
    return table;
  }

  protected edgeTable(edge: PatternEdge): Uint8Array {
    let table = this.#edgeTables.get(edge);
    if (!table) {
      table = this.options.edgeTable(edge);
      this.#edgeTables.set(edge, table);
    }
    return table;
  }

  #share(x: Uint8Array, y: Uint8Array): boolean {
    if (x === y) return true;
    let known = this.#shared.get(x);
    if (!known) {
      known = new Map();
      this.#shared.set(x, known);
    }
    let shared = known.get(y);
    if (shared === undefined) {
      shared = x.some((fits, i) => fits !== 0 && y[i] !== 0);
      known.set(y, shared);
    }
    return shared;
  }

  /** No kind fits both. */
  protected cannotBeOne(a: PatternNode, b: PatternNode): boolean {
    const [x, y] = [this.nodeTable(a), this.nodeTable(b)];
    return x !== undefined && y !== undefined && !this.#share(x, y);
  }

  /** Two edge patterns whose labels, or whose ends, keep them apart without looking. */
  protected differAnyway(a: PatternEdge, b: PatternEdge): boolean {
    if (this.#own?.pattern !== this.pattern)
      this.#own = { pattern: this.pattern, edges: new Set(this.pattern.edges) };
    // Those of earlier parts have other numbers for their ends.
    if (!this.#own.edges.has(a) || !this.#own.edges.has(b)) return false;
    if (!this.#share(this.edgeTable(a), this.edgeTable(b))) return true;
    const ends = ({ from, to }: PatternEdge) => [from, to].map((n) => this.pattern.nodes[n]!);
    const apart = (node: PatternNode, others: readonly PatternNode[]) =>
      others.every(
        (other) =>
          other.slot !== node.slot &&
          (this.mustDiffer(node.slot, other.slot) || this.cannotBeOne(node, other)),
      );
    return ends(a).some((node) => apart(node, ends(b))) || ends(b).some((node) => apart(node, ends(a)));
  }

  protected tests(element: PatternNode | PatternEdge, fail: string): void {
    if (element.kind === 'edge') return;
    const table = this.nodeTable(element);
    if (table) this.line(`if (${this.constant(table)}[nodeKind[${nameOf(element)}]] === 0) ${fail}`);
  }

  /** Notes the condition that all nodes of a list pass. */
  protected passed({ name, storage, value }: ValueAsked, { slot }: PatternNode): void {
    for (const condition of this.pattern.conditions) {
      const { equals } = condition;
      if (equals?.slot !== slot || equals.key !== name) continue;
      if (equals.storage === storage && equals.value === value) this.checked.add(condition);
    }
  }

  /** Conditions whose slots are all bound by now. */
  protected conditions(fail: string): void {
    for (const condition of this.pattern.conditions) {
      if (this.checked.has(condition) || !condition.slots.every((slot) => this.bound.has(slot))) continue;
      this.checked.add(condition);
      if (this.inPlace(condition, fail)) continue;
      const emitted = condition.emit?.({
        element: (slot) => {
          const element = this.bySlot.get(slot);
          return element && this.bound.has(slot) ? nameOf(element) : this.outerElement(slot);
        },
        constant: (value) => this.constant(value),
        fresh: () => {
          const variable = this.fresh('v');
          this.declared.push(variable);
          return variable;
        },
      });
      if (emitted) {
        // Such code is quick: as long as it is short, it counts with the entry that it is about.
        this.burn((emitted.length + this.#unweighed) >> EMITTED_PER_STEP);
        this.#unweighed = (this.#unweighed + emitted.length) & ((1 << EMITTED_PER_STEP) - 1);
        this.line(`if (!(${emitted})) ${fail}`);
        continue;
      }
      this.store(condition.slots);
      const passes = this.fresh('passes');
      this.burn(1 + (condition.place ? (condition.place.end - condition.place.start) >> 4 : 0));
      this.line(`run.fuel = fuel; const ${passes} = ${this.constant(condition.test)}(run); fuel = run.fuel;`);
      this.line(`if (!${passes}) ${fail}`);
    }
  }

  /** Characters of code for conditions that no step has counted yet. */
  #unweighed = 0;

  /** Counts what follows as so many steps, so that the clock is looked at in time where conditions are many or long. */
  protected burn(steps: number): void {
    if (steps > 0) this.line(`fuel -= ${steps}; if (fuel < 0) fuel = run.refuel();`);
  }

  /** What an earlier clause has bound, read once. */
  protected outerElement(slot: number): string {
    const variable = `o${slot}`;
    const line = `const ${variable} = row[${slot}];`;
    if (!this.outer.includes(line)) this.outer.push(line);
    return variable;
  }

  protected codes(edge: PatternEdge, reversed: boolean): number[] {
    const table = this.edgeTable(edge);
    return adjacencyCodes(edge.directions, table, reversed);
  }

  protected codeTable(codes: readonly number[]): Uint8Array {
    const table = new Uint8Array(this.options.codes);
    for (const code of codes) table[code] = 1;
    return table;
  }

  /** A directed loop is twice in its node's list; in either direction it is the same edge. */
  protected loopCodes(codes: readonly number[]): string | undefined {
    const twice = codes.filter((code) => code % 3 === IN && codes.includes(code - IN + OUT));
    return twice.length > 0 ? this.constant(this.codeTable(twice)) : undefined;
  }

  /** Writes the step at a place of `steps`, and all behind it. */
  protected abstract step(at: number): void;
}

/** The variable that holds an element. */
export function nameOf(element: PatternNode | PatternEdge): string {
  return `${element.kind === 'node' ? 'n' : 'e'}${element.slot}`;
}

/** Takes out of a set what is not in another. */
export function restore<T>(set: Set<T>, to: ReadonlySet<T>): void {
  for (const item of set) if (!to.has(item)) set.delete(item);
}
