import { describe, expect, test } from 'vitest';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { describe as told } from '../../../src/gql/language/problem.ts';
import { errorsOf } from './parsing.ts';

const first = (text: string) => parsePattern(text).errors[0]!;

describe('an error has place, excerpt, what was expected and near names', () => {
  test('as people read it', () => {
    expect(told(first('MATCH (a)\nWHER a.x = 1\nRETURN a'))).toBe(
      [
        'Line 2, column 1: "WHER" is not allowed here. Did you mean "WHERE"? Expected WHERE, MATCH, OPTIONAL MATCH or RETURN.',
        'WHER a.x = 1',
        '^^^^',
      ].join('\n'),
    );
  });

  test.each([
    ['MTACH (a) RETURN a', 'syntax 1:1', ['MATCH']],
    ['MATCH (a) RETRUN a', 'syntax 1:11', ['RETURN']],
    ['MATCH (a) RETURN a ODER BY a', 'syntax 1:20', ['ORDER']],
  ])('misspelt keyword: %s', (text, place, near) => {
    expect(errorsOf(text)[0]).toBe(place);
    expect(first(text).near).toEqual(near);
  });

  test.each([
    ['', 'syntax 1:1'],
    ['MATCH (a', 'syntax 1:9'],
    ['MATCH (a)', 'syntax 1:10'],
    ['MATCH (a) RETURN', 'syntax 1:17'],
    ['MATCH (a) RETURN a b', 'syntax 1:20'],
    ['MATCH (a)-[:X]~(b) RETURN a', 'syntax 1:10'],
    ['MATCH (a)<~[:X]~>(b) RETURN a', 'syntax 1:10'],
    ['MATCH (a) - [:X]->(b) RETURN a', 'syntax 1:11'],
    ['MATCH (a){2} RETURN a', 'syntax 1:7'],
    ['MATCH (a)->{}(b) RETURN a', 'syntax 1:12'],
    ['MATCH (a)->{1.5}(b) RETURN a', 'quantifier-bounds 1:13'],
    ['MATCH (a)->{99999999}(b) RETURN a', 'quantifier-bounds 1:13'],
    ['MATCH (a {x: 1} WHERE a.y = 2) RETURN a', 'syntax 1:23'],
    ['MATCH (a {}) RETURN a', 'syntax 1:10'],
    ['MATCH (a) WHERE a.x IN (1, 2) RETURN a', 'syntax 1:24'],
    ['MATCH (a) WHERE a.x != 1 RETURN a', 'syntax 1:21'],
    ["MATCH (a) WHERE a.x = 'b RETURN a", 'unterminated 1:23'],
    ['MATCH (a) /* RETURN a', 'unterminated 1:11'],
    ['MATCH (a)--(b) RETURN a', 'comment-for-edge 1:10'],
    ['MATCH (a)-->(b) RETURN a', 'comment-for-edge 1:10'],
    ['MATCH (a) RETURN 12abc', 'bad-literal 1:18'],
    ['MATCH (a) RETURN 9007199254740993', 'bad-literal 1:18'],
    ['MATCH (a) RETURN 1e999', 'bad-literal 1:18'],
    ["MATCH (a) RETURN 'a\\q'", 'bad-literal 1:18'],
    ["MATCH (a) RETURN '\\ud800'", 'bad-literal 1:18'],
    ["MATCH (a) RETURN DATE '2023-02-29'", 'bad-literal 1:23'],
    ["MATCH (a) RETURN DURATION 'P1M2D'", 'bad-literal 1:27'],
    ["MATCH (a) RETURN FOO 'x'", 'syntax 1:18'],
    ['MATCH (``) RETURN 1 AS one', 'bad-literal 1:8'],
    ['MATCH (a) RETURN a # b', 'unexpected-character 1:20'],
    ['MATCH (a) RETURN SAME(a)', 'argument-count 1:18'],
    ['MATCH (a) RETURN UPPER(*)', 'argument-count 1:18'],
    ['MATCH (a) RETURN SUM(*)', 'argument-count 1:18'],
    ['MATCH (a) RETURN CASE WHEN 1, 2 THEN 3 END', 'syntax 1:23'],
    ['MATCH (a) RETURN CAST(a.x AS BLOB)', 'not-supported 1:30'],
    ['MATCH (a) RETURN a LIMIT 1.5', 'page 1:26'],
    ['MATCH (a) RETURN a.x = 1 = 2', 'syntax 1:26'],
  ])('%j', (text, place) => {
    expect(errorsOf(text)).toContain(place);
    expect(parsePattern(text).query).toBeUndefined();
  });

  test.each([
    ['MATCH SHORTEST 2 GROUPS (a)->*(b) RETURN a', 'ALL SHORTEST'],
    ['MATCH ANY 3 (a)->*(b) RETURN a', 'ANY SHORTEST'],
    ['MATCH (a) YIELD a RETURN a', 'name what you want'],
    ['CREATE (a)', 'only read'],
    ['MATCH (a) WITH a RETURN a', 'NEXT'],
    ['MATCH (a) HAVING a.x = 1 RETURN a', 'HAVING'],
    ["MATCH (a) WHERE a.x LIKE 'b%' RETURN a", 'LEFT(text, n)'],
  ])('what GQL has and the subset leaves out is named, with the fix: %s', (text, fix) => {
    expect(first(text).code).toBe('not-supported');
    expect(first(text).message).toContain(fix);
  });

  test.each([
    'MATCH (order) RETURN 1 AS one',
    'MATCH (a) RETURN group.x',
    'MATCH (a) RETURN SIZE(limit)',
    'MATCH (a) LET same = 1 RETURN a',
    'MATCH (a) LET b = 1, order = 2 RETURN a',
    'MATCH (a) FOR same IN [1] RETURN a',
  ])('a word of the language where a name belongs can be written in backticks: %s', (text) => {
    expect(first(text).message).toContain('write it in backticks: `');
  });

  test('several mistakes are reported together, in the order of the text', () => {
    const places = errorsOf("MATCH (a {}) WHERE a.x IN (1, 2) AND a.y = '\\q' RETURN 5x, a.z, 1_");
    expect(places).toEqual([
      'syntax 1:10',
      'syntax 1:27',
      'bad-literal 1:44',
      'bad-literal 1:56',
      'bad-literal 1:65',
    ]);
  });

  test('a place is reported once', () => {
    const { errors } = parsePattern('MATCH (a RETURN a');
    expect(new Set(errors.map(({ span }) => span.start)).size).toBe(errors.length);
  });
});

