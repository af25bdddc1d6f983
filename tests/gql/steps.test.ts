/**
 * Statements among MATCH and after RETURN, worked by hand from ISO/IEC 39075:2024, clause 14 (from memory; productions after the
 * published grammar, opengql/grammar, GQL.g4). Named by the ids of features in CONFORMANCE.md.
 */
import { describe, expect, test } from 'vitest';
import {
  buildGraph,
  countBySegment,
  countPattern,
  explainPattern,
  nearMatches,
  PatternGraph,
  runPattern,
} from '../../src/gql/gql.ts';
import { comparedRows } from './oracle/compared.ts';
import type { SmallGraph } from './random-query.ts';

const node = (id: string, label: string, k: number) => ({ id, labels: [label], properties: { k } });
const edge = (id: string, source: string, target: string) => ({
  id,
  source,
  target,
  label: 'ROAD',
  directed: true,
  properties: {},
});

/** ash → birch → cedar, ash → cedar, cedar → dale. */
const TOWNS: SmallGraph = {
  nodes: [
    node('ash', 'Town', 1),
    node('birch', 'Town', 2),
    node('cedar', 'City', 3),
    node('dale', 'City', 4),
  ],
  edges: [
    edge('e1', 'ash', 'birch'),
    edge('e2', 'birch', 'cedar'),
    edge('e3', 'ash', 'cedar'),
    edge('e4', 'cedar', 'dale'),
  ],
};

const graph = buildGraph(TOWNS.nodes, TOWNS.edges);

/** Rows with nodes as their ids, in their order; the naive evaluation has the same. */
async function rows(text: string): Promise<unknown[][]> {
  await comparedRows(TOWNS, text, false);
  const answer = await runPattern(graph, text);
  expect(answer.complete).toBe(true);
  return answer.rows.map((row) => row.map(plain));
}

function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  return typeof value === 'object' && value !== null && 'id' in value ? value.id : value;
}

const sorted = async (text: string) => (await rows(text)).map((row) => row.join(' ')).sort();

describe('GQ09 LET', () => {
  test('a value by name, which later definitions and clauses read', async () => {
    const text = 'MATCH (a:Town)->(b) LET sum = a.k + b.k, twice = 2 * sum RETURN a, b, sum, twice';
    expect(await sorted(text)).toEqual(['ash birch 3 6', 'ash cedar 4 8', 'birch cedar 5 10']);
    expect(await rows('LET VALUE x = [1, 2] RETURN SIZE(x) AS n')).toEqual([[2]]);
  });

  test('a node by another name is a node that patterns go on from', async () => {
    const text = 'MATCH (a:Town) LET b = a MATCH (b)->(c:City) RETURN a, c';
    expect(await sorted(text)).toEqual(['ash cedar', 'birch cedar']);
    const either =
      'MATCH (a:Town) OPTIONAL MATCH (a)->(t:Town) LET b = COALESCE(t, a) MATCH (b)->(c:City) RETURN a, c';
    expect(await sorted(either)).toEqual(['ash cedar', 'birch cedar']);
  });

  test('a name has one meaning, and there are no rows to aggregate yet', async () => {
    await expect(runPattern(graph, 'MATCH (a) LET a = 1 RETURN a')).rejects.toThrow(
      /"a" has a meaning already/u,
    );
    await expect(runPattern(graph, 'MATCH (a) LET n = COUNT(*) RETURN n')).rejects.toThrow(/counts rows/u);
    await expect(runPattern(graph, 'MATCH (a) LET n = 1 MATCH (n) RETURN n')).rejects.toThrow(
      /is a value already/u,
    );
  });

  test('a value that doubles again and again ends at a bound, and says so', async () => {
    const lists = Array.from({ length: 40 }, (_, i) => `LET l${i + 1} = [l${i}, l${i}]`).join(' ');
    const { complete, shortage } = await runPattern(graph, `LET l0 = [1, 2] ${lists} RETURN l40`);
    expect([complete, shortage]).toEqual([false, 'memory']);
    const texts = Array.from({ length: 40 }, (_, i) => `LET t${i + 1} = t${i} || t${i}`).join(' ');
    expect((await runPattern(graph, `LET t0 = 'ab' ${texts} RETURN t40`)).rows).toEqual([[null]]);
  });
});

