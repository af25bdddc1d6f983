import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { RULES } from '../../../src/gql/check/rules.ts';
import type { FunctionDefinition } from '../../../src/gql/expression/functions/define.ts';
import { withFunctions } from '../../../src/gql/expression/functions/define.ts';
import { STANDARD_FUNCTIONS } from '../../../src/gql/expression/functions/standard.ts';
import { expectProblems, expectValid, problemsOf } from './checking.ts';

const rules = (
  title: string,
  valid: readonly string[],
  wrong: readonly (readonly [string, ...string[]])[],
): void => {
  describe(title, () => {
    if (valid.length > 0) test.each(valid)('right: %s', (text) => expectValid(text));
    test.each(wrong)('wrong: %s', (text, ...expected) => expectProblems(text, expected));
  });
};

test('the list of rules cannot be changed, and every rule says what it enforces', () => {
  expect(Object.isFrozen(RULES)).toBe(true);
  const files = readdirSync(new URL('../../../src/gql/check/rules/', import.meta.url));
  expect(files).toHaveLength(RULES.length);
  for (const { sentence } of RULES) expect(sentence).toMatch(/^[A-Z].*\.$/);
});

rules(
  'a variable names one kind of thing',
  ['MATCH (a)-[e]->(b), (a)-[f]->(c) RETURN a', 'MATCH (a) MATCH (a)-[e]->(b) RETURN a'],
  [
    ['MATCH (a)-[a]->(b) RETURN b', 'variable-kind "a"'],
    ['MATCH a = (b)-[e]->(a) RETURN b', 'variable-kind "a"'],
    ['MATCH (a) MATCH ()-[a]->() RETURN 1 AS one', 'variable-kind "a"'],
    ['MATCH (a) WHERE EXISTS { ()-[a]->() } RETURN a', 'variable-kind "a"'],
  ],
);

rules(
  'names that two patterns share',
  [
    'MATCH (a)-[e]->(a) RETURN a',
    'MATCH ((a)-[e]->(b)-[f]->(a)){1,3}(c) RETURN c',
    'MATCH REPEATABLE ELEMENTS (a)-[e]->(b), (b)-[e]->(c) RETURN a',
    'MATCH (a)-[e]->(b) MATCH (c)-[e]->(d) RETURN a',
    'MATCH (a)((b)-[e]->(b))?(c) RETURN a',
  ],
  [
    ['MATCH (a)((a)-[e]->(b)){1,3}(c) RETURN c', 'variable-redeclared "a"'],
    ['MATCH (a)-[e]->{1,3}(b)-[e]->(c) RETURN c', 'variable-redeclared "e"'],
    ['MATCH (x)((a)->(b))?(c), (b)->(d) RETURN c', 'variable-redeclared "b"'],
    ['MATCH (a) MATCH ((a)->(b)){2}(c) RETURN c', 'variable-redeclared "a"'],
    ['MATCH (x)((a)->(b)){2}(c) MATCH (a) RETURN c', 'variable-redeclared "a"'],
    ['MATCH p = (a), p = (b) RETURN a', 'variable-redeclared "p"'],
    ['MATCH p = (a) MATCH p = (b) RETURN a', 'variable-redeclared "p"'],
    ['MATCH (a)-[e]->(b), (b)-[e]->(c) RETURN a', 'variable-redeclared "e"'],
  ],
);

rules(
  'quantifiers',
  [
    'MATCH (a)->{2,2}(b) RETURN a',
    'MATCH (a)->*(b) RETURN a',
    'MATCH REPEATABLE ELEMENTS TRAIL (a)->*(b) RETURN a',
    'MATCH REPEATABLE ELEMENTS (a)(ACYCLIC (b)->+(c))(d) RETURN a',
    'MATCH REPEATABLE ELEMENTS (a)->{1,4}(b) RETURN a',
    'MATCH (a)((b)->(c)(->(d))?){1,2}(e) RETURN a',
  ],
  [
    ['MATCH (a)->{3,1}(b) RETURN a', 'quantifier-bounds "->{3,1}"'],
    ['MATCH (a)->{0}(b) RETURN a', 'quantifier-bounds "->{0}"'],
    ['MATCH (a)->{,0}(b) RETURN a', 'quantifier-bounds "->{,0}"'],
    ['MATCH REPEATABLE ELEMENTS (a)->*(b) RETURN a', 'unbounded-quantifier "->*"'],
    ['MATCH REPEATABLE ELEMENTS WALK (a)->{2,}(b) RETURN a', 'unbounded-quantifier "->{2,}"'],
    ['MATCH (a)((b)){1,2}(c) RETURN a', 'quantified-path "((b)){1,2}"'],
    ['MATCH (a)((b)->?(c)){1,2}(d) RETURN a', 'quantified-path "((b)->?(c)){1,2}"'],
    ['MATCH (a)((b)->{1,2}(c)){1,2}(d) RETURN a', 'quantified-path "->{1,2}"'],
    ['MATCH (a) WHERE EXISTS { (a)->{2,1}(b) } RETURN a', 'quantifier-bounds "->{2,1}"'],
  ],
);

