import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadGraphFiles } from '../../src/gql/files.ts';
import type { EdgeInput, LabelInput, NodeInput, SegmentInput } from '../../src/gql/storage/input.ts';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';
import { drawSegment, expected, found } from './around.ts';

let folder = '';
const file = (name: string) => join(folder, name);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'load-'));
});
afterAll(() => rm(folder, { recursive: true }));

const load = async (nodes: string, edges: string, options: Parameters<typeof loadGraphFiles>[2] = {}) => {
  await writeFile(file('nodes.csv'), nodes);
  await writeFile(file('edges.csv'), edges);
  return loadGraphFiles(file('nodes.csv'), file('edges.csv'), options);
};

/** Some segments, with edges to nodes that are in some of them alone. */
function draw(count: number, random: () => number): Map<string, SegmentInput> {
  const drawn = new Map<string, SegmentInput>();
  for (let key = 0; key < count; key++) drawn.set(`s${key}`, drawSegment(key, random));
  const ids = new Set([...drawn.values()].flatMap(({ nodes }) => nodes.map(({ id }) => id)));
  for (const [key, { nodes, edges = [] }] of drawn)
    drawn.set(key, { nodes, edges: edges.filter((edge) => ids.has(edge.source) && ids.has(edge.target)) });
  return drawn;
}

function nodeLine(key: string, { id, labels = [], properties }: NodeInput): readonly unknown[] {
  const names = [...(labels as readonly LabelInput[])].map((label) =>
    typeof label === 'string' ? label : `${label.label}:${label.weight}`,
  );
  const { x, name, old } = properties ?? {};
  return [id, old === undefined ? '' : String(old), name, key, names.join(';'), x];
}

function edgeLine(
  key: string,
  { id, source, target, label, directed, properties }: EdgeInput,
): readonly unknown[] {
  const { weight, name } = properties ?? {};
  return [source, key, target, weight, label, id, String(directed), name];
}

function shuffled<T>(list: readonly T[], random: () => number): T[] {
  return list
    .map((item) => ({ item, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(({ item }) => item);
}

describe('a graph loaded from files', () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8])('has what the lines say, in whatever order: %i', async (round) => {
    const random = seeded(testSeed() + round);
    const drawn = draw(round * 8, random);
    const entries = [...drawn];
    const order = <T>(list: T[]) => (round % 2 === 0 ? shuffled(list, random) : list);
    const nodes = order(entries.flatMap(([key, { nodes }]) => nodes.map((node) => nodeLine(key, node))));
    const edges = order(entries.flatMap(([key, { edges = [] }]) => edges.map((edge) => edgeLine(key, edge))));
    const text = [
      stringify([['id', 'old', 'name', 'part', 'labels', 'x'], ...nodes]),
      stringify([['source', 'part', 'target', 'weight', 'label', 'id', 'directed', 'name'], ...edges]),
    ] as const;
    const graph = await load(...text, { segment: 'part', isGrouped: (key) => key !== 's1' });
    expect(found(graph)).toEqual(expected(drawn.values()));
    const keys = [...drawn].flatMap(([key, { nodes }]) => (nodes.length > 0 ? [key] : [])).sort();
    expect(graph.segmentKeys()).toEqual(keys);
    expect(graph.ungroupedSlots(graph.visible())).toHaveLength(drawn.has('s1') ? 1 : 0);
    for (const [key, { nodes }] of drawn)
      for (const { id } of nodes)
        expect(graph.segmentKey(graph.store.segmentOf(graph.findNode(id)))).toBe(key);

    // Later changes meet handles, ports and ids as if the segments had been put one by one.
    for (let step = 0; step < 20; step++) {
      const key = Math.floor(random() * round * 8);
      const again = drawSegment(key, random);
      graph.putSegment(`s${key}`, again);
      drawn.set(`s${key}`, again);
    }
    expect(found(graph)).toEqual(expected(drawn.values()));
  });

  test('is one segment, and the column a property, where none is named', async () => {
    const graph = await load(
      'id,labels,part\na,A,left\nb,B,right\n',
      'source,target,part\na,b,left\nb,b,right\n',
    );
    expect(graph.segmentCount).toBe(1);
    expect(graph.store.nodeProperties(graph.findNode('b'))).toEqual({ part: 'right' });
    expect(graph.edgeCount).toBe(2);
  });

  test('has edges in the segment of their source where they have no column for it', async () => {
    const graph = await load('id,part\na,left\nb,right\n', 'source,target\na,b\nb,a\nb,b\n', {
      segment: 'part',
    });
    const edgesOf = (key: string) => graph.store.segmentField(graph.segmentSlot(key)!, 3);
    expect([edgesOf('left'), edgesOf('right')]).toEqual([1, 2]);
  });

  test('has the last value that a line gives a property, weights and super-labels', async () => {
    const graph = await load('id,labels,v:number,v:string\na,Cat:0.25;Dog:0.5,1,\nb,Cat,2,two\n', '', {
      hierarchy: { Cat: ['Animal'], Dog: ['Animal'] },
    });
    const { store } = graph;
    const [a, b] = [graph.findNode('a'), graph.findNode('b')];
    expect([store.nodeProperties(a), store.nodeProperties(b)]).toEqual([{ v: 1 }, { v: 'two' }]);
    const weights = (node: number) =>
      Object.fromEntries(store.nodeLabels(node).map((l) => [l.label, l.weight]));
    expect(weights(a)).toEqual({ Cat: 0.25, Dog: 0.5, Animal: 0.75 });
    expect(weights(b)).toEqual({ Cat: 1, Animal: 1 });
  });

  test.each([
    ['id\na\nb\na\n', 'source,target\n', {}, 'nodes.csv:4: another node has the id a'],
    ['id\nä\nä\n', 'source,target\n', {}, 'nodes.csv:3: another node has the id ä'],
    ['id,part\na,\n', 'source,target\n', { segment: 'part' }, 'nodes.csv:2: the part is empty'],
    ['id\na\n', 'source,target\n', { segment: 'part' }, 'nodes.csv:1: the column part is missing'],
    ['id\na\n', 'source,target\na,b\n', {}, 'no node has the id b'],
    ['id\na\n', 'source,target\nb,a\na,c\n', {}, '2 of 2 edges lead to a node that is not there'],
  ])('%j, %j is refused', async (nodes, edges, options, message) => {
    await expect(load(nodes, edges, options)).rejects.toThrow(message);
  });
});
