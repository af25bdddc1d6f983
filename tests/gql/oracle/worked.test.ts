/**
 * Worked cases of what patterns mean, counted by hand from the words of ISO/IEC 39075:2024 (clause names from memory:
 * 16.4 <graph pattern> on match modes, 16.6 <path pattern prefix> on path modes, 16.7 <path pattern expression>, 16.11
 * <graph pattern quantifier>, 14.4 <match statement>, 14.11 <return statement>) and of A. Deutsch and others, "Graph
 * Pattern Matching in GQL and SQL/PGQ", SIGMOD 2022.
 */
import { describe, expect, test } from 'vitest';
import { ask, count, edges, rows } from './asking.ts';
import type { OracleGraph } from './graph.ts';

const node = (id: string, labels: readonly string[] = [], properties: Record<string, unknown> = {}) => ({
  id,
  labels,
  properties,
});

/** a → b → c → a, and c → d. */
const cycle: OracleGraph = {
  nodes: ['a', 'b', 'c', 'd'].map((id, i) => node(id, [], { x: i + 1 })),
  edges: edges('ab a->b', 'bc b->c', 'ca c->a', 'cd c->d'),
};

describe('label expressions (16.8)', () => {
  const graph: OracleGraph = {
    nodes: [
      node('none'),
      node('a', ['A']),
      node('b', ['B']),
      node('ab', ['A', 'B']),
      node('abc', ['A', 'B', 'C']),
    ],
    edges: [],
  };
  test.each([
    ['A', ['a', 'ab', 'abc']],
    ['A&B', ['ab', 'abc']],
    ['A|B', ['a', 'b', 'ab', 'abc']],
    ['!A', ['none', 'b']],
    ['%', ['a', 'b', 'ab', 'abc']],
    ['!%', ['none']],
    ['A&!C', ['a', 'ab']],
    ['A&(B|C)&!C', ['ab']],
    ['!(A&B)', ['none', 'a', 'b']],
    ['!A&!B', ['none']],
    ['C|!A', ['none', 'b', 'abc']],
    ['Z', []],
    ['!Z', ['none', 'a', 'b', 'ab', 'abc']],
  ])('%s', (labels, ids) => {
    expect(rows(graph, `MATCH (n:${labels}) RETURN n`).flat()).toEqual(ids);
    expect(rows(graph, `MATCH (n) WHERE n IS LABELED ${labels} RETURN n`).flat()).toEqual(ids);
  });
});

describe('directions (16.7)', () => {
  const graph: OracleGraph = {
    nodes: [node('a'), node('b')],
    edges: edges('d a->b', 'u a~b', 'loop a->a', 'ring b~b'),
  };
  // From node to node over each edge; a loop is one match whichever way it is walked.
  test.each([
    ['->', ['a d b', 'a loop a']],
    ['<-', ['a loop a', 'b d a']],
    ['~', ['a u b', 'b ring b', 'b u a']],
    ['<~', ['a loop a', 'a u b', 'b d a', 'b ring b', 'b u a']],
    ['~>', ['a d b', 'a loop a', 'a u b', 'b ring b', 'b u a']],
    ['<->', ['a d b', 'a loop a', 'b d a']],
    ['-', ['a d b', 'a loop a', 'a u b', 'b d a', 'b ring b', 'b u a']],
  ])('(x)%s(y)', (edge, expected) => {
    const full = edge.includes('~') ? edge.replace('~', '~[e]~') : edge.replace('-', '-[e]-');
    const found = rows(graph, `MATCH (x)${full}(y) RETURN x, e, y`).map((row) => row.join(' '));
    expect(found.sort()).toEqual([...expected].sort());
    expect(count(graph, `(x)${edge}(y)`)).toBe(expected.length);
  });
});