describe('GQ08 FILTER', () => {
  test('leaves the rows of which the condition is true, not those of which it is unknown', async () => {
    expect(await sorted('MATCH (a) FILTER a.k > 1 AND a IS LABELED Town RETURN a')).toEqual(['birch']);
    expect(await sorted('MATCH (a) FILTER WHERE a.missing > 1 RETURN a')).toEqual([]);
    expect(await sorted('MATCH (a) FILTER NOT (a.missing > 1) RETURN a')).toEqual([]);
  });

  test('behind OPTIONAL MATCH it takes rows away, where WHERE inside leaves null', async () => {
    const pattern = 'MATCH (a:Town) OPTIONAL MATCH (a)->(b:Town)';
    expect(await rows(`${pattern} FILTER b.k = 2 RETURN a, b`)).toEqual([['ash', 'birch']]);
    expect(await rows(`${pattern} FILTER b IS NULL RETURN a, b`)).toEqual([['birch', null]]);
    expect(await rows(`${pattern} WHERE b.k = 9 FILTER a.k = 1 RETURN a, b`)).toEqual([['ash', null]]);
  });

  test('is tested where WHERE is: the search looks at no more', async () => {
    const nodes = Array.from({ length: 500 }, (_, i) => ({ ...node(`n${i}`, 'Town', i) }));
    const edges = nodes.slice(1).map(({ id }, i) => edge(`r${i}`, `n${i}`, id));
    const large = buildGraph(nodes, edges);
    const steps = async (text: string) =>
      (await explainPattern(large, text)).matches[0]!.steps.map(({ real }) => real);
    const where = await steps('MATCH (a)->(b)->(c) WHERE a.k < 3 MATCH (c)->(d) RETURN d');
    expect(
      await steps('MATCH (a)->(b)->(c) MATCH (c)->(d) LET n = d.k FILTER n > 0 AND a.k < 3 RETURN d'),
    ).toEqual(where);
  });

  test('near matches name the condition that stands in the way', async () => {
    const segments = new PatternGraph();
    segments.putSegment('one', { nodes: TOWNS.nodes.slice(0, 2), edges: TOWNS.edges.slice(0, 1) });
    for (const text of [
      'MATCH (a:Town)->(b:Town) FILTER b.k > 7 RETURN a',
      'MATCH (a:Town)->(b:Town) LET n = b.k FILTER n > 7 RETURN a',
    ]) {
      const { matches } = await nearMatches(segments, text);
      const [removed] = matches.flatMap(({ missing }) => missing.map((one) => one.removed));
      expect([removed?.kind, text.slice(removed!.span.start, removed!.span.end)]).toEqual([
        'condition',
        text.includes('LET') ? 'n > 7' : 'b.k > 7',
      ]);
    }
  });

  test('counts are of the rows that are left', async () => {
    expect((await countPattern(graph, 'MATCH (a)->(b) LET s = a.k + b.k FILTER s > 4 RETURN a')).count).toBe(
      2,
    );
    expect(await rows('MATCH (a)->(b) FILTER a.k + b.k > 4 RETURN COUNT(*) AS n')).toEqual([[2]]);
  });
});

