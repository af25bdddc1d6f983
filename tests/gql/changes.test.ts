import { afterAll, expect, test } from 'vitest';
import { countPattern, defaultPool } from '../../src/gql/engine.ts';
import { buildGraph, PatternGraph } from '../../src/gql/graph.ts';
import { entriesWith } from '../../src/gql/search/entries.ts';
import { Run } from '../../src/gql/search/stage.ts';
import type {
  EdgeInput,
  LabelInput,
  NodeInput,
  Properties,
  SegmentInput,
} from '../../src/gql/storage/input.ts';
import { S } from '../../src/gql/storage/store.ts';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';

afterAll(() => defaultPool().close());

const LABELS = ['A', 'B', 'C', 'D', 'E', 'F'];

/** A segment whose edges lead to its own nodes, to nodes of other segments, there or not, and between others. */
function drawSegment(key: number, random: () => number): SegmentInput {
  const below = (n: number) => Math.floor(random() * n);
  const size = 1 + below(12);
  const nodes: NodeInput[] = Array.from({ length: size }, (_, i) => ({
    id: `${below(9) === 0 ? 'ö' : 's'}${key}/${i}`,
    labels: LABELS.filter(() => random() < 0.25).map((label) =>
      random() < 0.2 ? { label, weight: 0.5 } : label,
    ),
    properties: random() < 0.5 ? { x: below(50) / 4, name: `n${below(30)}` } : { old: random() < 0.5 },
  }));
  const any = () => {
    const u = random();
    if (u < 0.5) return nodes[below(size)]!.id;
    return u < 0.7 ? `hub/${below(4)}` : `s${below(150)}/${below(12)}`;
  };
  const edges: EdgeInput[] = Array.from({ length: below(30) }, (_, i) => ({
    id: `${key}.${i}`,
    source: any(),
    target: any(),
    label: LABELS[below(3)],
    directed: random() < 0.6,
    ...(random() < 0.3 ? { properties: { weight: below(5), name: `e${below(5)}` } } : {}),
  }));
  return { nodes, edges };
}

/**
 * Of each node what the inputs say: its labels and properties, and the edges with both ends there, once for each end, and an undirected loop once.
 * Reads nothing but the inputs.
 */
function expected(inputs: Iterable<SegmentInput>): Map<string, string[]> {
  const around = new Map<string, string[]>();
  const all = [...inputs];
  for (const { nodes } of all)
    for (const { id, labels, properties } of nodes) {
      const names = [...(labels as readonly LabelInput[])].map((label) =>
        typeof label === 'string' ? `${label} 1` : `${label.label} ${label.weight}`,
      );
      around.set(id, [`${names.sort().join()} ${inOrder(properties ?? {})}`]);
    }
  for (const { edges = [] } of all)
    for (const { id, source, target, label, directed = true, properties = {} } of edges) {
      const from = around.get(source);
      const to = around.get(target);
      if (!from || !to) continue;
      const rest = `${label} ${id} ${inOrder(properties)}`;
      from.push(`${directed ? '->' : '~'} ${target} ${rest}`);
      if (directed || source !== target) to.push(`${directed ? '<-' : '~'} ${source} ${rest}`);
    }
  for (const list of around.values()) list.sort();
  return around;
}

function inOrder(properties: Properties): string {
  return JSON.stringify(Object.entries(properties).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The same from the columns of a graph. */
function found(graph: PatternGraph): Map<string, string[]> {
  const { store } = graph;
  const run = new Run(0, { deadline: Infinity, steps: 1e9, bytes: 1e9, cancelled: () => false });
  const visible = graph.visible();
  const around = new Map<string, string[]>();
  const walks = ['->', '<-', '~'].map((sign, direction) => {
    const codes = store.catalog.edgeLabels.map((_, label) => label * 3 + direction);
    return { sign, walk: entriesWith({ store, visible, run }, codes) };
  });
  for (const key of graph.segmentKeys()) {
    const slot = graph.segmentSlot(key)!;
    const first = store.segmentField(slot, S.nodes);
    for (let node = first; node < first + store.segmentField(slot, S.nodeCount); node++) {
      const names = store.nodeLabels(node).map(({ label, weight }) => `${label} ${weight}`);
      const list = [`${names.sort().join()} ${inOrder(store.nodeProperties(node))}`];
      for (const { sign, walk } of walks)
        walk(node, (other, edge) => {
          const properties = inOrder(store.edgeProperties(edge));
          list.push(
            `${sign} ${store.nodeId(other)} ${store.edgeLabel(edge)} ${store.edgeId(edge)} ${properties}`,
          );
          return true;
        });
      around.set(store.nodeId(node), list.sort());
    }
  }
  return around;
}

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