describe('match modes (16.4)', () => {
  const graph: OracleGraph = { nodes: [node('a'), node('b'), node('c')], edges: edges('ab a~b', 'bc b~c') };

  test('different edges: an edge is used once in a clause', () => {
    // Two edges at b, in either order.
    expect(count(graph, '(x)~(y)~(z)')).toBe(2);
    expect(count(graph, 'DIFFERENT EDGES (x)~(y), (y)~(z)')).toBe(2);
    // Elements may repeat: from a there and back, from c there and back, from b to either and back, and the two above.
    expect(count(graph, 'REPEATABLE ELEMENTS (x)~(y)~(z)')).toBe(6);
    expect(count(graph, 'REPEATABLE ELEMENTS (x)~(y), (y)~(z)')).toBe(6);
  });

  test('hold within one MATCH; the next one may use the same edges', () => {
    expect(rows(graph, 'MATCH (x)~(y) MATCH (y)~(z) RETURN COUNT(*) AS n')).toEqual([[6]]);
  });

  test('nodes may be the same unless distinct nodes are asked for', () => {
    const square: OracleGraph = { nodes: [node('a'), node('b')], edges: edges('one a->b', 'two a->b') };
    expect(count(square, '(x)->(y), (x)->(z)')).toBe(2);
    expect(count(square, '(x)->(y), (x)->(z)', { distinctNodes: true })).toBe(0);
    expect(count(square, '(x)->(y)<-(x)', { distinctNodes: true })).toBe(2);
  });
});

describe('path modes (16.6)', () => {
  test.each([
    // From a along the cycle: a, ab, abc, abca, abcd; then abcab has an edge twice.
    ['TRAIL (s WHERE s.x = 1)->*(t)', 5],
    // No node twice.
    ['ACYCLIC (s WHERE s.x = 1)->*(t)', 4],
    // No node twice but the first as the last.
    ['SIMPLE (s WHERE s.x = 1)->*(t)', 5],
    ['REPEATABLE ELEMENTS TRAIL (s WHERE s.x = 1)->*(t)', 5],
    ['REPEATABLE ELEMENTS WALK (s WHERE s.x = 1)->{0,6}(t)', 9],
    // From c: c, ca, cab, cabc, cd; cabcd repeats c, not an edge.
    ['TRAIL (s WHERE s.x = 3)->*(t)', 6],
    ['SIMPLE (s WHERE s.x = 3)->*(t)', 5],
    ['ACYCLIC (s WHERE s.x = 3)->*(t)', 4],
  ])('%s', (pattern, expected) => {
    expect(count(cycle, pattern)).toBe(expected);
  });

  test('a mode inside parentheses holds for that part alone', () => {
    // The inner part keeps its nodes apart, the whole may come back to where it began.
    expect(count(cycle, '(s WHERE s.x = 1)(ACYCLIC (u)->{2}(v))->(s)')).toBe(1);
    expect(count(cycle, 'ACYCLIC (s WHERE s.x = 1)((u)->{2}(v))->(s)')).toBe(0);
  });
});

