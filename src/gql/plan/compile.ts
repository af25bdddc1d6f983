/**
 * From a checked syntax tree to a query that can be planned and run on one graph. What is compiled holds tables over
 * the graph's kinds, so it is good until the graph gets a kind it had not had (`Compiled.kinds`).
 */
import type {
  Clause,
  Exists,
  Expression,
  MatchingClause,
  PageClause,
  Query,
  Syntax,
  TableClause,
  ValueQuery,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import type { Store } from '../storage/store.ts';
import { adjacencyCodes } from './adjacency-codes.ts';
import type { Answering, Compiled, CompileSettings, Expressions, LabelAsked } from './compiled.ts';
import { emitCondition } from './condition-code.ts';
import { columnName, columnNames, hasRowsOfClauses, itemsOf, namesIn } from './free-names.ts';
import { edgeLabelTruths, labelSetTruths, nodeKindTruths, TRUE, UNKNOWN } from './label-test.ts';
import { Cases, type Lineage, notOf, OPEN } from './lineage.ts';
import type { PlannableClause, PlannableTable, Target } from './match.ts';
import type { Condition, EmitScope, RowState } from './pattern.ts';
import type { Evaluate, SortColumn } from './projection.ts';
import { withPushedFilters } from './pushed-filters.ts';
import { countOf, directionOf, type ResultSetting, resultPlan } from './result-plan.ts';
import { type Earlier, Scope, Slots } from './scope.ts';
import { type Bound, kindsOf, translateClauses, translateLet, translateRows } from './translate.ts';
import type { TranslateContext } from './translate-context.ts';

export function compileQuery(
  query: Query,
  store: Store,
  settings: CompileSettings,
  expressions: Expressions,
): Compiled {
  return new Compiler(store, settings, expressions).compile(query);
}

interface Translated {
  readonly clauses: readonly PlannableClause[];
  readonly scope: Scope;
}

/** Fractions of bindings that are thought to pass, as in Selinger and others, "Access path selection" (SIGMOD 1979). */
const SELECTIVITY = { equal: 0.1, range: 0.33, other: 0.5, exists: 0.5 };

class Compiler {
  readonly #store: Store;
  readonly #settings: CompileSettings;
  readonly #expressions: Expressions;
  readonly #inner: (readonly PlannableClause[])[] = [];
  readonly #innerReads: (readonly number[] | undefined)[] = [];
  readonly #answers = new Map<number, Answering>();
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

  compile(query: Query): Compiled {
    const slots = new Slots();
    const { scope, clauses } = this.#clauses(query.clauses, new Scope(slots));
    const setting = this.#resultSetting(scope);
    return {
      ...setting,
      clauses,
      result: resultPlan(query, setting, this.#expressions),
      inner: this.#inner,
      innerReads: this.#innerReads,
      answers: this.#answers,
      nodeTable: (node) => this.#nodeTable(node),
      setTable: (node) => this.#setTable(node),
    };
  }

  #resultSetting(scope: Scope): ResultSetting {
    return {
      scope,
      slots: scope.slots,
      settings: this.#settings,
      compile: (expression, inScope) => this.#evaluate(expression, inScope),
    };
  }

  // ─── Clauses of a query ───────────────────────────────────────────────────────────────────────────────────────

  /** @param outer for the variables of the first clauses; behind a table there is another scope */
  #clauses(clauses: readonly Clause[], outer: Scope): Translated {
    const earlier: Bound = { nodes: new Set(), repeats: [] };
    let scope = outer;
    let translated: PlannableClause[] = [];
    for (const clause of withPushedFilters(clauses)) {
      if (clause.kind === 'table') {
        const table = this.#table(clause, outer);
        scope = table.scope;
        translated = [...table.clauses];
        // Nodes that are handed on stay different from what patterns find, where nodes are to differ.
        for (const [, { kind, slot }] of scope.own()) if (kind === 'node') earlier.nodes.add(slot);
      } else if (clause.kind === 'page')
        translated = [{ kind: 'page', clauses: translated, ...this.#page(clause, scope) }];
      else translated.push(...translateRows([clause], scope, this.#context, earlier));
    }
    return { clauses: translated, scope };
  }

  #page({ orderBy, offset, limit }: PageClause, scope: Scope) {
    return {
      orderBy: orderBy.map(
        ({ value, descending, nulls }): SortColumn => ({
          value: this.#evaluate(value, scope),
          ...directionOf(descending, nulls),
        }),
      ),
      offset: countOf(offset, { settings: this.#settings }) ?? 0,
      limit: countOf(limit, { settings: this.#settings }) ?? Number.POSITIVE_INFINITY,
      compare: this.#expressions.compare,
    };
  }

  #table(clause: TableClause, outer: Scope): Translated {
    const [first] = clause.parts;
    if (clause.parts.length === 1) {
      const plain = this.#plainTable(first!.query, outer);
      if (plain) return plain;
    }
    const { table, scope } = this.#realTable(clause, outer);
    return { clauses: [table], scope };
  }

  /** A query with a row for every row of its clauses: these as they are, with other names for what they bind. */
  #plainTable(query: Query, outer: Scope): Translated | undefined {
    if (!hasRowsOfClauses(query)) return undefined;
    const items = itemsOf(query);
    const inner = this.#clauses(query.clauses, outer.beside());
    const scope = outer.beside();
    const clauses = [...inner.clauses];
    const taken = new Set<number>();
    for (const item of items) {
      const known = item.value.kind === 'variable' ? inner.scope.find(item.value.name) : undefined;
      if (known && known.kind !== 'group' && known.kind !== 'path' && !taken.has(known.slot)) {
        scope.set(columnName(item), known);
        taken.add(known.slot);
      } else clauses.push(translateLet(columnName(item), item.value, inner.scope, scope, this.#context));
    }
    return { clauses, scope };
  }

  #realTable({ input, parts }: TableClause, outer: Scope): { table: PlannableTable; scope: Scope } {
    const start = input && this.#realTable(input, outer);
    const names = columnNames(parts[0]!.query);
    const translated = parts.map(({ conjunction, query }) => {
      const from = outer.beside();
      if (start) for (const [name, binding] of start.scope.own()) from.set(name, binding);
      const { clauses, scope } = this.#clauses(query.clauses, from);
      const items = itemsOf(query);
      const own = items.map(columnName);
      const order = names.map((name) => own.indexOf(name));
      const result = resultPlan(query, this.#resultSetting(scope), this.#expressions);
      const kinds = order.map((at) => kindsOf(items[at]!.value, scope));
      return { part: { conjunction, clauses, result, order }, kinds };
    });
    const scope = outer.beside();
    const columns = names.map((name, at): Target => {
      const kinds = translated.map((one) => one.kinds[at]!);
      const common = <K>(of: (one: (typeof kinds)[number]) => K): K | undefined =>
        kinds.every((one) => of(one) === of(kinds[0]!)) ? of(kinds[0]!) : undefined;
      const kind = common((one) => one.kind);
      const slot = scope.slots.take();
      scope.set(name, kind ? { kind, slot } : { kind: 'value', slot, items: common((one) => one.items) });
      return { slot, isElement: kind !== undefined };
    });
    return {
      table: { kind: 'table', input: start?.table, parts: translated.map(({ part }) => part), columns },
      scope,
    };
  }

  #nodeTable({ label, leastTruth }: LabelAsked): Uint8Array | undefined {
    if (!label) return undefined;
    const truths = nodeKindTruths(label, this.#store.catalog);
    return leastTruth === UNKNOWN ? truths : truths.map((truth) => (truth === TRUE ? 1 : 0));
  }

  #setTable({ label, leastTruth }: LabelAsked): Uint8Array | undefined {
    if (!label) return undefined;
    const truths = labelSetTruths(label, this.#store.catalog);
    return leastTruth === UNKNOWN ? truths : truths.map((truth) => (truth >= leastTruth ? truth : 0));
  }

  #evaluate(expression: Expression, scope: Scope): Evaluate {
    return this.#expressions.compile(
      expression,
      scope,
      (node) => this.#exists(node, scope),
      (node) => this.#valueQuery(node, scope),
    );
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

  #valueQuery({ query, span }: ValueQuery, scope: Scope): Evaluate {
    const inner = this.#clauses(query.clauses, scope.inner());
    const result = resultPlan(query, this.#resultSetting(inner.scope), this.#expressions);
    const number = this.#inner.length;
    this.#inner.push(inner.clauses);
    const isConstant = ![...namesIn(query)].some((name) => scope.find(name));
    this.#answers.set(number, { result, isConstant, place: span });
    const { asking } = this.#expressions;
    return ({ answers }) => {
      // It reads labels as the whole query does, also where the cases of an expression around it are followed.
      const { asks } = asking;
      asking.asks = undefined;
      try {
        return answers[number]!();
      } finally {
        asking.asks = asks;
      }
    };
  }

  /** Lowers the body of an EXISTS; answers its number. */
  #body(clauses: readonly MatchingClause[], scope: Scope, leastTruth: number, earlier?: Earlier): number {
    const context = this.#contextFor(leastTruth);
    const reads = earlier ? undefined : elementsRead(clauses, scope);
    const translated = translateClauses(clauses, scope.inner(), context, earlier);
    const number = this.#inner.length;
    this.#inner.push(translated);
    this.#innerReads[number] = reads;
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
      (node.kind !== 'value-query' && children(node).some(reads));
    return reads(expression);
  }
}

/** Slots of the elements outside that clauses name; undefined when they name lists, paths or values as well. */
function elementsRead(clauses: readonly MatchingClause[], scope: Scope): readonly number[] | undefined {
  const slots = new Set<number>();
  for (const name of namesIn(clauses)) {
    const binding = scope.find(name);
    if (!binding) continue;
    if (binding.kind !== 'node' && binding.kind !== 'edge') return undefined;
    slots.add(binding.slot);
  }
  return [...slots];
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