describe('GQ20 NEXT', () => {
  test('goes on from the rows of RETURN, grouped as it says; nodes stay nodes', async () => {
    const text =
      'MATCH (a)->(b) RETURN a, COUNT(*) AS n NEXT FILTER n > 1 MATCH (a)->(c:City) RETURN a, n, c';
    expect(await rows(text)).toEqual([['ash', 2, 'cedar']]);
    const plainly =
      'MATCH (a:Town)->(b:Town) RETURN b AS town, a.k AS k NEXT MATCH (town)->(c) RETURN town, k, c';
    expect(await rows(plainly)).toEqual([['birch', 1, 'cedar']]);
  });

  test('hands on nothing but the columns: a name that is not among them is free', async () => {
    await expect(runPattern(graph, 'MATCH (a)->(b) RETURN a NEXT RETURN b')).rejects.toThrow(
      /"b" ends with the query that declares it/u,
    );
    expect(await sorted('MATCH (a:Town)->(b:Town) RETURN a NEXT MATCH (a)->(b:City) RETURN a, b')).toEqual([
      'ash cedar',
    ]);
  });

  test('aggregates of the rows of the step before', async () => {
    const text =
      'MATCH (a)->(b) RETURN a, COUNT(*) AS n NEXT RETURN MAX(n) AS most, COUNT(*) AS towns NEXT RETURN most + towns AS s';
    expect(await rows(text)).toEqual([[5]]);
    expect(await rows('MATCH (a:Nowhere) RETURN a NEXT RETURN COUNT(*) AS n')).toEqual([[0]]);
    expect(await rows('MATCH (a) RETURN COUNT(*) AS n NEXT MATCH (a:City) WHERE a.k >= n RETURN a')).toEqual([
      ['dale'],
    ]);
  });

  test('sorted and cut rows go on, and equal ones once', async () => {
    const text = 'MATCH (a) RETURN a ORDER BY a.k DESC LIMIT 2 NEXT MATCH (a)<-(b) RETURN a, b';
    expect(await sorted(text)).toEqual(['cedar ash', 'cedar birch', 'dale cedar']);
    const once = 'MATCH (a)->(b) RETURN DISTINCT b NEXT RETURN COUNT(*) AS n';
    expect(await rows(once)).toEqual([[3]]);
  });

  test('a null that is handed on matches nothing, as behind OPTIONAL MATCH', async () => {
    const text =
      'MATCH (a:Town) OPTIONAL MATCH (a)->(b:Town) RETURN DISTINCT a, b NEXT MATCH (b)->(c) RETURN a, c';
    expect(await rows(text)).toEqual([['ash', 'cedar']]);
  });

  test('lists of nodes are walked again, and paths and group variables are values', async () => {
    const text =
      'MATCH (a:City) RETURN COLLECT_LIST(a) AS cities NEXT FOR c IN cities MATCH (b)->(c) RETURN c, COUNT(*) AS n';
    expect(await sorted(text)).toEqual(['cedar 2', 'dale 1']);
    const along = 'MATCH p = (a:Town)->{2}(b:City) RETURN p, a, b NEXT RETURN PATH_LENGTH(p) AS n, a, b';
    expect(await sorted(along)).toEqual(['2 ash cedar', '2 ash dale', '2 birch dale']);
    const group = 'MATCH (a:Town)(()->(x)){2}(b:City) RETURN x NEXT FOR n IN x MATCH (n:Town) RETURN n';
    expect(await rows(group)).toEqual([['birch']]);
  });

  test('runs on a worker thread as on the calling one', async () => {
    const text =
      'MATCH (a)->(b) RETURN a, COUNT(*) AS n NEXT MATCH (a)->(c) RETURN a, n, c ORDER BY a.k, c.k UNION ALL MATCH (a:Nowhere) RETURN a, 1 AS n, a AS c';
    const here = await runPattern(graph, text, { where: 'here' });
    const there = await runPattern(graph, text, { where: 'workers' });
    expect(there.where).toBe('workers');
    expect(there.rows).toEqual(here.rows);
    expect(here.rows.length).toBe(4);
  });

  test('rows that are kept between statements are within the memory budget, and what is cut short says so', async () => {
    const text =
      'FOR a IN [1, 2, 3, 4, 5, 6, 7, 8, 9, 10] FOR b IN [1, 2, 3, 4, 5, 6, 7, 8, 9, 10] FOR c IN [1, 2, 3, 4, 5, 6, 7, 8, 9, 10] RETURN a, b, c';
    const whole = `${text} NEXT RETURN a UNION ALL RETURN b AS a NEXT RETURN COUNT(*) AS n`;
    expect((await runPattern(graph, whole)).rows).toEqual([[2000]]);
    const cut = await runPattern(graph, whole, { budgets: { memory: 20_000 } });
    expect([cut.complete, cut.shortage]).toEqual([false, 'memory']);
    const page = await runPattern(graph, `${text} NEXT ORDER BY c FILTER a = b RETURN c`, {
      budgets: { memory: 20_000 },
    });
    expect([page.complete, page.shortage]).toEqual([false, 'memory']);
    const steps = await runPattern(graph, `${text} NEXT FILTER a + b + c < 0 RETURN a`, {
      budgets: { steps: 500 },
    });
    expect([steps.complete, steps.shortage]).toEqual([false, 'steps']);
  });

  test('segment by segment, a step that groups or cuts is refused', async () => {
    const segments = new PatternGraph();
    segments.putSegment('one', { nodes: TOWNS.nodes, edges: TOWNS.edges });
    const asked = async (text: string) => (await countBySegment(segments, text)).counts;
    expect([...(await asked('MATCH (a:Town) RETURN a AS t NEXT MATCH (t)->(c:City) RETURN c'))]).toEqual([
      ['one', 2],
    ]);
    for (const text of [
      'MATCH (a) RETURN a LIMIT 1 NEXT RETURN a',
      'MATCH (a) LIMIT 1 RETURN a',
      'MATCH (a) RETURN a UNION MATCH (a) RETURN a',
    ])
      await expect(asked(text)).rejects.toThrow(/no probability|no common probability/u);
  });
});

