/** Closures and interpreter agree on any expression; order and keys of values are what they promise. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { compareValues, equals, less, valueKey } from '../../../src/gql/expression/compare.ts';
import { arity } from '../../../src/gql/expression/functions/define.ts';
import { STANDARD_FUNCTIONS } from '../../../src/gql/expression/functions/standard.ts';
import type { Value } from '../../../src/gql/expression/value.ts';
import { resultOf } from './evaluating.ts';

const leaf = fc.constantFrom(
  ...[
    '1',
    '0',
    '2.5',
    "'a'",
    "''",
    'TRUE',
    'FALSE',
    'NULL',
    '[1, NULL]',
    '[]',
    '$p',
    'n',
    'm',
    'e',
    'u',
    'none',
    'path',
    'many',
  ],
  ...['n.x', 'n.y', 'n.flag', 'n.list', 'n.mass', 'n.mass.value', 'm.x', 'e.w', 'none.x', 'many.x'],
  ...[
    "DATE '2024-02-29'",
    "DATETIME '2024-05-01T00:00:00Z'",
    "TIME '08:00:00'",
    "DURATION 'P1M'",
    "DURATION 'PT1H'",
    'CURRENT_DATE',
  ],
);
const element = fc.constantFrom('n', 'm', 'e', 'u', 'none');

const { text } = fc.letrec<{ text: string }>((tie) => {
  const sub = tie('text').map((inner) => `(${inner})`);
  const binary = fc
    .tuple(
      sub,
      fc.constantFrom(
        '+',
        '-',
        '*',
        '/',
        '||',
        '=',
        '<>',
        '<',
        '<=',
        '>',
        '>=',
        'AND',
        'OR',
        'XOR',
        'IN',
        'NOT IN',
      ),
      sub,
    )
    .map((parts) => parts.join(' '));
  const suffix = fc
    .tuple(sub, fc.constantFrom('IS NULL', 'IS NOT NULL', 'IS TRUE', 'IS NOT FALSE', 'IS UNKNOWN'))
    .map((parts) => parts.join(' '));
  const call = fc
    .tuple(
      fc.constantFrom(...STANDARD_FUNCTIONS.values()),
      fc.array(sub, { minLength: 3, maxLength: 3 }),
      fc.nat(2),
    )
    .map(([definition, given, more]) => {
      const { least, most } = arity(definition);
      return `${definition.name}(${given.slice(0, Math.min(most, least + more)).join(', ')})`;
    });
  const elementTest = fc.oneof(
    fc
      .tuple(
        element,
        fc.constantFrom(
          'IS LABELED A&!B',
          'IS NOT LABELED %',
          'IS DIRECTED',
          'IS SOURCE OF e',
          'IS NOT DESTINATION OF u',
        ),
      )
      .map((parts) => parts.join(' ')),
    fc
      .tuple(fc.constantFrom('SAME', 'ALL_DIFFERENT'), element, element)
      .map(([name, a, b]) => `${name}(${a}, ${b})`),
    element.map((one) => `PROPERTY_EXISTS(${one}, x)`),
  );
  const cases = fc.oneof(
    fc.tuple(sub, sub, sub).map(([a, b, c]) => `CASE WHEN ${a} THEN ${b} ELSE ${c} END`),
    fc
      .tuple(sub, sub, sub, sub)
      .map(([a, b, c, d]) => `CASE ${a} WHEN ${b} THEN ${c} WHEN > ${d} THEN 1 WHEN IS NULL THEN 2 END`),
  );
  const other = fc.oneof(
    sub.map((inner) => `NOT ${inner}`),
    sub.map((inner) => `-${inner}`),
    fc
      .tuple(sub, fc.constantFrom('STRING', 'INTEGER', 'FLOAT', 'BOOLEAN', 'DATE', 'DATETIME'))
      .map(([inner, type]) => `CAST(${inner} AS ${type})`),
    fc.tuple(sub, sub).map(([a, b]) => `TRIM(LEADING ${a} FROM ${b})`),
    fc.array(sub, { maxLength: 3 }).map((items) => `[${items.join(', ')}]`),
    fc
      .tuple(fc.constantFrom('SUM', 'COUNT', 'MAX', 'COLLECT_LIST', 'COUNT(DISTINCT'), sub)
      .map(([name, inner]) => `${name}${name.includes('(') ? ' ' : '('}${inner})`),
    fc.constantFrom('COUNT(*)', 'EXISTS { (n)->(m) }'),
  );
  return {
    text: fc.oneof(
      { maxDepth: 4, depthSize: 'small' },
      leaf,
      binary,
      suffix,
      call,
      elementTest,
      cases,
      other,
    ),
  };
});

test('any expression means the same compiled and interpreted, and is never NaN', () => {
  fc.assert(
    fc.property(text, (one) => {
      // `resultOf` compares the two.
      const value = resultOf(one, { parameters: { p: 2 } });
      expect(typeof value === 'number' && !Number.isFinite(value)).toBe(false);
    }),
    { numRuns: 3000 },
  );
});

const values: fc.Arbitrary<Exclude<Value, null>> = fc.oneof(
  fc.boolean(),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: -2, max: 2 }),
  fc.string({ maxLength: 3, unit: 'binary' }),
  fc.integer({ min: -3, max: 3 }).map((day): Value => ({ kind: 'date', day })),
  fc
    .tuple(
      fc.integer({ min: -1, max: 1 }),
      fc.integer({ min: 0, max: 2 }),
      fc.constantFrom(undefined, 0, 60, -60),
    )
    .map(([day, hour, offset]): Value => ({ kind: 'datetime', day, nanosecond: hour * 3.6e12, offset })),
  fc
    .tuple(fc.constantFrom('month', 'second'), fc.integer({ min: -2, max: 2 }))
    .map(([unit, amount]): Value => ({ kind: 'duration', unit, amount })),
  fc.array(fc.oneof(fc.constant(null), fc.integer({ min: 0, max: 2 })), { maxLength: 3 }),
  fc.constantFrom('x', 'y').map((key): Value => ({ kind: 'node', key })),
) as fc.Arbitrary<Exclude<Value, null>>;

test('the order of values is total: antisymmetric, transitive, and zero exactly where keys are equal', () => {
  fc.assert(
    fc.property(values, values, values, (a, b, c) => {
      expect(Math.sign(compareValues(a, b))).toBe(-Math.sign(compareValues(b, a)) + 0);
      if (compareValues(a, b) <= 0 && compareValues(b, c) <= 0)
        expect(compareValues(a, c)).toBeLessThanOrEqual(0);
      expect(compareValues(a, b) === 0).toBe(valueKey(a) === valueKey(b));
    }),
    { numRuns: 5000 },
  );
});

test('where a comparison is known, the order agrees with it', () => {
  fc.assert(
    fc.property(values, values, (a, b) => {
      const [same, smaller] = [equals(a, b), less(a, b)];
      if (same !== null) expect(compareValues(a, b) === 0).toBe(same);
      if (smaller !== null) expect(compareValues(a, b) < 0).toBe(smaller);
    }),
    { numRuns: 5000 },
  );
});
