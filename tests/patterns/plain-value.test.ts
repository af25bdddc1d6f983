import { expect, test } from 'vitest';
import { buildGraph, runPattern } from '../../src/gql/gql.ts';
import { cellText, plainValue } from '../../src/patterns/plain-value.ts';

// Forms of values in JSON and in cells, as written out by hand for a graph of two nodes and one edge.

const graph = buildGraph(
  [
    { id: 'a', labels: ['Town'], properties: { name: 'Ash' } },
    { id: 'b', labels: ['Town'] },
  ],
  [{ source: 'a', target: 'b', label: 'ROAD', directed: true }],
);
const EDGE = { kind: 'edge', label: 'ROAD', source: 'a', target: 'b' };

async function firstValue(expression: string): Promise<unknown> {
  const { rows } = await runPattern(graph, `MATCH p = (x)-[e]->(y) RETURN ${expression} AS v`);
  return plainValue(rows[0]?.[0]);
}

test.each([
  ['x', 'a', 'a'],
  ['e', EDGE, 'a [ROAD] b'],
  ['p', ['a', EDGE, 'b'], 'a [ROAD] b'],
  ['y.name', null, ''],
  ['0.1 + 0.2', 0.1 + 0.2, '0.3'],
  ['[1, x.name]', [1, 'Ash'], '[1,"Ash"]'],
  // A record with a field "id" is a record, and not what has the id.
  ["{id: 'q', name: x.name}", { id: 'q', name: 'Ash' }, '{"id":"q","name":"Ash"}'],
  ['{elements: [1, 2]}', { elements: [1, 2] }, '{"elements":[1,2]}'],
  [
    "{kind: 'node', id: 'q', size: 2}",
    { kind: 'node', id: 'q', size: 2 },
    '{"kind":"node","id":"q","size":2}',
  ],
  ['{of: x, by: [y, NULL]}', { of: 'a', by: ['b', null] }, '{"of":"a","by":["b",null]}'],
])('%s', async (expression, plain, cell) => {
  const value = await firstValue(expression);
  expect(JSON.parse(JSON.stringify(value))).toEqual(plain);
  expect(cellText(value)).toBe(cell);
});