rules(
  'variables are declared',
  [
    'MATCH (a WHERE b.x = 1)->(b) RETURN a',
    'MATCH (a)->(b WHERE b.x > a.x) RETURN a',
    'MATCH (a) WHERE EXISTS { (a)->(b) WHERE b.x = a.x } RETURN a',
    'MATCH p = (a)->(b) WHERE PATH_LENGTH(p) = 1 RETURN p',
    'MATCH (a) RETURN a.x AS k ORDER BY k, a.y',
    'MATCH (a) RETURN a.x AS k, COUNT(*) AS n GROUP BY k',
    'MATCH (a) RETURN CASE a.x WHEN > 1 THEN 2 END AS c',
  ],
  [
    ['MATCH (a) WHERE b.x = 1 RETURN a', 'undeclared-variable "b"'],
    ['MATCH (a) WHERE EXISTS { (a)->(b) } RETURN b', 'undeclared-variable "b"'],
    ['MATCH (a) WHERE b.x = 1 MATCH (b) RETURN a', 'undeclared-variable "b"'],
    ['MATCH p = (a WHERE PATH_LENGTH(p) = 1)->(b) RETURN a', 'undeclared-variable "p"'],
    ['MATCH (a) RETURN COUNT(*) AS n GROUP BY c', 'undeclared-variable "c"'],
    ['MATCH (a) RETURN a.x AS k ORDER BY q', 'undeclared-variable "q"'],
    ['MATCH (a {x: b.y}) RETURN a', 'undeclared-variable "b"'],
    ['MATCH (a) WHERE SAME(a, c) RETURN a', 'undeclared-variable "c"'],
  ],
);

rules(
  'group variables',
  [
    'MATCH (a)-[e]->{1,3}(b) WHERE SUM(e.w) < 3 RETURN e, SIZE(e) AS n, AVG(e.w) AS mean',
    'MATCH (a)((b)-[e]->(c) WHERE e.w > 1 AND b.x < c.x){1,3}(d) RETURN b',
    'MATCH (a)-[e WHERE e.w > a.x]->{1,3}(b) RETURN a',
    'MATCH (x)(-[e]->(b))?(c) WHERE e.w > 1 RETURN e.w',
    'MATCH (a)-[e]->{1,3}(b) RETURN COUNT(e) AS edges, COUNT(*) AS paths',
    'MATCH (a)-[e]->{1,2}(b) WHERE MAX(e.w + a.x) > 2 RETURN a',
  ],
  [
    ['MATCH (a)-[e]->{1,3}(b) WHERE e.w > 1 RETURN a', 'group-variable "e"'],
    ['MATCH (a)((b)->(c)){1,3}(d) WHERE b IS LABELED X RETURN a', 'group-variable "b"'],
    ['MATCH (a)((b)->(c)){1,3}(d) WHERE SAME(a, b) RETURN a', 'group-variable "b"'],
    ['MATCH (a)((b)->(c)){1,3}(d) RETURN b.x', 'group-variable "b"'],
    ['MATCH (a)((b)-[e]->(c)){1,3}(d) RETURN SUM(b.x + c.x) AS s', 'aggregate-misplaced "SUM(b.x + c.x)"'],
  ],
);

