/**
 * Joins the expression side to a store: what its names mean in a row, and how elements are read.
 */
import { accumulatorFor } from '../expression/aggregate.ts';
import { compareValues, valueKey } from '../expression/compare.ts';
import { compileExpression, type Slots } from '../expression/compile.ts';
import type { FunctionTable } from '../expression/functions/define.ts';
import {
  type EdgeReference,
  type ElementAccess,
  type ElementReference,
  fieldOf,
  isList,
  type NodeReference,
  type Value,
  valueOfProperty,
} from '../expression/value.ts';
import type { LabelExpression } from '../language/ast.ts';
import { temporalText } from '../language/temporal.ts';
import type { Field } from '../storage/catalog.ts';
import type { Store } from '../storage/store.ts';
import type { Expressions } from './compiled.ts';
import { labelTest } from './label-of.ts';
import { type LabelTest, nodeKindTruths, UNKNOWN } from './label-test.ts';
import type { Asking } from './lineage.ts';
import type { RowState } from './pattern.ts';
import type { Evaluate } from './projection.ts';
import type { Binding, Scope } from './scope.ts';

export interface ExpressionSettings {
  readonly functions: FunctionTable;
  readonly parameters: Readonly<Record<string, unknown>>;
  /** Milliseconds since 1970: the instant of the query. */
  readonly now: number;
  /** Lowest label truth that counts as having the label. */
  readonly leastTruth: number;
}

/** An element as it is handed to the caller. */
export type ElementValue =
  | { readonly kind: 'node'; readonly id: string }
  | {
      readonly kind: 'edge';
      readonly id: string | undefined;
      readonly label: string | undefined;
      readonly source: string;
      readonly target: string;
    };

export function expressionsFor(store: Store, settings: ExpressionSettings): Expressions {
  const asking: Asking = { asks: undefined, round: 0 };
  const access = elementAccess(store, settings.leastTruth, asking);
  const parameter = (name: string): Value => valueOfProperty(settings.parameters[name]);
  const compile: Expressions['compile'] = (expression, scope, exists, query) => {
    const slots: Slots<RowState> = {
      functions: settings.functions,
      elements: access,
      now: settings.now,
      parameter,
      exists,
      query: (node) => query(node) as (state: RowState) => Value,
      isGroup: (name) => scope.find(name)?.kind === 'group',
      variable: (name) => variableReader(scope, name, asking),
      property: (variable, key) => propertyReader(store, scope, variable, key),
      labeled: (variable, labels) => labelReader(store, scope, variable, labels, settings.leastTruth, asking),
    };
    return compileExpression(expression, slots) as Evaluate;
  };
  return {
    asking,
    readsLabels: (name) => settings.functions.get(name)?.readsLabels ?? false,
    compile,
    accumulator: (node, scope) => {
      const fraction = node.fraction
        ? (
            compile(
              node.fraction,
              scope,
              () => () => false,
              () => () => null,
            ) as (state: RowState | undefined) => Value
          )(undefined)
        : null;
      return () => accumulatorFor(node, fraction) as ReturnType<ReturnType<Expressions['accumulator']>>;
    },
    keyOf: (value) => valueKey(value as Value),
    compare: (a, b) => compareValues(a as Exclude<Value, null>, b as Exclude<Value, null>),
    output: (value) => output(store, value as Value),
  };
}

function elementAccess(store: Store, leastTruth: number, asking: Asking): ElementAccess {
  /** Whether a node passes a label test, by what is asked now or by how labels are read. */
  const passes = (node: number, test: LabelTest, name: string): boolean => {
    const truth = nodeKindTruths(test, store.catalog)[store.nodeRow.view[node * 4]!]!;
    return truth === UNKNOWN && asking.asks ? asking.asks.label(node, test, name) : truth >= leastTruth;
  };
  return {
    property: (element, key) => {
      const number = element.key as number;
      const id = store.catalog.findKey(key);
      if (id < 0) return null;
      const property =
        element.kind === 'node' ? store.nodeProperty(number, id) : store.edgeProperty(number, id);
      return valueOfProperty(property);
    },
    labels: (element) => {
      const number = element.key as number;
      if (element.kind === 'node')
        return store
          .nodeLabels(number)
          .filter(({ label: name }) => passes(number, { kind: 'label', name }, name))
          .map(({ label }) => label);
      const label = store.edgeLabel(number);
      return label === '' ? [] : [label];
    },
    hasLabel: (element, name) =>
      element.kind === 'node'
        ? passes(element.key as number, { kind: 'label', name }, name)
        : store.edgeLabel(element.key as number) === name,
    isDirected: (edge) => store.isDirected(edge.key as number),
    ends: (edge) => {
      const at = (edge.key as number) * 4;
      return { source: nodeReference(store, at + 1), target: nodeReference(store, at + 2) };
    },
    id: (element) =>
      element.kind === 'node'
        ? store.nodeId(element.key as number)
        : (store.edgeId(element.key as number) ?? String(element.key)),
  };
}

function nodeReference(store: Store, word: number): NodeReference {
  return { kind: 'node', key: store.end(store.edgeRow.view[word]!) };
}

