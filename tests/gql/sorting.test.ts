/** ORDER BY after grouping and DISTINCT, and names of columns in it: rows worked out by hand from four towns. */
import { expect, test } from 'vitest';
import { buildGraph, runPattern } from '../../src/gql/gql.ts';
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