rules(
  'predicates on elements',
  [
    'MATCH (a)-[e]->(b) WHERE a IS SOURCE OF e AND e IS DIRECTED AND e IS LABELED X AND PROPERTY_EXISTS(e, w) RETURN a',
  ],
  [
    ['MATCH (a)-[e]->(b) WHERE a IS DIRECTED RETURN a', 'element-expected "a"'],
    ['MATCH (a)-[e]->(b) WHERE e IS SOURCE OF a RETURN a', 'element-expected "e"', 'element-expected "a"'],
    ['MATCH p = (a)->(b) RETURN p.x', 'element-expected "p"'],
    ['MATCH p = (a)->(b) WHERE SAME(p, a) RETURN a', 'element-expected "p"'],
  ],
);

rules(
  'conditions inside quantified paths',
  [
    'MATCH (a)-[e WHERE SIZE(f) > 0]->{1,2}(b)-[f]->{1,2}(c) RETURN a',
    'MATCH p = (a)((q = (b)->(c)) WHERE PATH_LENGTH(q) = 1){1,2}(d) RETURN p',
  ],
  [
    [
      'MATCH (a)-[e WHERE SIZE(f) > 0]->{1,2}(b)-[f WHERE SIZE(e) > 0]->{1,2}(c) RETURN a',
      'quantified-path "f"',
      'quantified-path "e"',
    ],
    ['MATCH p = (a)-[e WHERE PATH_LENGTH(q) = 1]->{1,2}(b), q = (c)->(d) RETURN p', 'quantified-path "q"'],
    ['MATCH (a)(-[WHERE PATH_LENGTH(q) = 1]-> | <-)(b), q = (c)->(d) RETURN a', 'quantified-path "q"'],
    [
      'MATCH ((a)-[WHERE SIZE(e) > 0]->(c)|(a)<-(c))(-[e WHERE e.k = a.k]->){0,1}(d) RETURN a',
      'quantified-path "e"',
      'quantified-path "a"',
    ],
    [
      'MATCH ((a)-[WHERE b.k > 0]->()|(a)<-()), ((b)-[WHERE a.k > 0]->()|(b)<-()) RETURN a',
      'quantified-path "b"',
      'quantified-path "a"',
    ],
  ],
);

rules(
  'path search',
  [
    'MATCH ANY (a)->+(b) MATCH (b)->(c) RETURN a, c',
    'MATCH REPEATABLE ELEMENTS ANY SHORTEST (a)->*(b), (b)->(c) RETURN a, c',
    'MATCH REPEATABLE ELEMENTS ANY (a)->+(b WHERE EXISTS { (b)-[e]->{2,}(c) WHERE SIZE(e) > 2 }) RETURN a',
    'MATCH REPEATABLE ELEMENTS ANY (a)->+(b WHERE VALUE { MATCH (b)(TRAIL ->())(c) RETURN COUNT(*) } = 1) RETURN a',
  ],
  [
    ['MATCH ANY (a)->+(b), (b)->(c) RETURN a, c', 'path-search "ANY"'],
    ['MATCH REPEATABLE ELEMENTS ANY (a)->(m)->+(b), (m)->(c) RETURN a, c', 'path-search "m"'],
    ['MATCH (m) MATCH ANY (a)->(m)->+(b) RETURN a', 'path-search "m"'],
    ['MATCH REPEATABLE ELEMENTS ANY (a)->(m WHERE m.x = c.x)->(b), (c) RETURN a', 'path-search "c"'],
    ['MATCH REPEATABLE ELEMENTS ANY ((a)-[e]->+(b) WHERE SIZE(e) > 2) RETURN a', 'unbounded-quantifier "e"'],
    [
      'MATCH REPEATABLE ELEMENTS ANY ((a)-[e]->+(b) WHERE EXISTS { (b)->(c) WHERE SIZE(e) > 2 }) RETURN a',
      'unbounded-quantifier "e"',
    ],
    ['MATCH (x)((a)->|<-)(b), (a)->(c) RETURN b', 'variable-redeclared "a"'],
  ],
);

