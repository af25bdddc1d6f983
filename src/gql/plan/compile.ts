/**
 * From a checked syntax tree to a query that can be planned and run on one graph. What is compiled holds tables over
 * the graph's kinds, so it is good until the graph gets a kind it had not had (`Compiled.kinds`).
 */
import type { Aggregate, Clause, Exists, Expression, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
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
import { type Asking, Cases, type Lineage, notOf, OPEN } from './lineage.ts';
import type { PlannableClause } from './match.ts';
import type { Condition, EmitScope, RowState } from './pattern.ts';
import { withPushedFilters } from './pushed-filters.ts';
import { type Earlier, Scope, Slots } from './scope.ts';
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
  /** Where label tests ask while the cases of an expression are followed. */
  readonly asking: Asking;
  /** Whether the result of a function depends on labels. */
  readsLabels(name: string): boolean;
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
  /** Whether the graph has anything uncertain. */
  readonly #isUncertain: boolean;

  constructor(store: Store, settings: CompileSettings, expressions: Expressions) {
    this.#store = store;
    this.#settings = settings;
    this.#expressions = expressions;
    this.#leastTruth = settings.labels === 'certain' ? TRUE : UNKNOWN;
    this.#context = this.#contextFor(this.#leastTruth);
    const { labelSets, edgeLabels } = store.catalog;
    this.#isUncertain =
      labelSets.some((set) => set.uncertain.length > 0) ||
      edgeLabels.some((_, label) => store.catalog.isMaybe(label));
  }

  #contextFor(leastTruth: number): TranslateContext {
    const { catalog } = this.#store;
    return {
      distinctNodes: this.#settings.distinctNodes,
      leastTruth,
      nodeTable: (label) => this.#nodeTable({ label, leastTruth }),
      codes: (label, directions, reversed) =>
        adjacencyCodes(directions, edgeLabelTruths(label, catalog, leastTruth), reversed),
      condition: (expression, scope, slots) => this.#condition(expression, scope, slots, leastTruth),
      value: (expression, scope) => ({
        evaluate: this.#evaluate(expression, scope),
        readsLabels: this.#isUncertain && this.#readsLabels(expression, scope),
      }),
      readings: (clauses, scope, earlier) => {
        if (!this.#isUncertain) return undefined;
        const [certain, possible] = [TRUE, UNKNOWN].map((reading) =>
          this.#body(clauses, scope, reading, earlier),
        );
        return { certain: certain!, possible: possible!, isPossible: leastTruth === UNKNOWN };
      },
    };
  }

  compile(clauses: readonly Clause[]): Compiled {
    const slots = new Slots();
    const scope = new Scope(slots);
    const translated = translateClauses(withPushedFilters(clauses), scope, this.#context);
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
    if (!this.#isUncertain) {
      const number = this.#body(node.clauses, scope, this.#leastTruth);
      return ({ inner }) => inner[number]!();
    }
    const certain = this.#body(node.clauses, scope, TRUE);
    const possible = this.#body(node.clauses, scope, UNKNOWN);
    const number = this.#leastTruth === TRUE ? certain : possible;
    const { asking } = this.#expressions;
    return ({ inner }) => (asking.asks ? asking.asks.exists(possible, certain) : inner[number]!());
  }

  /** Lowers the body of an EXISTS; answers its number. */
  #body(clauses: readonly Clause[], scope: Scope, leastTruth: number, earlier?: Earlier): number {
    const context = this.#contextFor(leastTruth);
    const translated = translateClauses(clauses, scope.inner(), context, earlier);
    const number = this.#inner.length;
    this.#inner.push(translated);
    return number;
  }

  #condition(expression: Expression, scope: Scope, slots: readonly number[], leastTruth: number): Condition {
    if (expression.kind === 'exists') return this.#existence(expression, true, scope, slots, leastTruth);
    if (expression.kind === 'not' && expression.operand.kind === 'exists')
      return this.#existence(expression.operand, false, scope, slots, leastTruth);
    const evaluate = this.#evaluate(expression, scope);
    const emitting = {
      catalog: this.#store.catalog,
      scope,
      parameters: this.#settings.parameters,
      stringNumber: this.#settings.stringNumber,
      leastTruth,
    };
    const condition = {
      slots,
      selectivity: selectivityOf(expression),
      place: expression.span,
      equals: equalsOf(expression, scope, slots, this.#settings),
      emit: (out: EmitScope) => emitCondition(expression, emitting, out),
    };
    if (!this.#isUncertain || !this.#readsLabels(expression, scope))
      return { ...condition, test: (state) => evaluate(state) === true };
    const { asking } = this.#expressions;
    return {
      ...condition,
      test: (state) => {
        const body = (possible: number, certain: number): Lineage =>
          state.inner[certain]!() || (state.inner[possible]!() && OPEN);
        return new Cases(asking, () => evaluate(state) === true, body).holds(leastTruth === UNKNOWN);
      },
      ...(leastTruth === UNKNOWN && {
        lineage: (state: RowState) =>
          new Cases(asking, () => evaluate(state) === true, state.bodyLineage).lineage(),
      }),
    };
  }

  /** EXISTS as a condition by itself, or that it is not. */
  #existence(
    node: Exists,
    wanted: boolean,
    scope: Scope,
    slots: readonly number[],
    leastTruth: number,
  ): Condition {
    // That there is none is possible as long as there is none for certain, and the other way round.
    const opposite = leastTruth === TRUE ? UNKNOWN : TRUE;
    const number = this.#body(node.clauses, scope, wanted ? leastTruth : opposite);
    const condition = {
      slots,
      selectivity: SELECTIVITY.exists,
      place: node.span,
      exists: { number, wanted },
      test: ({ inner }: RowState) => inner[number]!() === wanted,
    };
    if (!this.#isUncertain || leastTruth === TRUE) return condition;
    const other = this.#body(node.clauses, scope, wanted ? TRUE : UNKNOWN);
    const [possible, certain] = wanted ? [number, other] : [other, number];
    return {
      ...condition,
      lineage: ({ bodyLineage }) => {
        const lineage = bodyLineage(possible, certain);
        return wanted ? lineage : notOf(lineage);
      },
    };
  }

  /** Whether the value of an expression depends on labels of nodes, or on edges that may not be there. */
  #readsLabels(expression: Expression, scope: Scope): boolean {
    const isRead = (name: string): boolean => {
      const binding = scope.find(name);
      return binding?.kind === 'value' && binding.again !== undefined;
    };
    const reads = (node: Syntax): boolean =>
      node.kind === 'is-labeled' ||
      node.kind === 'exists' ||
      (node.kind === 'variable' && isRead(node.name)) ||
      (node.kind === 'call' && this.#expressions.readsLabels(node.name)) ||
      children(node).some(reads);
    return reads(expression);
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

/** `n.key = 'text'` as something that can be looked up. */
function equalsOf(
  expression: Expression,
  scope: Scope,
  slots: readonly number[],
  { parameters, stringNumber }: Pick<CompileSettings, 'parameters' | 'stringNumber'>,
): Condition['equals'] {
  if (expression.kind !== 'comparison' || expression.operator !== '=' || slots.length !== 1) return undefined;
  for (const [property, other] of [
    [expression.left, expression.right],
    [expression.right, expression.left],
  ] as const) {
    if (property.kind !== 'property' || property.object.kind !== 'variable') continue;
    const value =
      other.kind === 'string' || other.kind === 'boolean' || other.kind === 'number'
        ? other.value
        : other.kind === 'parameter'
          ? parameters[other.name]
          : undefined;
    const binding = scope.find(property.object.name);
    if (binding?.kind !== 'node' || binding.slot !== slots[0]) continue;
    const { slot } = binding;
    const key = property.key.text;
    if (typeof value === 'string') return { slot, key, storage: 'string', value: stringNumber(value) };
    if (typeof value === 'boolean') return { slot, key, storage: 'boolean', value: Number(value) };
    if (typeof value === 'number') return { slot, key, storage: 'number', value };
  }
  return undefined;
}