describe('conjunctions of queries', () => {
  const all = 'MATCH (a) RETURN a.k AS k';
  const doubled = 'FOR k IN [1, 1, 9] RETURN k';
  const sums = async (conjunction: string, left: string, right: string) =>
    (await rows(`${left} ${conjunction} ${right}`)).flat().sort();

  test('GQ03 UNION: of both, equal rows once; ALL keeps them', async () => {
    expect(await sums('UNION', all, doubled)).toEqual([1, 2, 3, 4, 9]);
    expect(await sums('UNION DISTINCT', doubled, doubled)).toEqual([1, 9]);
    expect(await sums('UNION ALL', all, doubled)).toEqual([1, 1, 1, 2, 3, 4, 9]);
  });

  test('GQ04 EXCEPT DISTINCT: of the first, not the second', async () => {
    expect(await sums('EXCEPT', doubled, all)).toEqual([9]);
    expect(await sums('EXCEPT DISTINCT', all, doubled)).toEqual([2, 3, 4]);
  });

  test('GQ05 EXCEPT ALL: as many less as the second has', async () => {
    expect(await sums('EXCEPT ALL', doubled, all)).toEqual([1, 9]);
  });

  test('GQ06 INTERSECT DISTINCT: of both', async () => {
    expect(await sums('INTERSECT', doubled, all)).toEqual([1]);
  });

  test('GQ07 INTERSECT ALL: as many as both have', async () => {
    expect(await sums('INTERSECT ALL', doubled, doubled)).toEqual([1, 1, 9]);
    expect(await sums('INTERSECT ALL', doubled, all)).toEqual([1]);
  });

  test('GQ02 OTHERWISE: the second when the first has none', async () => {
    expect(await sums('OTHERWISE', 'MATCH (a:Nowhere) RETURN a.k AS k', doubled)).toEqual([1, 1, 9]);
    expect(await sums('OTHERWISE', all, doubled)).toEqual([1, 2, 3, 4]);
  });

  test('from left to right, columns by name, and all from the rows of the step before', async () => {
    expect(await rows("RETURN 1 AS a, 'x' AS b UNION ALL RETURN 'y' AS b, 2 AS a")).toEqual([
      [1, 'x'],
      [2, 'y'],
    ]);
    expect(await rows(`${doubled} EXCEPT ${doubled} UNION ALL RETURN 7 AS k`)).toEqual([[7]]);
    const text =
      'MATCH (a:Town) RETURN a NEXT MATCH (a)->(b:Town) RETURN b UNION ALL MATCH (a)->(b:City) RETURN b NEXT RETURN b, COUNT(*) AS n';
    expect(await sorted(text)).toEqual(['birch 1', 'cedar 2']);
    const none = 'MATCH (a:Nowhere) RETURN a NEXT MATCH (a)->(b) RETURN b OTHERWISE MATCH (b:City) RETURN b';
    expect(await rows(none)).toEqual([]);
  });

  test('columns of other names are refused', async () => {
    await expect(runPattern(graph, 'RETURN 1 AS a UNION RETURN 1 AS b')).rejects.toThrow(
      /columns before UNION are "a", here they are "b"/u,
    );
  });
});