function variableReader(scope: Scope, name: string, asking: Asking): (state: RowState) => Value {
  const binding = scope.find(name);
  if (!binding) throw new Error(`There is no variable ${name}`);
  const { slot } = binding;
  switch (binding.kind) {
    case 'node':
    case 'edge': {
      const { kind } = binding;
      return ({ row }) => (row[slot]! < 0 ? null : { kind, key: row[slot]! });
    }
    case 'path':
      return ({ values }) => pathValue(values[slot]);
    case 'group':
      return ({ values }) => groupValue(binding.of, values[slot]);
    case 'value':
      return binding.again
        ? underCircumstances(binding.again, slot, asking)
        : ({ values }) => values[slot] as Value;
    default:
      return binding satisfies never;
  }
}

/** A value that depends on labels: while cases are followed, as it is in the case at hand; calculated once a case. */
function underCircumstances(
  again: (state: RowState) => unknown,
  slot: number,
  asking: Asking,
): (state: RowState) => Value {
  let round = -1;
  let value: Value = null;
  return (state) => {
    if (!asking.asks) return state.values[slot] as Value;
    if (round !== asking.round) {
      value = again(state) as Value;
      round = asking.round;
    }
    return value;
  };
}

function pathValue(elements: unknown): Value {
  if (!Array.isArray(elements)) return null;
  return {
    kind: 'path',
    elements: (elements as number[]).map((key, i) => ({ kind: i % 2 === 0 ? 'node' : 'edge', key })),
  };
}

function groupValue(of: Binding, items: unknown): Value {
  if (!Array.isArray(items)) return null;
  switch (of.kind) {
    case 'node':
    case 'edge': {
      const { kind } = of;
      return (items as number[]).map((key) => (key < 0 ? null : { kind, key }));
    }
    case 'path':
      return items.map(pathValue);
    case 'group':
      return items.map((item) => groupValue(of.of, item));
    case 'value':
      return items as Value[];
    default:
      return of satisfies never;
  }
}

/** Reads a property without making a reference to the element. */
function propertyReader(
  store: Store,
  scope: Scope,
  variable: string,
  key: string,
): ((state: RowState) => Value) | undefined {
  const binding = scope.find(variable);
  if (binding?.kind !== 'node' && binding?.kind !== 'edge') return undefined;
  const { slot } = binding;
  const { catalog } = store;
  const id = catalog.findKey(key);
  const isNode = binding.kind === 'node';
  const kinds = isNode ? catalog.nodeKinds : catalog.edgeKinds;
  const fields: readonly (Field | undefined)[] = kinds.map(({ layout }) =>
    catalog.layouts[layout]!.fields.find((field) => field.key === id),
  );
  const column = isNode ? store.nodeRow : store.edgeRow;
  const word = isNode ? 2 : 3;
  return ({ row }) => {
    const element = row[slot]!;
    if (element < 0) return null;
    const field = fields[column.view[element * 4]!];
    if (!field) return null;
    const value = store.read(field, column.view[element * 4 + word]!);
    return field.storage === 'whole' ? valueOfProperty(value) : (value as Value);
  };
}

function labelReader(
  store: Store,
  scope: Scope,
  variable: string,
  labels: LabelExpression,
  leastTruth: number,
  asking: Asking,
): ((state: RowState) => boolean | null) | undefined {
  const binding = scope.find(variable);
  if (binding?.kind !== 'node') return undefined;
  const { slot } = binding;
  const test = labelTest(labels);
  const name = test.kind === 'label' ? test.name : JSON.stringify(test);
  const truths = nodeKindTruths(test, store.catalog);
  return ({ row }) => {
    const node = row[slot]!;
    if (node < 0) return null;
    const truth = truths[store.nodeRow.view[node * 4]!]!;
    return truth === UNKNOWN && asking.asks ? asking.asks.label(node, test, name) : truth >= leastTruth;
  };
}

/** A value as plain data: elements by their ids, points in time and durations as ISO 8601 text. */
function output(store: Store, value: Value): unknown {
  if (value === null || typeof value !== 'object') return value;
  if (isList(value)) return value.map((item) => output(store, item));
  switch (value.kind) {
    case 'node':
    case 'edge':
      return elementValue(store, value);
    case 'path':
      return { kind: 'path', elements: value.elements.map((element) => elementValue(store, element)) };
    case 'record':
      return Object.fromEntries(
        Object.keys(value.fields).map((key) => [key, output(store, fieldOf(value, key))]),
      );
    case 'date':
    case 'time':
    case 'datetime':
    case 'duration':
      return temporalText(value);
    default:
      return value satisfies never;
  }
}

function elementValue(store: Store, element: ElementReference): ElementValue {
  const number = element.key as number;
  if (element.kind === 'node') return { kind: 'node', id: store.nodeId(number) };
  return edgeValue(store, element);
}

function edgeValue(store: Store, { key }: EdgeReference): ElementValue {
  const number = key as number;
  const end = (word: number): string => {
    const node = store.end(store.edgeRow.view[number * 4 + word]!);
    return node < 0 ? '' : store.nodeId(node);
  };
  return {
    kind: 'edge',
    id: store.edgeId(number),
    label: store.edgeLabel(number) || undefined,
    source: end(1),
    target: end(2),
  };
}