describe('names that the graph knows', () => {
  const vocabulary = {
    labels: ['Sensor', 'Board'],
    edgeLabels: ['ON', 'CONNECTS'],
    properties: ['mass', 'side'],
  };

  test('are taken from an optional vocabulary', () => {
    expectValid('MATCH (a:Foo {bar: 1})-[:BAZ]->(b) RETURN a');
    expectValid(
      'MATCH (a:Sensor|!Board {mass: 1})-[:ON]->(b:%) WHERE a.side = 1 AND b IS LABELED Board RETURN a',
      { vocabulary },
    );
  });

  test('are warned about, or refused on demand', () => {
    const text =
      'MATCH (a:Senosr&!Borad {mas: 1})-[e:IN]->(b) WHERE b.sdie = 1 AND PROPERTY_EXISTS(a, massive) AND e IS LABELED CONECTS RETURN a';
    expectProblems(
      text,
      [
        'unknown-label "Senosr"',
        'unknown-label "Borad"',
        'unknown-property "mas"',
        'unknown-edge-label "IN"',
        'unknown-property "sdie"',
        'unknown-property "massive"',
        'unknown-edge-label "CONECTS"',
      ],
      { vocabulary },
    );
    const problems = problemsOf(text, { vocabulary });
    expect(problems.map(({ near }) => near)).toEqual([
      ['Sensor'],
      ['Board'],
      ['mass'],
      ['ON'],
      ['side'],
      [],
      ['CONNECTS'],
    ]);
    expect(new Set(problems.map(({ severity }) => severity))).toEqual(new Set(['warning']));
    expect(problemsOf(text, { vocabulary, unknownNames: 'error' })[0]!.severity).toBe('error');
  });

  test('a label on the wrong side: the message says where it belongs', () => {
    const [one, two] = problemsOf('MATCH (a:ON)-[:Board]->(b) RETURN a', { vocabulary });
    expect(one!.message).toContain('It is an edge label');
    expect(two!.message).toContain('It is a node label');
  });
});

rules(
  'functions',
  ['MATCH (a) RETURN UPPER(a.x), COALESCE(a.x, a.y, 1), LEFT(a.x, 2), CURRENT_DATE, LTRIM(a.x)'],
  [
    ['MATCH (a) RETURN UPER(a.x)', 'unknown-function "UPER"'],
    ['MATCH (a) RETURN UPPER(a.x, 1)', 'argument-count "UPPER(a.x, 1)"'],
    ['MATCH (a) RETURN COALESCE()', 'argument-count "COALESCE()"'],
    ["MATCH (a) RETURN LTRIM(a.x, 'y', 2)", 'argument-count "LTRIM(a.x, \'y\', 2)"'],
  ],
);

test('extension functions are known when the table has them', () => {
  const definition: FunctionDefinition = {
    name: 'FURLONGS',
    parameters: [
      { name: 'from', type: 'node' },
      { name: 'to', type: 'node' },
    ],
    result: 'number',
    doc: 'Distance in furlongs.',
    fn: () => 1,
  };
  const functions = withFunctions(STANDARD_FUNCTIONS, [definition]);
  expectProblems('MATCH (a)->(b) WHERE FURLONGS(a, b) > 1 RETURN a', ['unknown-function "FURLONGS"']);
  expectValid('MATCH (a)->(b) WHERE furlongs(a, b) > 1 RETURN a', { functions });
  expectProblems('MATCH (a)-[e]->(b) WHERE FURLONGS(a, e) > 1 RETURN a', ['type-mismatch "e"'], {
    functions,
  });
  expect(() => withFunctions(STANDARD_FUNCTIONS, [{ ...definition, name: 'furlongs' }])).toThrow(
    'upper case',
  );
});

test('parameters have values, when values are given at all', () => {
  const text = 'MATCH (a {x: $sied}) WHERE EXISTS { (b {y: $other}) } RETURN a LIMIT $rows';
  expectValid(text);
  expectProblems(text, ['parameter-missing "$sied"', 'parameter-missing "$other"'], {
    parameters: { side: 1, rows: 5 },
  });
  expect(problemsOf(text, { parameters: { side: 1, rows: 5 } })[0]!.near).toEqual(['side']);
  for (const rows of [-1, 1.5, '5', null]) {
    expectProblems('MATCH (a) RETURN a LIMIT $rows', ['page "$rows"'], { parameters: { rows } });
  }
});