describe('GQ10 FOR', () => {
  test('a row for each item, in their order; what is no list has none', async () => {
    expect(await rows('FOR x IN [3, 1, NULL] RETURN x')).toEqual([[3], [1], [null]]);
    expect(await rows('FOR x IN NULL RETURN x')).toEqual([]);
    expect(await rows("FOR x IN 'abc' || 'd' RETURN x")).toEqual([]);
    expect(await sorted('MATCH (a:Town) FOR x IN [a.k, 7] FOR y IN [x] RETURN a, y')).toEqual([
      'ash 1',
      'ash 7',
      'birch 2',
      'birch 7',
    ]);
  });

  test('GQ11 WITH ORDINALITY counts from 1, GQ24 WITH OFFSET from 0', async () => {
    expect(await rows("FOR x IN ['a', 'b'] WITH ORDINALITY i RETURN x, i")).toEqual([
      ['a', 1],
      ['b', 2],
    ]);
    expect(await rows("FOR x IN ['a', 'b'] WITH OFFSET i RETURN x, i")).toEqual([
      ['a', 0],
      ['b', 1],
    ]);
  });

  test('nodes of a path are nodes that patterns go on from', async () => {
    const text =
      'MATCH (a:Town)(()->(x)){1,2}(b:City) FOR n IN x FILTER n:City MATCH (n)->(d) RETURN a, n, d';
    expect(await sorted(text)).toEqual([
      ...['ash cedar dale', 'ash cedar dale', 'ash cedar dale'],
      ...['birch cedar dale', 'birch cedar dale'],
    ]);
  });
});

test('14.9 GQ12 GQ13 ORDER BY, OFFSET and LIMIT between other statements', async () => {
  expect(await rows('MATCH (a) ORDER BY a.k DESC OFFSET 1 LIMIT 2 MATCH (a)->(b) RETURN a, b')).toEqual([
    ['cedar', 'dale'],
    ['birch', 'cedar'],
  ]);
  expect(await rows('FOR x IN [4, 2, 3] LIMIT 2 RETURN COUNT(*) AS n, SUM(x) AS s')).toEqual([[2, 6]]);
  expect(await rows('FOR x IN [1, 2, 3] OFFSET 1 FILTER x <> 3 RETURN x')).toEqual([[2]]);
  expect(await rows('FOR x IN [1, 2, 3] LIMIT 0 RETURN COUNT(*) AS n')).toEqual([[0]]);
  const group =
    'MATCH (a:Town)-[e:ROAD]->{1,2}(b) ORDER BY SIZE(e) DESC, b.k DESC LIMIT 1 RETURN COUNT(e) AS n, b';
  expect(await rows(group)).toEqual([[2, 'dale']]);
});

describe('GV45 GV48 records', () => {
  test('are made of values, with RECORD or without, and read by their fields', async () => {
    expect(await rows('RETURN {a: 1, b: [2, {c: 3}]} AS r, RECORD {} AS none')).toEqual([
      [{ a: 1, b: [2, { c: 3 }] }, {}],
    ]);
    expect(
      await rows(
        'MATCH (a:Town)->(b:Town) LET r = {from: a, sum: a.k + b.k} RETURN r.from AS f, r.sum AS s, r.missing AS m',
      ),
    ).toEqual([['ash', 3, null]]);
    expect(await rows("RETURN {d: DATE '2024-01-01'}.d < DATE '2024-02-01' AS is_before")).toEqual([[true]]);
  });

  test('are equal when their fields are, in any order', async () => {
    const text =
      'RETURN {a: 1, b: 2} = {b: 2, a: 1} AS x, {a: 1} = {a: 2} AS y, {a: 1} = {b: 1} AS z, {a: NULL} = {a: 1} AS u';
    expect(await rows(text)).toEqual([[true, false, false, null]]);
    const counted = await rows('MATCH (a) RETURN DISTINCT {town: a:Town} AS r, COUNT(*) AS n');
    expect(new Set(counted)).toEqual(
      new Set([
        [{ town: true }, 2],
        [{ town: false }, 2],
      ]),
    );
  });

  test('hold nodes, which come back as nodes; names in them are not those of properties', async () => {
    const vocabulary = { properties: ['k'], labels: ['Town', 'City'], edgeLabels: ['ROAD'] };
    const text = 'MATCH (a:Town) LET r = {n: a} FILTER r.n.k > 1 RETURN r';
    const { rows: found } = await runPattern(graph, text, { vocabulary, unknownNames: 'error' });
    expect(found).toEqual([[{ n: { kind: 'node', id: 'birch' } }]]);
    await expect(runPattern(graph, 'RETURN {a: 1, a: 2} AS r')).rejects.toThrow(/has a field "a" already/u);
  });
});

