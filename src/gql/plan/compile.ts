/**
 * From a checked syntax tree to a query that can be planned and run on one graph. What is compiled holds tables over
 * the graph's kinds, so it is good until the graph gets a kind it had not had (`Compiled.kinds`).
 */
import type { Aggregate, Clause, Exists, Expression } from '../language/ast.ts';
import type { Store } from '../storage/store.ts';
import { adjacencyCodes } from './adjacency-codes.ts';
import { emitCondition } from './condition-code.ts';
import {
  edgeLabelTruths,
  type LabelTest,
  labelSetTruths,
  nodeKindTruths,
  TRUE,
  UNKNOWN,
} from './label-test.ts';
import type { PlannableClause } from './match.ts';
import type { Condition, RowState } from './pattern.ts';
import { Scope, Slots } from './scope.ts';
import { translateClauses } from './translate.ts';
import type { TranslateContext } from './translate-context.ts';

/** An expression that is ready to be evaluated for what is bound now. */
export type Evaluate = (state: RowState) => unknown;

/** How labels with a weight below 1 are read. */
export type LabelReading = 'possible' | 'certain';

export interface CompileSettings {
  readonly distinctNodes: boolean;
  readonly labels: LabelReading;
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly stringNumber: (text: string) => number;
}

/** Collects the values of one aggregate over the rows of one group. */
export interface Accumulator {
  add(value: unknown): void;
  result(): unknown;
  /** What it keeps, roughly. */
  readonly bytes: number;
}

/** Values and how trees are evaluated, which this file leaves to others. */
export interface Expressions {
  compile(
    expression: Expression,
    scope: Scope,
    exists: (node: Exists) => (state: RowState) => boolean,
  ): Evaluate;
  accumulator(node: Aggregate, scope: Scope): () => Accumulator;
  /** A text that is equal for equal values, and for those only. */
  keyOf(value: unknown): string;
  /** Negative, zero or positive; neither is null. */
  compare(a: unknown, b: unknown): number;
  /** A value as it is handed to the caller. */
  output(value: unknown): unknown;
}

/** A label expression, and the lowest truth of it that counts as a match. */
export interface LabelAsked {
  readonly label: LabelTest | undefined;
  readonly leastTruth: number;
}

export interface Compiled {
  readonly clauses: readonly PlannableClause[];
  /** Bodies of EXISTS, by the number that their conditions call them by. */
  readonly inner: readonly (readonly PlannableClause[])[];
  readonly scope: Scope;
  readonly slots: Slots;
  readonly settings: CompileSettings;
  readonly nodeTable: (node: LabelAsked) => Uint8Array | undefined;
  readonly setTable: (node: LabelAsked) => Uint8Array | undefined;
  /** EXISTS inside further expressions (RETURN, ORDER BY) adds to `inner`. */
  readonly compile: (expression: Expression, scope: Scope) => Evaluate;
}

export function compileClauses(
  clauses: readonly Clause[],
  store: Store,
  settings: CompileSettings,
  expressions: Expressions,
): Compiled {
  return new Compiler(store, settings, expressions).compile(clauses);
}

/** Fractions of bindings that are thought to pass, as in Selinger and others, "Access path selection" (SIGMOD 1979). */
const SELECTIVITY = { equal: 0.1, range: 0.33, other: 0.5, exists: 0.5 };

class Compiler {
  readonly #store: Store;
  readonly #settings: CompileSettings;
  readonly #expressions: Expressions;
  readonly #inner: (readonly PlannableClause[])[] = [];
  readonly #leastTruth: number;
  readonly #context: TranslateContext;

  constructor(store: Store, settings: CompileSettings, expressions: Expressions) {
    this.#store = store;
    this.#settings = settings;
    this.#expressions = expressions;
    this.#leastTruth = settings.labels === 'certain' ? TRUE : UNKNOWN;
    this.#context = this.#contextFor(this.#leastTruth);
  }

