import { afterAll, expect, test } from 'vitest';
import { countPattern, defaultPool } from '../../src/gql/engine.ts';
import { buildGraph, PatternGraph } from '../../src/gql/graph.ts';
import type { SegmentInput } from '../../src/gql/storage/input.ts';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';
import { drawSegment, expected, found } from './around.ts';

afterAll(() => defaultPool().close());

// Hundreds of segments, so that every table and column grows and ranges are used again.
test('after many segments are put, replaced and removed the graph has what is left of the inputs', () => {
  const random = seeded(testSeed());
  const graph = new PatternGraph();
  const left = new Map<string, SegmentInput>();
  const put = (key: string, input: SegmentInput) => {
    graph.putSegment(key, input);
    left.set(key, input);
  };
  for (let step = 0; step < 1200; step++) {
    const key = Math.floor(random() * 150);
    if (random() < 0.2) {
      graph.removeSegment(`s${key}`);
      left.delete(`s${key}`);
    } else put(`s${key}`, drawSegment(key, random));
    if (step % 97 === 0)
      put('hubs', {
        nodes: Array.from({ length: 4 }, (_, i) => ({
          id: `hub/${i}`,
          labels: [`H${step % 3}`],
          properties: { step },
        })),
        grouped: false,
      });
    if (step % 150 === 149) expect(found(graph)).toEqual(expected(left.values()));
  }
  for (const { nodes } of left.values())
    for (const { id } of nodes) expect(graph.store.nodeId(graph.findNode(id))).toBe(id);
  for (const key of left.keys()) graph.removeSegment(key);
  expect([graph.nodeCount, graph.edgeCount, graph.segmentCount]).toEqual([0, 0, 0]);
  expect(graph.findNode('hub/0')).toBe(-1);
});

// An edge is of one segment and its ends of another, loops included: what is one edge may not be met twice, nor missed.
test('edges between nodes of another segment are found as often as in one segment', async () => {
  const nodes = [
    { id: 'a', labels: ['H'] },
    { id: 'b', labels: ['H'] },
  ];
  const edges = ['aa', 'aa', 'ab', 'ba'].flatMap(([source, target], i) =>
    [true, false].map((directed) => ({ id: `${i}`, source: source!, target: target!, directed })),
  );
  const graph = new PatternGraph();
  graph.putSegment('nodes', { nodes });
  graph.putSegment('edges', { nodes: [{ id: 'c' }], edges });
  const whole = buildGraph(nodes, edges);
  // ISO/IEC 39075, 16.7: each arrow as the directions it accepts.
  for (const [arrow, right, left, undirected] of [
    ['-[e]->', 1, 0, 0],
    ['<-[e]-', 0, 1, 0],
    ['~[e]~', 0, 0, 1],
    ['<-[e]->', 1, 1, 0],
    ['~[e]~>', 1, 0, 1],
    ['<~[e]~', 0, 1, 1],
    ['-[e]-', 1, 1, 1],
  ] as const) {
    const matches = new Set<string>();
    edges.forEach(({ source, target, directed }, e) => {
      if (directed ? right : undirected) matches.add(`${source} ${e} ${target}`);
      if (directed ? left : undirected) matches.add(`${target} ${e} ${source}`);
    });
    const loops = [...matches].filter((match) => match[0] === match.at(-1)).length;
    for (const in_ of [graph, whole])
      for (const strategy of ['loops', 'candidates', 'auto'] as const) {
        const count = async (text: string) => (await countPattern(in_, text, { strategy })).count;
        expect(await count(`MATCH (x)${arrow}(y) RETURN *`), arrow).toBe(matches.size);
        expect(await count(`MATCH (x:H)${arrow}(x) RETURN *`), arrow).toBe(loops);
      }
    for (const text of [`(x)${arrow}(y)-[f]-(z)`, `(x)${arrow}{1,2}(y)`, `(x)${arrow}(y), (x)-[f]-(y)`]) {
      const asked = `MATCH ${text} RETURN *`;
      expect((await countPattern(graph, asked)).count, text).toBe((await countPattern(whole, asked)).count);
    }
  }
});