describe('GQ18 scalar subqueries', () => {
  test('the one value of the one row, for the row outside', async () => {
    expect(await sorted('MATCH (a) RETURN a, VALUE { MATCH (a)->(b) RETURN COUNT(*) } AS n')).toEqual([
      'ash 2',
      'birch 1',
      'cedar 1',
      'dale 0',
    ]);
    expect(await rows('MATCH (a) WHERE VALUE { MATCH (a)->(b) RETURN MAX(b.k) } > 3 RETURN a')).toEqual([
      ['cedar'],
    ]);
    expect(
      await rows(
        'MATCH (a:Town) LET far = VALUE { MATCH (a)->(b) RETURN b ORDER BY b.k DESC LIMIT 1 } RETURN a.k AS k, far.k AS f ORDER BY k',
      ),
    ).toEqual([
      [1, 3],
      [2, 3],
    ]);
    expect(await rows('RETURN VALUE { MATCH (a) RETURN a.k AS k NEXT RETURN SUM(k) AS s } AS s')).toEqual([
      [10],
    ]);
    expect(await rows('MATCH (a:City) RETURN a ORDER BY VALUE { MATCH (a)->(b) RETURN COUNT(*) }')).toEqual([
      ['dale'],
      ['cedar'],
    ]);
  });

  test('null when there is no row, and when there are several: an error of data', async () => {
    expect(await rows('MATCH (a:City) RETURN a, VALUE { MATCH (a)->(b) RETURN b.k } AS v')).toEqual([
      ['cedar', 4],
      ['dale', null],
    ]);
    expect(await rows('RETURN VALUE { MATCH (a) RETURN a.k } AS v')).toEqual([[null]]);
  });

  test('a warning with its place where there are several, since null looks like none', async () => {
    const places = async (text: string, options = {}) => {
      const { warnings } = await runPattern(graph, text, options);
      return warnings.map(({ code, line, column }) => [code, line, column]);
    };
    const one = 'MATCH (a:City) RETURN a, VALUE { MATCH (a)->(b) RETURN b.k } AS v';
    expect(await places(one)).toEqual([]);
    const several =
      'MATCH (a:City)\nRETURN VALUE { MATCH (a)->(b) RETURN b.k } AS v, VALUE { MATCH (n) RETURN n.k } AS w';
    expect(await places(several, { where: 'here' })).toEqual([['several-values', 2, 50]]);
    expect(await places(several, { where: 'workers' })).toEqual([['several-values', 2, 50]]);
  });

  test('one column, and within the budgets of the query', async () => {
    await expect(runPattern(graph, 'RETURN VALUE { MATCH (a) RETURN a, a.k } AS v')).rejects.toThrow(
      /returns one column/u,
    );
    const many = `FOR a IN [${Array.from({ length: 60 }, (_, i) => i).join()}]`;
    const text = `${many} LET n = VALUE { ${many.replace('a', 'b')} FILTER a < b RETURN COUNT(*) } RETURN SUM(n) AS pairs`;
    expect((await runPattern(graph, text)).rows).toEqual([[(60 * 59) / 2]]);
    const cut = await runPattern(graph, text, { budgets: { steps: 1000 } });
    expect([cut.complete, cut.shortage]).toEqual([false, 'steps']);
  });
});
