import { describe, expect, test } from 'vitest';
import { bare, expression } from './parsing.ts';

const variable = (name: string) => ({ kind: 'variable', name });
const number = (value: number) => ({ kind: 'number', value });

describe('literals (21.2)', () => {
  test.each([
    ['0', 0],
    ['1_000', 1000],
    ['1.5', 1.5],
    ['.5', 0.5],
    ['2.', 2],
    ['1e3', 1000],
    ['1.5E-2', 0.015],
    ['2e+1', 20],
    ['0x1F', 31],
    ['0o17', 15],
    ['0b1_01', 5],
    ['3M', 3],
    ['2.5F', 2.5],
    ['1e2d', 100],
  ])('number %s', (text, value) => {
    expect(bare(text)).toEqual(number(value));
  });

  test.each([
    ["'a'", 'a'],
    ['"a"', 'a'],
    ["'it''s'", "it's"],
    ["'it\\'s'", "it's"],
    ["'a\\\\''b'", "a\\'b"],
    ["'\\t\\n\\u00e9\\U01F600'", '\t\né😀'],
    ["@'a\\b''c'", "a\\b'c"],
    ["''", ''],
    ['\'a""b\'', 'a""b'],
  ])('text %s', (text, value) => {
    expect(bare(text)).toEqual({ kind: 'string', value });
  });

  test('truth values, null and UNKNOWN, in either case', () => {
    expect(bare('true')).toEqual({ kind: 'boolean', value: true });
    expect(bare('False')).toEqual({ kind: 'boolean', value: false });
    expect(bare('null')).toEqual({ kind: 'null' });
    expect(bare('UNKNOWN')).toEqual({ kind: 'null' });
  });

  test('dates and times', () => {
    expect(bare("DATE '2024-05-31'")).toEqual({ kind: 'temporal', type: 'DATE', text: '2024-05-31' });
    expect(bare("timestamp '2024-05-31T08:00:00Z'")).toMatchObject({ type: 'DATETIME' });
    expect(bare("DURATION 'P1Y2M'")).toMatchObject({ type: 'DURATION' });
    expect(bare("TIME '08:00:00+02:00'")).toMatchObject({ type: 'TIME' });
  });

  test('lists and parameters', () => {
    expect(bare('[1, $p, []]')).toEqual({
      kind: 'list',
      items: [number(1), { kind: 'parameter', name: 'p' }, { kind: 'list', items: [] }],
    });
    expect(bare('$1')).toEqual({ kind: 'parameter', name: '1' });
    expect(bare('$`two words`')).toEqual({ kind: 'parameter', name: 'two words' });
  });
});

describe('what binds tighter (20.20, 20.21)', () => {
  const shape = (text: string): string => text.replaceAll(' ', '');
  const show = (node: ReturnType<typeof expression>): string => {
    switch (node.kind) {
      case 'variable':
        return node.name;
      case 'number':
        return String(node.value);
      case 'logical':
        return `(${node.operands.map(show).join(node.operator)})`;
      case 'not':
        return `(NOT${show(node.operand)})`;
      case 'sign':
        return `(${node.operator}${show(node.operand)})`;
      case 'arithmetic':
      case 'comparison':
        return `(${show(node.left)}${node.operator}${show(node.right)})`;
      case 'concatenation':
        return `(${show(node.left)}||${show(node.right)})`;
      case 'is-null':
        return `(${show(node.operand)}ISNULL)`;
      case 'is-truth':
        return `(${show(node.operand)}IS${node.truth})`;
      case 'property':
        return `${show(node.object)}.${node.key.text}`;
      default:
        return node.kind;
    }
  };

  test.each([
    ['a + 2 * 3', '(a+(2*3))'],
    ['a - 2 - 3', '((a-2)-3)'],
    ['a / 2 * 3', '((a/2)*3)'],
    ['-a.x * 2', '((-a.x)*2)'],
    ['a || b || c', '((a||b)||c)'],
    ['a = 1 AND b = 2 OR c = 3', '(((a=1)AND(b=2))OR(c=3))'],
    ['a OR b OR c', '(aORbORc)'],
    ['a OR b XOR c', '((aORb)XORc)'],
    ['a XOR b OR c', '((aXORb)ORc)'],
    ['NOT a = 1 AND b', '((NOT(a=1))ANDb)'],
    ['NOT (a AND b)', '(NOT(aANDb))'],
    ['a = 1 IS TRUE', '((a=1)IStrue)'],
    ['a.x IS NULL IS UNKNOWN', '((a.xISNULL)ISnull)'],
    ['(a + 2) * 3', '((a+2)*3)'],
    ['a <-1', '(a<(-1))'],
    ['a.b.c', 'a.b.c'],
  ])('%s', (text, expected) => {
    expect(show(expression(text))).toBe(shape(expected));
  });
});

