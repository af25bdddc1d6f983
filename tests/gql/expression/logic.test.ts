/**
 * Worked cases of three-valued logic and null, after ISO/IEC 39075:2024 (from memory): 20.20 <boolean value
 * expression> with its truth tables, 19.3 <comparison predicate>, 19.5 <null predicate>; the rules of IN are those of
 * SQL (ISO/IEC 9075-2, 8.4), since GQL has no such predicate.
 */
import { describe, expect, test } from 'vitest';
import { resultOf } from './evaluating.ts';

const T = 'TRUE';
const F = 'FALSE';
const U = 'UNKNOWN';
const truth = (word: string): boolean | null => (word === U ? null : word === T);

describe('truth tables (20.20)', () => {
  test.each([
    [T, T, T, T, F],
    [T, F, F, T, T],
    [T, U, U, T, U],
    [F, T, F, T, T],
    [F, F, F, F, F],
    [F, U, F, U, U],
    [U, T, U, T, U],
    [U, F, F, U, U],
    [U, U, U, U, U],
  ])('%s and %s', (a, b, and, or, xor) => {
    expect(resultOf(`${a} AND ${b}`)).toBe(truth(and));
    expect(resultOf(`${a} OR ${b}`)).toBe(truth(or));
    expect(resultOf(`${a} XOR ${b}`)).toBe(truth(xor));
    // The same where nothing is known before it runs.
    const late = (word: string): string => (word === U ? 'none.x' : `(n.flag = ${word})`);
    expect(resultOf(`${late(a)} AND ${late(b)}`)).toBe(truth(and));
    expect(resultOf(`${late(a)} OR ${late(b)}`)).toBe(truth(or));
    expect(resultOf(`${late(a)} XOR ${late(b)}`)).toBe(truth(xor));
  });

  test('NOT', () => {
    expect([T, F, U].map((a) => resultOf(`NOT ${a}`))).toEqual([false, true, null]);
  });

  test.each([
    [T, true, false, false],
    [F, false, true, false],
    [U, false, false, true],
  ])('IS asks of %s and answers true or false, never unknown', (a, isTrue, isFalse, isUnknown) => {
    expect([`${a} IS TRUE`, `${a} IS FALSE`, `${a} IS UNKNOWN`].map((text) => resultOf(text))).toEqual([
      isTrue,
      isFalse,
      isUnknown,
    ]);
    expect(
      [`${a} IS NOT TRUE`, `${a} IS NOT FALSE`, `${a} IS NOT UNKNOWN`].map((text) => resultOf(text)),
    ).toEqual([!isTrue, !isFalse, !isUnknown]);
  });

  test('what is no truth value counts as unknown', () => {
    expect(resultOf('n.y AND TRUE')).toBeNull();
    expect(resultOf('n.y AND FALSE')).toBe(false);
  });
});

describe('null', () => {
  test.each([
    'none = none',
    'none <> 1',
    'none < 1',
    'NOT none = 1',
    'none.x + 1',
    '1 - none.x',
    '-none.x',
    "none.x || 'a'",
    'UPPER(none.x)',
    'none.x IN [1]',
    'none IS LABELED A',
    'none IS NOT LABELED A',
    'none IS DIRECTED',
    'none IS SOURCE OF e',
    'n IS SOURCE OF none',
    'SAME(n, none)',
    'ALL_DIFFERENT(n, m, none)',
    'PROPERTY_EXISTS(none, x)',
    'n.nothing',
    'CAST(none.x AS STRING)',
    'TRIM(none.x)',
    'PATH_LENGTH(none)',
    'SIZE(none)',
  ])('goes through: %s', (text) => {
    expect(resultOf(text)).toBeNull();
  });

  test.each([
    ['none IS NULL', true],
    ['n.x IS NULL', false],
    ['n.nothing IS NOT NULL', false],
    ['n IS NULL', false],
    ['PROPERTY_EXISTS(n, x)', true],
    ['PROPERTY_EXISTS(n, nothing)', false],
    ['COALESCE(none.x, n.nothing, 7)', 7],
    ['COALESCE(none.x, none.y)', null],
    ['NULLIF(1, 1)', null],
    ['NULLIF(1, 2)', 1],
    ['NULLIF(none.x, 1)', null],
  ])('can be asked for: %s', (text, expected) => {
    expect(resultOf(text)).toBe(expected);
  });
});

describe('IN', () => {
  test.each([
    ['1 IN [1, 2]', true],
    ['3 IN [1, 2]', false],
    ['1 IN [NULL, 1]', true],
    ['3 IN [1, NULL]', null],
    ['none.x IN [1, 2]', null],
    ['none.x IN []', false],
    ['1 IN []', false],
    ['3 NOT IN [1, 2]', true],
    ['3 NOT IN [1, NULL]', null],
    ['1 NOT IN [1, NULL]', false],
    ['2 IN n.list', true],
    ['5 IN n.list', null],
    ['1 IN none.list', null],
    ["1 IN ['1', 2]", null],
  ])('%s', (text, expected) => {
    expect(resultOf(text)).toBe(expected);
  });

  test('takes lists from parameters', () => {
    expect(resultOf('n.x IN $list', { parameters: { list: [1, 3] } })).toBe(true);
  });
});