describe('quantifiers (16.11)', () => {
  test.each([
    ['(s)->{2}(t)', 4],
    ['(s)->{1,2}(t)', 8],
    ['(s)->{,1}(t)', 8],
    ['(s)->?(t)', 8],
    ['(s WHERE s.x = 1)->{0,2}(t)', 3],
    ['(s)((u)->(v) WHERE u.x < v.x){2}(t)', 2],
    ['(s)((u)->(v)<-(w)){1,2}(t)', 0],
  ])('%s', (pattern, expected) => {
    expect(count(cycle, pattern)).toBe(expected);
  });

  test('zero repetitions leave both ends at one node, and lists empty', () => {
    expect(rows(cycle, 'MATCH (s WHERE s.x = 4)-[e]->{0,1}(t) RETURN s, t, e')).toEqual([['d', 'd', []]]);
  });

  test('neighbouring node patterns are one node, also across repetitions', () => {
    expect(rows(cycle, 'MATCH (s)((u)-[e]->(v)){2}(t WHERE t.x = 4) RETURN s, u, v, e, t')).toEqual([
      ['b', ['b', 'c'], ['c', 'd'], ['bc', 'cd'], 'd'],
    ]);
  });

  test('a variable that ? left out is null; inside a repetition it adds nothing', () => {
    expect(rows(cycle, 'MATCH (s WHERE s.x = 3)(->(t WHERE t.x = 4))? RETURN s, t')).toEqual([
      ['c', null],
      ['c', 'd'],
    ]);
    expect(rows(cycle, 'MATCH (s WHERE s.x = 2)(->(t)(->(u WHERE u.x = 4))?){1} RETURN t, u')).toEqual([
      [['c'], []],
      [['c'], ['d']],
    ]);
  });

  test('two ways to bind the same along the same path are one match', () => {
    // One edge in the first or in the second place that may be left out: the same path, nothing named.
    expect(count(cycle, '(s WHERE s.x = 4)<-?<-?(t)')).toBe(3);
    // Named, they are two.
    expect(count(cycle, '(s WHERE s.x = 4)<-[e]-?<-[f]-?(t)')).toBe(4);
  });

  test('conditions inside see their own repetition, and the pattern around', () => {
    expect(rows(cycle, 'MATCH (s WHERE s.x = 2)((u)->(v) WHERE v.x > s.x){1,3}(t) RETURN t.x')).toEqual([
      [3],
      [4],
    ]);
  });

  test('aggregates run along group variables (GE09)', () => {
    expect(
      rows(
        cycle,
        'MATCH (s WHERE s.x = 1)((u)->(v)){1,3}(t) WHERE SUM(v.x) > 4 RETURN t.x, SUM(v.x) AS sum, COUNT(u) AS steps ORDER BY sum',
      ),
    ).toEqual([
      [3, 5, 2],
      [1, 6, 3],
      [4, 9, 3],
    ]);
  });

  test('paths have a length and elements', () => {
    expect(
      rows(
        cycle,
        'MATCH p = (s WHERE s.x = 1)->{1,2}(t) RETURN PATH_LENGTH(p) AS n, ELEMENTS(p) AS parts ORDER BY n',
      ),
    ).toEqual([
      [1, ['a', 'ab', 'b']],
      [2, ['a', 'ab', 'b', 'bc', 'c']],
    ]);
    expect(rows(cycle, 'MATCH (s WHERE s.x = 1)(q = (u)->(v)->(w))(t) RETURN q')).toEqual([
      [['a', 'ab', 'b', 'bc', 'c']],
    ]);
  });
});

describe('non-local conditions (G041, G051)', () => {
  test('see variables that come later', () => {
    expect(rows(cycle, 'MATCH (s WHERE s.x > t.x)->(t) RETURN s, t')).toEqual([['c', 'a']]);
    expect(rows(cycle, 'MATCH (s {x: t.x}), (t WHERE t.x < 2) RETURN s, t')).toEqual([['a', 'a']]);
  });
});

describe('OPTIONAL MATCH and EXISTS (14.4, 19.4)', () => {
  test('what does not match is null, also for lists and paths', () => {
    expect(
      rows(cycle, 'MATCH (s WHERE s.x >= 3) OPTIONAL MATCH p = (s)-[e]->{2}(t) RETURN s, t, e, p'),
    ).toEqual([
      ['c', 'b', ['ca', 'ab'], ['c', 'ca', 'a', 'ab', 'b']],
      ['d', null, null, null],
    ]);
  });

  test('the condition belongs to the optional part', () => {
    expect(
      rows(cycle, 'MATCH (s) OPTIONAL MATCH (s)->(t) WHERE t.x = 4 RETURN s.x, t.x ORDER BY s.x'),
    ).toEqual([
      [1, null],
      [2, null],
      [3, 4],
      [4, null],
    ]);
  });

  test('a block of several MATCH is there completely or not at all', () => {
    const text = (inner: string): string => `MATCH (s WHERE s.x = 3) ${inner} RETURN s.x, t.x, u.x`;
    expect(rows(cycle, text('OPTIONAL { MATCH (s)->(t WHERE t.x = 4) MATCH (t)->(u) }'))).toEqual([
      [3, null, null],
    ]);
    expect(rows(cycle, text('OPTIONAL MATCH (s)->(t WHERE t.x = 4) OPTIONAL MATCH (t)->(u)'))).toEqual([
      [3, 4, null],
    ]);
  });

  test('a null element matches nothing afterwards', () => {
    expect(rows(cycle, 'MATCH (s WHERE s.x = 4) OPTIONAL MATCH (s)->(t) MATCH (t)->(u) RETURN s')).toEqual(
      [],
    );
  });

  test('EXISTS sees the variables around it and none leave it', () => {
    expect(rows(cycle, 'MATCH (s) WHERE NOT EXISTS { (s)->() } RETURN s')).toEqual([['d']]);
    expect(rows(cycle, 'MATCH (s) WHERE EXISTS { MATCH (s)->(t) WHERE t.x < s.x } RETURN s')).toEqual([
      ['c'],
    ]);
    expect(
      rows(cycle, 'MATCH (s) RETURN s.x, EXISTS { (s)->()->(s) } AS two, EXISTS { (s)->{3}(s) } AS three'),
    ).toEqual([
      [1, false, true],
      [2, false, true],
      [3, false, true],
      [4, false, false],
    ]);
  });
});