describe('predicates (clause 19)', () => {
  test.each([
    ['a.x IS NOT NULL', { kind: 'is-null', negated: true }],
    ['a IS LABELED B&C', { kind: 'is-labeled', negated: false, labels: { kind: 'label-conjunction' } }],
    ['a IS NOT LABELED %', { kind: 'is-labeled', negated: true, labels: { kind: 'label-wildcard' } }],
    ['a:B|C', { kind: 'is-labeled', labels: { kind: 'label-disjunction' } }],
    ['a IS NOT DIRECTED', { kind: 'is-directed', negated: true }],
    ['a IS SOURCE OF e', { kind: 'is-endpoint', end: 'SOURCE', edge: variable('e') }],
    ['a IS NOT DESTINATION OF e', { kind: 'is-endpoint', end: 'DESTINATION', negated: true }],
    ['a.x NOT IN [1]', { kind: 'in', negated: true }],
    ['a.x IN $list', { kind: 'in', negated: false, list: { kind: 'parameter' } }],
    [
      'ALL_DIFFERENT(a, b, c)',
      { kind: 'all-different', elements: [variable('a'), variable('b'), variable('c')] },
    ],
    ['same(a, b)', { kind: 'same' }],
    ['PROPERTY_EXISTS(a, order)', { kind: 'property-exists', key: { text: 'order' } }],
    ['a.x <> 1', { kind: 'comparison', operator: '<>' }],
  ])('%s', (text, expected) => {
    expect(bare(text)).toMatchObject(expected);
  });

  test('EXISTS takes a graph pattern or MATCH clauses, in braces or parentheses', () => {
    const one = bare('EXISTS { (a)->(b) WHERE b.x = 1 }');
    expect(one).toMatchObject({
      kind: 'exists',
      clauses: [{ kind: 'match', where: { kind: 'comparison' } }],
    });
    expect(bare('EXISTS { MATCH (a)->(b) WHERE b.x = 1 }')).toEqual(one);
    expect(bare('EXISTS (MATCH (a)->(b) WHERE b.x = 1)')).toEqual(one);
    expect(bare('EXISTS { MATCH (a) OPTIONAL MATCH (b) }')).toMatchObject({
      clauses: [{ kind: 'match' }, { kind: 'optional' }],
    });
  });
});

describe('CASE (20.7)', () => {
  test('searched', () => {
    expect(bare('CASE WHEN a.x > 1 THEN 2 ELSE 3 END')).toMatchObject({
      kind: 'case',
      branches: [{ conditions: [{ kind: 'comparison' }], result: number(2) }],
      otherwise: number(3),
    });
  });

  test('simple: values, lists of values, comparisons and null tests', () => {
    const subject = { kind: 'case-subject' };
    expect(bare('CASE a.x WHEN 1, 2 THEN 3 WHEN > 5 THEN 4 WHEN IS NOT NULL THEN 5 END')).toMatchObject({
      subject: { kind: 'property' },
      branches: [
        {
          conditions: [
            { kind: 'comparison', operator: '=', left: subject, right: number(1) },
            { kind: 'comparison', operator: '=', left: subject, right: number(2) },
          ],
        },
        { conditions: [{ kind: 'comparison', operator: '>', left: subject, right: number(5) }] },
        { conditions: [{ kind: 'is-null', negated: true, operand: subject }] },
      ],
    });
  });
});

describe('functions and aggregates', () => {
  test('names of functions are upper case in the tree and case-insensitive in the text', () => {
    expect(bare('upper(a.x)')).toMatchObject({ kind: 'call', name: 'UPPER' });
    expect(bare('Current_Date')).toEqual({ kind: 'call', name: 'CURRENT_DATE', arguments: [] });
  });

  test('aggregates', () => {
    expect(bare('count(*)')).toEqual({ kind: 'aggregate', name: 'COUNT', distinct: false });
    expect(bare('COUNT(DISTINCT a.x)')).toMatchObject({
      name: 'COUNT',
      distinct: true,
      argument: { kind: 'property' },
    });
    expect(bare('SUM(ALL a.x)')).toMatchObject({ name: 'SUM', distinct: false });
    expect(bare('PERCENTILE_CONT(a.x, 0.5)')).toMatchObject({
      name: 'PERCENTILE_CONT',
      fraction: number(0.5),
    });
  });

  test('TRIM in all its forms', () => {
    expect(bare('TRIM(a.x)')).toMatchObject({ kind: 'trim', side: 'BOTH', source: { kind: 'property' } });
    expect(bare("TRIM(LEADING 'x' FROM a.x)")).toMatchObject({ side: 'LEADING', character: { value: 'x' } });
    expect(bare('TRIM(TRAILING FROM a.x)')).toMatchObject({ side: 'TRAILING' });
    expect(bare("TRIM('x' FROM a.x)")).toMatchObject({ side: 'BOTH', character: { value: 'x' } });
    expect(bare('TRIM(a.x, 2)')).toMatchObject({ kind: 'call', name: 'TRIM' });
  });

  test('CAST and NORMALIZE', () => {
    expect(bare('CAST(a.x AS INT)')).toMatchObject({ kind: 'cast', type: 'INTEGER' });
    expect(bare('CAST(a.x AS LOCAL DATETIME)')).toMatchObject({ kind: 'cast', type: 'DATETIME' });
    expect(bare('NORMALIZE(a.x, nfkd)')).toMatchObject({
      arguments: [{}, { kind: 'string', value: 'NFKD' }],
    });
  });
});