rules(
  'where aggregates are allowed',
  ['MATCH (a) RETURN COUNT(*) AS n ORDER BY COUNT(*)', 'MATCH (a) RETURN a.x AS x, SUM(a.y) AS s'],
  [
    ['MATCH (a) WHERE COUNT(*) > 1 RETURN a', 'aggregate-misplaced "COUNT(*)"'],
    ['MATCH (a {x: MAX(a.y)}) RETURN a', 'aggregate-misplaced "MAX(a.y)"'],
    ['MATCH (a) RETURN SUM(COUNT(a.x)) AS s', 'aggregate-misplaced "COUNT(a.x)"'],
    ['MATCH (a) RETURN EXISTS { (a)->(b) WHERE COUNT(*) > 1 } AS e', 'aggregate-misplaced "COUNT(*)"'],
  ],
);

rules(
  'grouping',
  [
    'MATCH (a)->(b) RETURN a, COUNT(*) AS n',
    'MATCH (a)->(b) RETURN a.x AS x, COUNT(*) + SUM(b.y) AS n',
    'MATCH (a)->(b) RETURN a.x AS x, a.x + COUNT(*) AS n',
    'MATCH (a)->(b) RETURN COUNT(*) AS n GROUP BY a',
    'MATCH (a)->(b) RETURN a.x AS x, COUNT(*) AS n GROUP BY x',
    'MATCH (a)->(b) RETURN a, a.y, COUNT(*) AS n GROUP BY a',
    'MATCH (a)->(b) RETURN a, COUNT(*) + CASE WHEN EXISTS { (a)->(c) } THEN 1 END AS n',
    'MATCH (a) RETURN a.x, COUNT(*) + CASE WHEN EXISTS { (b {k: a.x}) } THEN 1 END AS n',
    'MATCH (a)->(b) RETURN 1 AS one, COUNT(*) AS n GROUP BY ()',
    'MATCH (a)-[e]->{1,2}(b) RETURN a, SUM(e.w) AS s, COUNT(*) AS n',
  ],
  [
    ['MATCH (a)->(b) RETURN a.x AS x, b.y AS y, COUNT(*) AS n GROUP BY x', 'grouping "b"'],
    ['MATCH (a)->(b) RETURN a.x + COUNT(*) AS n', 'grouping "a"'],
    ['MATCH (a)->(b) RETURN a GROUP BY ()', 'grouping "a"'],
    ['MATCH (a)->(b) RETURN * GROUP BY a', 'grouping "RETURN * GROUP BY a"'],
    ['MATCH (a)->(b) RETURN COUNT(*) AS n GROUP BY n', 'grouping "COUNT(*)"'],
    // GROUP BY names the column a, which is b.
    ['MATCH (a)->(b) RETURN b AS a, a.x AS x, COUNT(*) AS n GROUP BY a', 'grouping "a"'],
    // A subquery is about the bindings of its row, too.
    ['MATCH (a) RETURN COUNT(*) + CASE WHEN EXISTS { (a)->() } THEN 1 END AS n', 'grouping "a"'],
    ['MATCH (a) RETURN COUNT(*) + CASE WHEN EXISTS { (b {k: a.x}) } THEN 1 END AS n', 'grouping "a"'],
  ],
);

rules(
  'columns',
  ['MATCH (a) RETURN *', 'MATCH (a) RETURN a.x, a.x AS x'],
  [
    ['MATCH (a) RETURN a.x, a.x', 'return-items "a.x"'],
    ['MATCH (a) RETURN a.x AS a, a', 'return-items "a"'],
    ['MATCH () RETURN *', 'return-items "RETURN *"'],
  ],
);