describe('RETURN (14.11), ORDER BY (16.17)', () => {
  const people: OracleGraph = {
    nodes: [
      node('p1', [], { team: 'red', age: 30 }),
      node('p2', [], { team: 'red', age: 40 }),
      node('p3', [], { team: 'blue', age: 20 }),
      node('p4', [], { team: 'blue' }),
      node('p5', [], { age: 50 }),
    ],
    edges: [],
  };

  test('items without aggregates are the grouping keys; null is a key like any other', () => {
    expect(
      rows(people, 'MATCH (p) RETURN p.team AS team, COUNT(*) AS n, SUM(p.age) AS s ORDER BY team'),
    ).toEqual([
      ['blue', 2, 20],
      ['red', 2, 70],
      [null, 1, 50],
    ]);
  });

  test('GROUP BY names columns or variables', () => {
    expect(rows(people, 'MATCH (p) RETURN p.team AS team, MAX(p.age) AS m GROUP BY team ORDER BY m')).toEqual(
      [
        ['blue', 20],
        ['red', 40],
        [null, 50],
      ],
    );
    expect(
      rows(people, 'MATCH (p WHERE p.age > 35) RETURN p.age AS age, COUNT(*) AS n GROUP BY p ORDER BY age'),
    ).toEqual([
      [40, 1],
      [50, 1],
    ]);
  });

  test('without keys there is one group, also of no rows', () => {
    expect(rows(people, 'MATCH (p:Nobody) RETURN COUNT(*) AS n, MIN(p.age) AS m')).toEqual([[0, null]]);
    expect(rows(people, 'MATCH (p:Nobody) RETURN p.team AS t, COUNT(*) AS n')).toEqual([]);
    expect(rows(people, 'MATCH (p) RETURN COUNT(p.age) AS n GROUP BY ()')).toEqual([[4]]);
  });

  test('DISTINCT takes nulls for equal', () => {
    expect(rows(people, 'MATCH (p), (q) RETURN DISTINCT p.team AS t ORDER BY t DESC')).toEqual([
      [null],
      ['red'],
      ['blue'],
    ]);
  });

  test.each([
    ['p.age', [20, 30, 40, 50, null]],
    ['p.age DESC', [null, 50, 40, 30, 20]],
    ['p.age NULLS FIRST', [null, 20, 30, 40, 50]],
    ['p.age DESC NULLS LAST', [50, 40, 30, 20, null]],
  ])('ORDER BY %s', (order, expected) => {
    expect(rows(people, `MATCH (p) RETURN p.age ORDER BY ${order}`).flat()).toEqual(expected);
  });

  test('OFFSET and LIMIT, also by parameter', () => {
    expect(rows(people, 'MATCH (p) RETURN p.age ORDER BY p.age OFFSET 1 LIMIT 2').flat()).toEqual([30, 40]);
    expect(rows(people, 'MATCH (p) RETURN p.age ORDER BY p.age LIMIT $n', { n: 0 })).toEqual([]);
  });

  test('sorting by an aggregate, by a discarded variable, by a column', () => {
    expect(rows(people, 'MATCH (p) RETURN p.team AS t ORDER BY p.age, t').flat()).toEqual([
      'blue',
      'red',
      'red',
      null,
      'blue',
    ]);
    expect(rows(people, 'MATCH (p) RETURN p.team AS t GROUP BY t ORDER BY SUM(p.age) DESC').flat()).toEqual([
      'red',
      null,
      'blue',
    ]);
  });

  test('columns are named by alias, variable or text', () => {
    expect(ask(people, 'MATCH (p) RETURN p, p.age+1, p.team AS t').columns).toEqual(['p', 'p.age + 1', 't']);
    expect(ask(cycle, 'MATCH q = (s)-[e]->(t) RETURN *').columns).toEqual(['q', 's', 'e', 't']);
  });
});