describe('bounds', () => {
  const nested = (open: string, close: string, inner: string, times: number): string =>
    open.repeat(times) + inner + close.repeat(times);

  test('nesting of every kind is cut off with a clear error, far before the stack ends', () => {
    const texts = [
      `MATCH (a) WHERE ${nested('(', ')', 'TRUE', 5000)} RETURN a`,
      `MATCH (a) RETURN ${nested('[', ']', '1', 5000)}`,
      `MATCH (a) RETURN ${nested('CASE WHEN TRUE THEN ', ' END', '1', 600)}`,
      `MATCH ${nested('(', ')', '(a)', 5000)} RETURN a`,
      `MATCH (a:${nested('!(', ')', 'B', 5000)}) RETURN a`,
      `MATCH (a) WHERE ${nested('EXISTS { (b WHERE ', ') }', 'TRUE', 500)} RETURN a`,
      `${'('.repeat(8_000)}`,
    ];
    for (const text of texts) {
      expect(errorsOf(text.slice(0, 8_192))[0]).toMatch(/^nested-too-deeply /);
    }
  });

  test('the deepest nesting that is allowed is read', () => {
    const depth = 18;
    const text = `MATCH (a) WHERE ${nested('EXISTS { (b WHERE ', ') }', 'CASE WHEN (a.x = 1) THEN TRUE END', depth)} RETURN a`;
    expect(errorsOf(text)).toEqual([]);
  });

  test('long chains are read up to a bound and refused beyond', () => {
    expect(errorsOf(`MATCH (a) RETURN 1${' + 1'.repeat(500)}`)).toEqual([]);
    expect(errorsOf(`MATCH (a) RETURN 1${' + 1'.repeat(1500)}`)).toEqual([
      expect.stringMatching(/^nested-too-deeply /),
    ]);
    expect(errorsOf(`MATCH (a) WHERE TRUE${' AND TRUE'.repeat(800)} RETURN a`)).toEqual([]);
  });

  test('long texts are refused without parsing', () => {
    expect(errorsOf(`MATCH (a) RETURN a ${' '.repeat(9_000)}`)).toEqual([
      expect.stringMatching(/^text-too-long /),
    ]);
  });

  test('the number of problems is bounded', () => {
    expect(parsePattern(`MATCH (a) RETURN ${'12abc, '.repeat(1000)} 1`).errors).toHaveLength(25);
    expect(parsePattern('#;'.repeat(4000)).errors.length).toBeLessThanOrEqual(25);
  });
});