rules(
  'sort keys after DISTINCT and grouping',
  [
    'MATCH (a)->(b) RETURN a ORDER BY b.x',
    'MATCH (a)->(b) RETURN DISTINCT a.x ORDER BY a.x',
    'MATCH (a)->(b) RETURN DISTINCT a ORDER BY a.x',
    'MATCH (a)->(b) RETURN DISTINCT a.x AS k ORDER BY k',
    'MATCH (a)->(b) RETURN a.x AS k, COUNT(*) AS n ORDER BY n DESC, k, SUM(b.x)',
    'MATCH (a)->(b) RETURN COUNT(*) AS n GROUP BY a ORDER BY a.x',
    'MATCH (a)->(b) RETURN a.x AS k GROUP BY k ORDER BY MAX(b.x)',
    'MATCH (a)->(b) RETURN a.x AS k, COUNT(b) AS n ORDER BY k + COUNT(b), (a.x) + 1, count( b )',
    'MATCH (a)->(b) RETURN DISTINCT a.x + 1 AS k ORDER BY a.x + 1 + 2, k * 2',
    'MATCH (a)->(b) RETURN DISTINCT a AS c ORDER BY a.x, EXISTS { (c)->() }',
    'MATCH (a)->(b) RETURN DISTINCT a.x, COUNT(*) ORDER BY COUNT(*) DESC',
    'MATCH (a)-[e]->{1,2}(b) RETURN a ORDER BY SUM(e.w), COUNT(e)',
    'MATCH (a)-[e]->{1,2}(b) RETURN DISTINCT e AS c ORDER BY COUNT(c)',
  ],
  [
    ['MATCH (a)->(b) RETURN DISTINCT a ORDER BY b.x', 'sort-key "b"'],
    ['MATCH (a)->(b) RETURN a.x AS k, COUNT(*) AS n ORDER BY b.x', 'sort-key "b"'],
    // Beside an aggregate as well, and by whatever path.
    ['MATCH (a)->(b) RETURN COUNT(b) AS n ORDER BY a.x + COUNT(b)', 'sort-key "a"'],
    ['MATCH (a)->(b) RETURN COUNT(b) AS n ORDER BY n, CASE WHEN a.x > 1 THEN n END', 'sort-key "a"'],
    ['MATCH (a)->(b) RETURN COUNT(b) AS n ORDER BY a IS LABELED A', 'sort-key "a"'],
    ['MATCH (a)->(b) RETURN a.x AS k, COUNT(*) AS n ORDER BY a.X', 'sort-key "a"'],
    ['MATCH (a)->(b) RETURN DISTINCT a.x AS k ORDER BY EXISTS { (a)->({y: 1}) }', 'sort-key "a"'],
    ['MATCH (a)->(b) RETURN DISTINCT a.x AS k ORDER BY EXISTS { (c {y: b.x}) }', 'sort-key "b"'],
    ['MATCH (a)-[e]->{1,2}(b) RETURN a, COUNT(*) AS n ORDER BY SUM(e.w)', 'sort-key "e"'],
    [
      'MATCH (a) RETURN COUNT(*) AS n ORDER BY VALUE { MATCH (m) RETURN MAX(m.x + a.x) AS s }',
      'sort-key "a"',
    ],
    [
      'MATCH (a) RETURN DISTINCT a.y AS k ORDER BY VALUE { MATCH (m {x: a.x}) RETURN COUNT(*) AS s }',
      'sort-key "a"',
    ],
    ['MATCH (a)-[e]->{1,2}(b) RETURN DISTINCT a ORDER BY COUNT(e)', 'sort-key "e"'],
    // ORDER BY does not group, and an aggregate there runs over the rows that RETURN groups.
    ['MATCH (a) RETURN a.x ORDER BY MAX(a.y)', 'sort-key "MAX(a.y)"'],
    ['MATCH (a) RETURN * ORDER BY COUNT(*)', 'sort-key "COUNT(*)"'],
    ['MATCH (a) RETURN DISTINCT a.x ORDER BY 1 + MAX(a.y)', 'sort-key "MAX(a.y)"'],
    ['MATCH (a) RETURN DISTINCT COUNT(*) AS n GROUP BY a ORDER BY MAX(a.y)', 'sort-key "MAX(a.y)"'],
    ['MATCH (a) RETURN a.x AS k, COUNT(*) AS n ORDER BY MAX(n)', 'sort-key "n"'],
    ['MATCH (a) RETURN a.x AS k, COUNT(*) AS n ORDER BY SUM(k)', 'sort-key "k"'],
    // The name of a column that hides a variable.
    ['MATCH (a)->(b) RETURN b AS a, a.x AS k ORDER BY a.x', 'sort-key "a"'],
    ['MATCH (a) RETURN a.x AS a, COUNT(*) AS n ORDER BY MAX(a.y)', 'sort-key "a"'],
  ],
);