describe('comparison (19.3)', () => {
  test.each([
    ['1 < 2', true],
    ['2 <= 2', true],
    ['2 <> 2', false],
    ['0 = -0', true],
    ["'a' < 'b'", true],
    ["'B' < 'a'", true],
    ["'a' = 'A'", false],
    ["'a' < 'aa'", true],
    ["'\\uffff' < '\\U01F600'", true],
    ['FALSE < TRUE', true],
    ['[1, 2] = [1, 2]', true],
    ['[1, 2] = [1]', false],
    ['[1, NULL] = [1, NULL]', null],
    ['[1, NULL] = [2, NULL]', false],
    ['n = n', true],
    ['n = m', false],
    ['n <> m', true],
    ['path = path', true],
    ['n.mass = n.mass', true],
    ["DATE '2024-01-31' < DATE '2024-02-01'", true],
    ["DATETIME '2024-05-01T10:00:00+02:00' = DATETIME '2024-05-01T08:00:00Z'", true],
    ["DATETIME '2024-05-01T00:30:00+01:00' < DATETIME '2024-05-01T00:00:00Z'", true],
    ["TIME '10:00:00Z' = TIME '12:00:00+02:00'", true],
    ["DURATION 'P1Y' = DURATION 'P12M'", true],
    ["DURATION 'PT60M' = DURATION 'PT1H'", true],
    ["DURATION 'P1D' > DURATION 'PT23H'", true],
  ])('%s', (text, expected) => {
    expect(resultOf(text)).toBe(expected);
  });

  test.each([
    "n.x = 'text'",
    "n.x <> 'text'",
    "n.x < 'text'",
    'n.flag = 1',
    'n = n.x',
    'n < m',
    'n.list < n.list',
    "DATE '2024-01-01' = n.y",
    "DATETIME '2024-01-01T00:00:00' = DATETIME '2024-01-01T00:00:00Z'",
    "DURATION 'P1M' = DURATION 'P30D'",
  ])('of unlike types is unknown: %s', (text) => {
    expect(resultOf(text)).toBeNull();
  });
});

describe('CASE (20.7)', () => {
  test.each([
    ['CASE WHEN none.x = 1 THEN 1 ELSE 2 END', 2],
    ['CASE WHEN FALSE THEN 1 END', null],
    ['CASE WHEN n.x = 3 THEN 1 WHEN TRUE THEN 2 END', 1],
    ['CASE n.x WHEN 1, 3 THEN 1 ELSE 2 END', 1],
    ['CASE n.x WHEN > 5 THEN 1 WHEN <= 3 THEN 2 END', 2],
    ['CASE none.x WHEN NULL THEN 1 ELSE 2 END', 2],
    ['CASE none.x WHEN IS NULL THEN 1 ELSE 2 END', 1],
    ['CASE n.flag WHEN IS TRUE THEN 1 END', 1],
    ['CASE CASE n.x WHEN 3 THEN 9 END WHEN 9 THEN CASE m.x WHEN 4 THEN 5 END END', 5],
    ['CASE n.x WHEN CASE m.x WHEN 4 THEN 3 END THEN 1 ELSE 2 END', 1],
  ])('%s', (text, expected) => {
    expect(resultOf(text)).toBe(expected);
  });
});

describe('elements', () => {
  test.each([
    ['n IS LABELED A', true],
    ['n IS LABELED A&B', true],
    ['n IS LABELED A&!B', false],
    ['n IS LABELED C|B', true],
    ['n IS LABELED %', true],
    ['m IS LABELED %', false],
    ['m IS LABELED !%', true],
    ['m IS NOT LABELED A', true],
    ['n:A', true],
    ['e IS LABELED E', true],
    ['u IS LABELED %', false],
    ['e IS DIRECTED', true],
    ['u IS NOT DIRECTED', true],
    ['n IS SOURCE OF e', true],
    ['n IS DESTINATION OF e', false],
    ['m IS DESTINATION OF e', true],
    ['n IS SOURCE OF u', false],
    ['n IS NOT SOURCE OF u', true],
    ['SAME(n, n)', true],
    ['SAME(n, m)', false],
    ['ALL_DIFFERENT(n, m)', true],
    ['ALL_DIFFERENT(n, m, n)', false],
    ['n.mass.value', 5],
    ['n.mass.nothing', null],
    ['ELEMENT_ID(n)', 'n'],
  ])('%s', (text, expected) => {
    expect(resultOf(text)).toBe(expected);
  });
});