describe('a mistake is told by what its writer meant', () => {
  test.each([
    ['MATCH (a)-/A/->(b) RETURN a', 'Simplified path patterns', '-[:LABEL]->'],
    ['MATCH (n) WHERE n.x IS NFC NORMALIZED RETURN n', 'IS NORMALIZED', 'NORMALIZE(text)'],
    ["MATCH (n) RETURN X'1F' AS b", 'Byte strings', 'not part'],
    ['MATCH (n) RETURN LET x = 1 IN x END AS y', 'LET … IN … END', 'a LET statement'],
    ['MATCH (n) RETURN PATH[n] AS p', 'PATH[…]', 'p = (a)->(b)'],
    ['SESSION SET TIME ZONE "utc"', 'Sessions', 'one query'],
    ['START TRANSACTION', 'transactions', 'one query'],
    ['MATCH (n) WHERE n.name IS "x" RETURN n', 'IS asks', 'equality is written ='],
    ['MATCH (n)-:R->(m) RETURN n', 'in brackets', '-[:LABEL]->'],
    ['MATCH (n) RETURN n.name n.age', 'between "name" and "n"', 'a comma'],
    ['MATCH (n) WHERE n.x = 1 n.y = 2 RETURN n', 'between "1" and "n"', 'an operator'],
    ['MATCH (n) WHERE n.x => 1 RETURN n', '">"', '>='],
    ['MATCH (n) WHERE n.x =< 1 RETURN n', '"<"', '<='],
    ['MATCH (n) WHERE n.x >< 1 RETURN n', '"<"', '<>'],
    ['MATCH (n) RETURN n.x; MATCH (m) RETURN m', 'one query', 'NEXT'],
    ['MATCH (n) GROUP BY n RETURN n', 'GROUP BY', 'behind the columns of RETURN'],
    ['MATCH (n) FOR x IN n.list WITH ORDINALITY RETURN x', '"RETURN"', 'Expected a name'],
    // A word of the language is not taken for a name where it is none.
    ['MATCH (n) WHERE RETURN n', '"RETURN"', 'Expected a value'],
    ['MATCH (n:Town RETURN n', '"RETURN"', 'Expected ":"'],
    ['LET x = 1', 'too early', 'Expected MATCH, OPTIONAL MATCH or RETURN'],
  ])('%s', (text, named, advice) => {
    const { errors } = parsePattern(text);
    expect(errors).toHaveLength(1);
    expect(told(errors[0]!)).toContain(named);
    expect(told(errors[0]!)).toContain(advice);
    expect(told(errors[0]!)).not.toContain('in backticks');
  });

  test('curly quotes', () => {
    expect(told(first('MATCH (n) WHERE n.name = ‘x’ RETURN n'))).toContain(`written in ' or "`);
  });
});