rules(
  'ORDER BY and LIMIT of queries that are combined',
  [
    'MATCH (a) RETURN a.x AS x UNION MATCH (a) RETURN a.y AS x NEXT RETURN * ORDER BY x LIMIT 3',
    'MATCH (a) RETURN a.x AS x LIMIT 2 UNION MATCH (a) RETURN a.y AS x LIMIT 3',
    'MATCH (a) RETURN a.x AS x OTHERWISE MATCH (a) RETURN a.y AS x ORDER BY x',
  ],
  [
    ['MATCH (a) RETURN a.x AS x UNION ALL MATCH (a) RETURN a.y AS x ORDER BY x', 'sort-key "x"'],
    ['MATCH (a) RETURN a.x AS x EXCEPT MATCH (a) RETURN a.y AS x LIMIT 5', 'page "5"'],
  ],
);

rules(
  'types that the text shows',
  [
    "MATCH (a) WHERE a.x = 'b' OR a.x = 1 OR $p < 2 RETURN a",
    "MATCH (a)-[e]->(b) WHERE a = b AND a <> b AND DATE '2024-01-01' < a.d RETURN a",
    "MATCH (a) RETURN DATE '2024-01-01' + DURATION 'P1Y' AS d, 'a' || a.x AS t, -a.x AS m",
    'MATCH (a) WHERE a.flag AND NOT a.other RETURN a',
    'MATCH (a) WHERE a.x IN a.list RETURN a',
  ],
  [
    ["MATCH (a) WHERE 1 = 'a' RETURN a", 'type-mismatch "1 = \'a\'"'],
    ['MATCH (a)-[e]->(b) WHERE a = e RETURN a', 'type-mismatch "a = e"'],
    ['MATCH (a)->(b) WHERE a < b RETURN a', 'type-mismatch "a < b"'],
    ["MATCH (a) WHERE a.x + 'b' = 1 RETURN a", 'type-mismatch "a.x + \'b\'"'],
    ['MATCH (a) RETURN a.x || 1', 'type-mismatch "a.x || 1"'],
    ["MATCH (a) RETURN -'a' AS m", 'type-mismatch "-\'a\'"'],
    ["MATCH (a) WHERE a.x IN 'b' RETURN a", 'type-mismatch "a.x IN \'b\'"'],
    ['MATCH (a) WHERE UPPER(1) = a.x RETURN a', 'type-mismatch "1"'],
    ['MATCH (a) WHERE a RETURN a', 'type-mismatch "a"'],
    ['MATCH (a) WHERE NOT 1 RETURN a', 'type-mismatch "1"'],
    ["MATCH (a) WHERE a.x = 1 AND 'b' RETURN a", 'type-mismatch "\'b\'"'],
    [
      "MATCH (a) WHERE DATE '2024-01-01' = CURRENT_TIMESTAMP RETURN a",
      'type-mismatch "DATE \'2024-01-01\' = CURRENT_TIMESTAMP"',
    ],
  ],
);

rules(
  'comparisons with NULL',
  ['MATCH (a) WHERE a.x IS NULL RETURN a'],
  [
    ['MATCH (a) WHERE a.x = NULL RETURN a', 'never-true "a.x = NULL"'],
    ['MATCH (a {x: NULL}) RETURN a', 'never-true "x: NULL"'],
    ['MATCH (a) RETURN CASE a.x WHEN NULL THEN 1 END AS c', 'never-true "NULL"'],
  ],
);

test('every pattern of the library passes', () => {
  const folder = new URL('../../../seed-data/patterns/', import.meta.url);
  const two = (name: string): FunctionDefinition => ({
    name,
    parameters: [
      { name: 'a', type: 'node' },
      { name: 'b', type: 'node' },
    ],
    result: 'number',
    doc: 'Stands in for the function of the wearables side.',
    fn: () => null,
  });
  const functions = withFunctions(
    STANDARD_FUNCTIONS,
    ['DISTANCE_MM', 'PLANE_DISTANCE_MM', 'GAP_MM', 'PLANE_GAP_MM'].map(two),
  );
  const texts = readdirSync(folder).flatMap((file) => {
    const { patterns } = parse(readFileSync(new URL(file, folder), 'utf8')) as {
      patterns: { text: string }[];
    };
    return patterns.map(({ text }) => text);
  });
  expect(texts.length).toBeGreaterThanOrEqual(24);
  for (const text of texts) expectValid(text, { functions });
});
