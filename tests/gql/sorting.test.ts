/** ORDER BY after grouping and DISTINCT, and names of columns in it: rows worked out by hand from four towns. */
import { expect, test } from 'vitest';
import { buildGraph, PatternError, runPattern } from '../../src/gql/gql.ts';
import type { EdgeInput, NodeInput } from '../../src/gql/storage/input.ts';

const TOWNS: readonly NodeInput[] = [
  { id: 'a', labels: ['Town'], properties: { k: 1, age: 30 } },
  { id: 'b', labels: ['Town'], properties: { k: 1, age: 20 } },
  { id: 'c', labels: ['Town'], properties: { k: 2, age: 25 } },
  { id: 'd', labels: ['Town'], properties: { k: 3, age: 40 } },
];
const ROADS: readonly EdgeInput[] = [
  { source: 'a', target: 'b' },
  { source: 'b', target: 'c' },
  { source: 'c', target: 'a' },
  { source: 'c', target: 'd' },
];

function orders<T>(list: readonly T[]): T[][] {
  if (list.length === 0) return [[]];
  return list.flatMap((one, i) => orders(list.toSpliced(i, 1)).map((rest) => [one, ...rest]));
}

test.each<[string, readonly (readonly unknown[])[]]>([
  [
    'MATCH (n) RETURN n.k, COUNT(*) ORDER BY MAX(n.age) DESC',
    [
      [3, 1],
      [1, 2],
      [2, 1],
    ],
  ],
  ['MATCH (n) RETURN n.k AS k GROUP BY k ORDER BY SUM(n.age)', [[2], [3], [1]]],
  [
    'MATCH (n) RETURN n.k AS k, COUNT(*) AS c ORDER BY k - 5 * COUNT(*)',
    [
      [1, 2],
      [2, 1],
      [3, 1],
    ],
  ],
  [
    'MATCH (n)->(m) RETURN n.k AS k, COUNT(m) AS c ORDER BY c + n.k DESC',
    [
      [2, 2],
      [1, 2],
    ],
  ],
  // The name of the column is what ORDER BY sees, also where a pattern in it refers to it.
  [
    'MATCH (n)->(b) RETURN b AS n, n.age AS q ORDER BY n.age, q',
    [
      ['b', 30],
      ['c', 20],
      ['a', 25],
      ['d', 25],
    ],
  ],
  ['MATCH (n) RETURN n AS c ORDER BY EXISTS { (c)->({k: 2}) } DESC, c.age', [['b'], ['c'], ['a'], ['d']]],
  ['MATCH (n) RETURN n AS n ORDER BY EXISTS { (n)->({k: 1}) }, n.age', [['b'], ['d'], ['c'], ['a']]],
])('%s', async (text, expected) => {
  for (const nodes of orders(TOWNS)) {
    const { rows } = await runPattern(buildGraph(nodes, ROADS), text, { where: 'here' });
    expect(rows.map((row) => row.map((cell) => (cell as { id?: string }).id ?? cell))).toEqual(expected);
  }
});

test('a group variable under another name keeps its elements in aggregates of ORDER BY', async () => {
  const text = 'MATCH (n {k: 1})-[e]->{1,2}(m) RETURN n, m, e AS way ORDER BY COUNT(way) DESC, n.age, m.age';
  const { rows } = await runPattern(buildGraph(TOWNS, ROADS), text, { where: 'here' });
  expect(
    rows.map((row) =>
      row
        .slice(0, 2)
        .map((cell) => (cell as { id: string }).id)
        .join(''),
    ),
  ).toEqual([...['ba', 'bd', 'ac', 'bc', 'ab']]);
});

/**
 * Whatever is accepted has rows and an order that do not depend on the order in which the graph was given: every value
 * differs, and all columns are sort keys in the end, so that nothing is left open.
 */
test('random items, groups and sort keys: the answer is the same for graphs given in other orders', async () => {
  let state = 7;
  const random = (): number => {
    // Park and Miller's generator: the same texts each time.
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const chance = (share: number): boolean => random() < share;
  const nodes: readonly NodeInput[] = Array.from({ length: 7 }, (_, i) => ({
    id: `n${i}`,
    properties: { k: i % 3, x: Math.sqrt(i + 2), y: Math.cbrt(50 - i) },
  }));
  const edges: readonly EdgeInput[] = Array.from({ length: 12 }, (_, i) => ({
    source: `n${(i * 5) % 7}`,
    target: `n${(i * 3 + 1) % 7}`,
    properties: { w: Math.log(i + 3) },
  }));
  const graphs = Array.from({ length: 4 }, () => {
    const shuffled = <T>(list: readonly T[]): T[] =>
      list
        .map((one) => ({ one, at: random() }))
        .sort((a, b) => a.at - b.at)
        .map(({ one }) => one);
    return buildGraph(shuffled(nodes), shuffled(edges));
  });
  const value = (): string => pick(['a.k', 'a.x', 'b.k', 'b.y', 'a.k + b.k', 'e.w', '1', 'a.x * 2']);
  const aggregate = (): string =>
    `${pick(['COUNT', 'SUM', 'MIN', 'MAX'])}(${pick(['a.x', 'b.y', 'b.k', 'e.w'])})`;
  const names = ['p', 'q', 'a', 'b', 'k'];
  let accepted = 0;
  let refused = 0;
  for (let i = 0; i < 700; i++) {
    const columns = names.toSorted(() => random() - 0.5).slice(0, 1 + Math.floor(random() * 3));
    const items = columns.map((name) => {
      const roll = random();
      const item = roll < 0.5 ? value() : roll < 0.8 ? aggregate() : `${value()} + ${aggregate()}`;
      return `${item} AS ${name}`;
    });
    const groupBy = chance(0.3) ? ` GROUP BY ${pick([...columns, 'a', 'b', 'a, b'])}` : '';
    const key = (): string => {
      const roll = random();
      const of = pick([...columns, 'a.x', 'a.k', 'b.y']);
      if (roll < 0.3) return value();
      if (roll < 0.5) return aggregate();
      if (roll < 0.7) return of;
      if (roll < 0.85) return `${of} + ${aggregate()}`;
      return `CASE WHEN EXISTS { (${pick(['a', 'b'])})->({k: 2}) } THEN ${of} ELSE 0 END`;
    };
    const keys = Array.from({ length: 1 + Math.floor(random() * 2) }, key);
    const distinct = chance(0.3) ? 'DISTINCT ' : '';
    const text = `MATCH (a)-[e]->(b) RETURN ${distinct}${items.join(', ')}${groupBy} ORDER BY ${[...keys, ...columns].join(', ')}`;
    const answers: unknown[] = [];
    for (const graph of graphs) {
      try {
        answers.push((await runPattern(graph, text, { where: 'here' })).rows);
      } catch (error) {
        expect(error).toBeInstanceOf(PatternError);
      }
    }
    if (answers.length === 0) refused++;
    else accepted++;
    const rounded = answers.map((rows) =>
      JSON.parse(JSON.stringify(rows), (_, one: unknown) =>
        typeof one === 'number' ? Math.round(one * 1e9) / 1e9 : one,
      ),
    );
    for (const rows of rounded) expect([text, rows]).toEqual([text, rounded[0]]);
  }
  expect(accepted).toBeGreaterThan(120);
  expect(refused).toBeGreaterThan(60);
});
