/** Evaluates a text in both ways, and makes sure that they agree. */
import { expect } from 'vitest';
import { compileExpression, type Slots } from '../../../src/gql/expression/compile.ts';
import type { FunctionTable } from '../../../src/gql/expression/functions/define.ts';
import { STANDARD_FUNCTIONS } from '../../../src/gql/expression/functions/standard.ts';
import { type Value, valueOfProperty } from '../../../src/gql/expression/value.ts';
import type { Expression } from '../../../src/gql/language/ast.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { describe as told } from '../../../src/gql/language/problem.ts';
import { temporalText } from '../../../src/gql/language/temporal.ts';
import { Elements } from '../oracle/graph.ts';
import { type Environment, evaluate } from './evaluate.ts';

/** n -e-> m, n ~u~ m; `none` is null, `many` a group variable of n and m, `path` runs along e. */
const elements = new Elements({
  nodes: [
    {
      id: 'n',
      labels: ['A', 'B'],
      properties: { x: 3, y: 'text', flag: true, list: [1, null, 2], mass: { value: 5, unit: 'g' } },
    },
    { id: 'm', labels: [], properties: { x: 4 } },
  ],
  edges: [
    { id: 'e', source: 'n', target: 'm', label: 'E', directed: true, properties: { w: 0.5 } },
    { id: 'u', source: 'n', target: 'm', label: undefined, directed: false },
  ],
});

const n: Value = { kind: 'node', key: 'n' };
const m: Value = { kind: 'node', key: 'm' };
const e: Value = { kind: 'edge', key: 'e' };
const variables: Readonly<Record<string, Value>> = {
  n,
  m,
  e,
  u: { kind: 'edge', key: 'u' },
  none: null,
  many: [n, m],
  path: { kind: 'path', elements: [n, e, m] },
};

/** 2024-05-31T12:00:00Z. */
export const NOW = Date.UTC(2024, 4, 31, 12);

interface Setting {
  readonly parameters?: Readonly<Record<string, unknown>>;
  readonly functions?: FunctionTable;
}

export function parseExpression(text: string): Expression {
  const { query, errors } = parsePattern(`MATCH (n) RETURN ${text} AS it`);
  expect(errors.map(told).join('\n')).toBe('');
  return query!.result.items![0]!.value;
}

/** The value of a text. */
export function resultOf(text: string, setting: Setting = {}): Value {
  return resultOfTree(parseExpression(text), setting);
}

export function resultOfTree(
  tree: Expression,
  { parameters = {}, functions = STANDARD_FUNCTIONS }: Setting = {},
): Value {
  const shared = {
    elements,
    functions,
    now: NOW,
    isGroup: (name: string) => name === 'many',
    parameter: (name: string) => valueOfProperty(parameters[name]),
  };
  const environment: Environment = {
    ...shared,
    variable: (name) => variables[name] ?? null,
    exists: () => true,
    query: () => 7,
    aggregate: () => 42,
  };
  const slots: Slots<null> = {
    ...shared,
    variable: (name) => () => variables[name] ?? null,
    exists: () => () => true,
    query: () => () => 7,
    aggregate: () => () => 42,
  };
  const plain = evaluate(tree, environment);
  const run = compileExpression(tree, slots);
  expect(run(null)).toEqual(plain);
  // Closures keep state between calls only by mistake.
  expect(run(null)).toEqual(plain);
  return plain;
}

/** The value, with dates and times as text. */
export function shown(text: string, setting?: Setting): unknown {
  const value = resultOf(text, setting);
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const { kind } = value as { kind: string };
  return ['date', 'time', 'datetime', 'duration'].includes(kind)
    ? temporalText(value as Parameters<typeof temporalText>[0])
    : value;
}