  #contextFor(leastTruth: number): TranslateContext {
    const { catalog } = this.#store;
    return {
      distinctNodes: this.#settings.distinctNodes,
      leastTruth,
      nodeTable: (label) => this.#nodeTable({ label, leastTruth }),
      codes: (label, directions, reversed) =>
        adjacencyCodes(directions, edgeLabelTruths(label, catalog), reversed),
      condition: (expression, scope, slots) => this.#condition(expression, scope, slots, leastTruth),
    };
  }

  compile(clauses: readonly Clause[]): Compiled {
    const slots = new Slots();
    const scope = new Scope(slots);
    const translated = translateClauses(clauses, scope, this.#context);
    return {
      clauses: translated,
      inner: this.#inner,
      scope,
      slots,
      settings: this.#settings,
      nodeTable: (node) => this.#nodeTable(node),
      setTable: (node) => this.#setTable(node),
      compile: (expression, inScope) => this.#evaluate(expression, inScope),
    };
  }

  #nodeTable({ label, leastTruth }: LabelAsked): Uint8Array | undefined {
    if (!label) return undefined;
    const truths = nodeKindTruths(label, this.#store.catalog);
    return leastTruth === UNKNOWN ? truths : truths.map((truth) => (truth === TRUE ? 1 : 0));
  }

  #setTable({ label, leastTruth }: LabelAsked): Uint8Array | undefined {
    if (!label) return undefined;
    return labelSetTruths(label, this.#store.catalog).map((truth) => (truth >= leastTruth ? truth : 0));
  }

  #evaluate(expression: Expression, scope: Scope): Evaluate {
    return this.#expressions.compile(expression, scope, (node) => this.#exists(node, scope));
  }

  #exists(node: Exists, scope: Scope): (state: RowState) => boolean {
    const number = this.#body(node, scope, this.#leastTruth);
    return ({ inner }) => inner[number]!();
  }

  /** Lowers the body of an EXISTS; answers its number. */
  #body(node: Exists, scope: Scope, leastTruth: number): number {
    const translated = translateClauses(node.clauses, scope.inner(), this.#contextFor(leastTruth));
    const number = this.#inner.length;
    this.#inner.push(translated);
    return number;
  }

  #condition(expression: Expression, scope: Scope, slots: readonly number[], leastTruth: number): Condition {
    const place = expression.span;
    if (expression.kind === 'exists' || (expression.kind === 'not' && expression.operand.kind === 'exists')) {
      const wanted = expression.kind === 'exists';
      const node = (wanted ? expression : expression.operand) as Exists;
      // That there is none is possible as long as there is none for certain, and the other way round.
      const opposite = leastTruth === TRUE ? UNKNOWN : TRUE;
      const number = this.#body(node, scope, wanted ? leastTruth : opposite);
      const uncertain = this.#store.catalog.labelSets.some((set) => set.uncertain.length > 0);
      const strict =
        uncertain && leastTruth === UNKNOWN
          ? this.#body(node, scope, wanted ? opposite : leastTruth)
          : undefined;
      return {
        slots,
        selectivity: SELECTIVITY.exists,
        place,
        exists: { number, wanted, strict },
        test: ({ inner }) => inner[number]!() === wanted,
      };
    }
    const evaluate = this.#evaluate(expression, scope);
    const emitting = {
      catalog: this.#store.catalog,
      scope,
      parameters: this.#settings.parameters,
      stringNumber: this.#settings.stringNumber,
      leastTruth,
    };
    return {
      slots,
      selectivity: selectivityOf(expression),
      place,
      equals: equalsOf(expression, scope, slots, this.#settings.parameters),
      test: (state) => evaluate(state) === true,
      emit: (out) => emitCondition(expression, emitting, out),
    };
  }
}

function selectivityOf(expression: Expression): number {
  switch (expression.kind) {
    case 'comparison':
      if (expression.operator === '=') return SELECTIVITY.equal;
      return expression.operator === '<>' ? 1 - SELECTIVITY.equal : SELECTIVITY.range;
    case 'in':
      return expression.list.kind === 'list'
        ? Math.min(1, SELECTIVITY.equal * expression.list.items.length)
        : SELECTIVITY.other;
    case 'logical': {
      const parts = expression.operands.map(selectivityOf);
      if (expression.operator === 'AND') return parts.reduce((a, b) => a * b, 1);
      return Math.min(
        1,
        parts.reduce((a, b) => a + b, 0),
      );
    }
    case 'not':
      return 1 - Math.min(0.9, selectivityOf(expression.operand));
    default:
      return SELECTIVITY.other;
  }
}

/** `n.key = 'text'` as something the inverted index can look up. */
function equalsOf(
  expression: Expression,
  scope: Scope,
  slots: readonly number[],
  parameters: Readonly<Record<string, unknown>>,
): Condition['equals'] {
  if (expression.kind !== 'comparison' || expression.operator !== '=' || slots.length !== 1) return undefined;
  for (const [property, other] of [
    [expression.left, expression.right],
    [expression.right, expression.left],
  ] as const) {
    if (property.kind !== 'property' || property.object.kind !== 'variable') continue;
    const value =
      other.kind === 'string' || other.kind === 'boolean'
        ? other.value
        : other.kind === 'parameter'
          ? parameters[other.name]
          : undefined;
    if (typeof value !== 'string' && typeof value !== 'boolean') continue;
    const binding = scope.find(property.object.name);
    if (binding?.kind === 'node' && binding.slot === slots[0])
      return { slot: binding.slot, key: property.key.text, value };
  }
  return undefined;
}
