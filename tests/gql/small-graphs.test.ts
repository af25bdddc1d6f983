import { expect, test } from 'vitest';
import { runPattern } from '../../src/gql/engine.ts';
import { buildGraph } from '../../src/gql/graph.ts';

/** A chain of towns; `before` are strings that the graph numbers first. */
function chain(length: number, kinds: readonly string[], before: readonly string[] = []) {
  return buildGraph(
    [
      ...before.map((kind, i) => ({ id: `x${i}`, labels: ['Other'], properties: { kind } })),
      ...Array.from({ length }, (_, i) => ({
        id: `t${i}`,
        labels: ['Town'],
        properties: { kind: kinds[i % kinds.length]!, people: i },
      })),
    ],
    Array.from({ length: length - 1 }, (_, i) => ({ source: `t${i}`, target: `t${i + 1}`, label: 'ROAD' })),
  );
}

test('many searches of small graphs one after the other all run on the calling thread', async () => {
  const places = new Set<string>();
  for (let i = 0; i < 150; i++) {
    const graph = chain(30, ['port', 'mine']);
    const { where, rows } = await runPattern(
      graph,
      'MATCH (a:Town)-[:ROAD]->(b:Town)-[:ROAD]->(c:Town) WHERE a.people < c.people RETURN a, b, c',
      { distinctNodes: true },
    );
    expect(rows).toHaveLength(28);
    places.add(where);
  }
  expect([...places]).toEqual(['here']);
});

test('and so do many at once', async () => {
  const graphs = Array.from({ length: 60 }, () => chain(30, ['port', 'mine']));
  const text = 'MATCH (a:Town)-[:ROAD]->(b:Town)-[:ROAD]->(c:Town)-[:ROAD]->(d:Town) RETURN a.kind, d.kind';
  const answers = await Promise.all(graphs.map((graph) => runPattern(graph, text)));
  expect([...new Set(answers.map(({ where, rows }) => `${where} ${rows.length}`))]).toEqual(['here 27']);
});

test('graphs that number their strings and labels differently each get their own answer', async () => {
  const text =
    "MATCH (a:Town)-[:ROAD]->(b:Town) WHERE a.kind = 'mine' AND b.kind <> 'mine' RETURN a.people AS n";
  const graphs = [
    chain(9, ['port', 'mine']),
    chain(9, ['port', 'mine'], ['mine', 'port', 'fair']),
    chain(9, ['mine', 'mine', 'fair'], ['fair']),
    chain(9, ['port', 'fair']),
    chain(9, ['mine', 'mine', 'fair'], ['port', 'fort', 'fair']),
  ];
  const found = await Promise.all(
    [...graphs, ...graphs].map(async (graph) => (await runPattern(graph, text)).rows.flat()),
  );
  // By hand: the places of a mine whose road leads to what is none.
  const alternating = [1, 3, 5, 7];
  const thirds = [1, 4, 7];
  expect(found).toEqual([0, 1].flatMap(() => [alternating, alternating, thirds, [], thirds]));
});
