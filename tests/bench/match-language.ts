/**
 * How long reading, checking, printing and evaluating take. Run with
 * `node src/run.mjs --script tests/bench/match-language.ts`; figures are of one machine and one run.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { checkQuery } from '../../src/gql/check/check.ts';
import { compileExpression, type Slots } from '../../src/gql/expression/compile.ts';
import { STANDARD_FUNCTIONS } from '../../src/gql/expression/functions/standard.ts';
import type { ElementAccess, Value } from '../../src/gql/expression/value.ts';
import { LONGEST_TEXT } from '../../src/gql/language/limits.ts';
import { parsePattern } from '../../src/gql/language/parse.ts';
import { printQuery } from '../../src/gql/language/print.ts';
import { type Environment, evaluate } from '../gql/expression/evaluate.ts';

const folder = new URL('../../seed-data/patterns/', import.meta.url);
const texts = readdirSync(folder).flatMap((file) => {
  const { patterns } = parse(readFileSync(new URL(file, folder), 'utf8')) as { patterns: { text: string }[] };
  return patterns.map(({ text }) => text);
});

/** Microseconds a round: the median of nine times a hundred rounds or so. */
function median(work: () => void, rounds: number): number {
  const times = Array.from({ length: 9 }, () => {
    const start = performance.now();
    for (let i = 0; i < rounds; i++) work();
    return ((performance.now() - start) / rounds) * 1000;
  });
  return times.sort((a, b) => a - b)[4]!;
}

const first = performance.now();
parsePattern(texts[0]!);
console.log(`first text, with the making of the parser: ${(performance.now() - first).toFixed(0)} ms`);

const queries = texts.map((text) => parsePattern(text).query!);
const each = (total: number): string => `${(total / texts.length).toFixed(1)} µs a pattern of the library`;
console.log('read: ', each(median(() => texts.forEach((text) => parsePattern(text)), 20)));
console.log('check:', each(median(() => queries.forEach((query, i) => checkQuery(query, texts[i]!)), 20)));
console.log('print:', each(median(() => queries.forEach(printQuery), 50)));

const long = `MATCH (a) RETURN ${'a.x + 1 AS c, '.repeat(2000)}`.slice(0, LONGEST_TEXT - 20);
const wrong = `MATCH (a) WHERE ${'|| '.repeat(4000)}`.slice(0, LONGEST_TEXT);
console.log(`longest text: ${(median(() => parsePattern(long), 1) / 1000).toFixed(1)} ms`);
console.log(`longest wrong text: ${(median(() => parsePattern(wrong), 1) / 1000).toFixed(1)} ms`);

const condition = "a.x * 2 + 1 > 7 AND (b.y = 'left' OR b.y IS NULL) AND NOT a.x IN [1, 2, 3]";
const tree = parsePattern(`MATCH (a), (b) RETURN ${condition} AS it`).query!.result.items![0]!.value;
const properties: Readonly<Record<string, Value>> = { x: 4, y: 'left' };
const elements: ElementAccess = {
  property: (_, key) => properties[key] ?? null,
  labels: () => [],
  hasLabel: () => false,
  isDirected: () => true,
  ends: () => ({ source: { kind: 'node', key: 0 }, target: { kind: 'node', key: 0 } }),
  id: () => '',
};
const node: Value = { kind: 'node', key: 1 };
const shared = {
  elements,
  functions: STANDARD_FUNCTIONS,
  now: 0,
  isGroup: () => false,
  parameter: () => null,
};
const environment: Environment = {
  ...shared,
  variable: () => node,
  exists: () => false,
  query: () => null,
  aggregate: () => null,
};
const slots: Slots<null> = {
  ...shared,
  variable: () => () => node,
  exists: () => () => false,
  query: () => () => null,
};
const run = compileExpression(tree, slots);
const interpreted = median(() => evaluate(tree, environment), 50_000);
const compiled = median(() => run(null), 50_000);
console.log(
  `evaluate: interpreter ${(interpreted * 1000).toFixed(0)} ns, closures ${(compiled * 1000).toFixed(0)} ns (${(interpreted / compiled).toFixed(1)} times faster)`,
);
