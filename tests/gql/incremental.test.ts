import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { countPattern, defaultPool, runPattern } from '../../src/gql/engine.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { entriesWith } from '../../src/gql/search/entries.ts';
import { Run } from '../../src/gql/search/stage.ts';
import { Entering } from '../../src/gql/storage/entering.ts';
import type { EdgeInput, NodeInput, SegmentInput } from '../../src/gql/storage/input.ts';
import { S } from '../../src/gql/storage/store.ts';

afterAll(() => defaultPool().close());

const KEYS = ['a', 'b', 'c', 'shared'];
const HIERARCHY = { Cat: ['Animal'], Dog: ['Animal'], Animal: ['Thing'] };

const node = (key: string): fc.Arbitrary<NodeInput> =>
  fc.record({
    id: fc.integer({ min: 0, max: 5 }).map((i) => `${key}/${i}`),
    labels: fc.uniqueArray(
      fc.oneof(
        fc.constantFrom('Cat', 'Dog', 'Stone'),
        fc.record({ label: fc.constantFrom('Cat', 'Dog', 'Stone'), weight: fc.constantFrom(0.25, 0.5, 1) }),
      ),
      { selector: (l) => (typeof l === 'string' ? l : l.label), maxLength: 2 },
    ),
    properties: fc.record(
      {
        size: fc.integer({ min: 0, max: 9 }),
        name: fc.constantFrom('x', 'y', 'ü', ''),
        old: fc.boolean(),
        tags: fc.array(fc.constantFrom('p', 'q'), { maxLength: 2 }),
      },
      { requiredKeys: [] },
    ),
  });

const edge = (key: string): fc.Arbitrary<EdgeInput> => {
  const end = fc
    .tuple(fc.constantFrom(key, key, ...KEYS), fc.integer({ min: 0, max: 5 }))
    .map(([k, i]) => `${k}/${i}`);
  return fc.record(
    {
      id: fc.constantFrom('e1', 'e2'),
      source: end,
      target: end,
      label: fc.constantFrom('LIKES', 'SEES'),
      directed: fc.boolean(),
      properties: fc.record({ since: fc.integer({ min: 0, max: 3 }) }, { requiredKeys: [] }),
    },
    { requiredKeys: ['source', 'target'] },
  );
};

const segment = (key: string): fc.Arbitrary<SegmentInput> =>
  fc.record({
    nodes: fc.uniqueArray(node(key), { selector: (n) => n.id, maxLength: 6 }),
    edges: fc.array(edge(key), { maxLength: 8 }),
  });

type Change = { readonly key: string; readonly input: SegmentInput | undefined };
const change: fc.Arbitrary<Change> = fc
  .constantFrom(...KEYS)
  .chain((key) => fc.option(segment(key), { nil: undefined, freq: 4 }).map((input) => ({ key, input })));

/** Everything that can be read from a graph, with segment rows and node numbers replaced by keys and ids. */
function contents(graph: PatternGraph): unknown {
  const { store } = graph;
  const codes = store.catalog.edgeLabels.flatMap((_, label) => [label * 3, label * 3 + 1, label * 3 + 2]);
  const run = new Run(0, {
    deadline: Number.POSITIVE_INFINITY,
    steps: 1e9,
    bytes: 1e9,
    cancelled: () => false,
  });
  const visible = graph.visible();
  const entering = new Entering(store, visible, graph.segmentRanks().rank);
  const walk = entriesWith({ store, visible, entering, run }, codes);
  return graph.segmentKeys().map((key) => {
    const slot = graph.segmentSlot(key)!;
    const first = store.segmentField(slot, S.nodes);
    const nodes = [];
    for (let n = first; n < first + store.segmentField(slot, S.nodeCount); n++) {
      const around: unknown[] = [];
      walk(n, (other, e) => {
        around.push([
          store.nodeId(other),
          store.edgeLabel(e),
          store.isDirected(e),
          store.edgeId(e) ?? null,
          store.edgeProperties(e),
          store.nodeId(store.end(store.edgeRow.view[e * 4 + 1]!)),
          store.nodeId(store.end(store.edgeRow.view[e * 4 + 2]!)),
        ]);
        return true;
      });
      nodes.push({
        id: store.nodeId(n),
        labels: store.nodeLabels(n).sort((a, b) => (a.label < b.label ? -1 : 1)),
        properties: store.nodeProperties(n),
        around: around.map((entry) => JSON.stringify(entry)).sort(),
        found: graph.findNode(store.nodeId(n)) === n,
      });
    }
    return { key, nodes: nodes.sort((a, b) => (a.id < b.id ? -1 : 1)) };
  });
}

/** The inverted index, with numbers replaced by names; features without a segment are left out. */
function index(graph: PatternGraph): unknown {
  const { catalog, strings } = graph.store;
  const keys = graph.segmentKeys();
  const setName = (set: number) =>
    set < 0
      ? '?'
      : catalog.labelSets[set]!.labels.map(
          (l) => `${catalog.labels[l]}${catalog.labelSets[set]!.uncertain.includes(l) ? '?' : ''}`,
        )
          .sort()
          .join('&');
  const lines: string[] = [];
  const note = (name: string, postings: { total: number; size: number; has(slot: number): boolean }) => {
    const where = keys.filter((key) => postings.has(graph.segmentSlot(key)!));
    expect(where.length).toBe(postings.size);
    if (postings.total > 0) lines.push(`${name} ${postings.total} ${where.join()}`);
  };
  graph.index.nodes.forEach((postings, set) => {
    if (postings) note(setName(set), postings);
  });
  graph.index.shapes.forEach((bySet, code) => {
    const name = `${catalog.edgeLabels[code >> 1]}${code & 1 ? '~' : '>'}`;
    const merged = new Map<string, { total: number; size: number; has(slot: number): boolean }>();
    for (const shapes of bySet?.values() ?? [])
      for (const shape of shapes) {
        const ends = [setName(shape.from), setName(shape.to)];
        // Which end of an undirected shape comes first hangs on the numbering.
        if (code & 1) ends.sort();
        merged.set(`${name} ${ends.join(' ')}`, shape.postings);
      }
    for (const [shape, postings] of merged) note(shape, postings);
  });
  graph.index.crossings.forEach((bySet, code) => {
    for (const [set, { postings }] of bySet ?? [])
      note(`crossing ${catalog.edgeLabels[Math.floor(code / 3)]} ${code % 3} ${setName(set)}`, postings);
  });
  const name = catalog.findKey('name');
  if (name >= 0)
    for (const text of ['x', 'y', 'ü', '']) {
      const postings = graph.index.valuePostings(name, strings.find(text));
      if (postings && strings.find(text) >= 0) note(`name ${text}`, postings);
    }
  return lines.sort();
}

describe('a query on workers while the graph changes', () => {
  const shared = (version: number): SegmentInput => ({
    nodes: [{ id: 'hub', labels: ['Hub'], properties: { version } }],
    grouped: false,
  });
  const spoke = (i: number, size = 40): SegmentInput => ({
    nodes: Array.from({ length: size }, (_, n) => ({ id: `${i}/${n}`, labels: ['N'] })),
    edges: Array.from({ length: size }, (_, n) => ({ source: `${i}/${n}`, target: 'hub', label: 'USES' })),
  });
  const graph = new PatternGraph();
  graph.putSegment('hub', shared(0));
  for (let i = 0; i < 60; i++) graph.putSegment(`s${i}`, spoke(i));

  test('answers for the graph as it was, while segments are added, removed and replaced', async () => {
    const pairs = (60 * 40) ** 2 - 60 * 40;
    const text = 'MATCH (a:N)-[:USES]->(h:Hub)<-[:USES]-(b:N) RETURN *';
    const options = { where: 'workers' as const, distinctNodes: true, budgets: { time: 600_000 } };
    const counting = countPattern(graph, text, options);
    // The workers have been told to begin; how far they are makes no difference.
    await new Promise(setImmediate);
    graph.putSegment('s7', spoke(7, 3));
    graph.removeSegment('s8');
    for (let i = 100; i < 130; i++) graph.putSegment(`s${i}`, spoke(i));
    expect((await counting).count).toBe(pairs);
    const after = 88 * 40 + 3 + 40 - 40;
    expect((await countPattern(graph, text, options)).count).toBe(after * (after - 1));
  });

  test('and so does a search that follows edges to what is replaced meanwhile', async () => {
    const text = 'MATCH (a:N)-[:USES]->(h:Hub) RETURN h.version AS version, COUNT(*) AS n';
    const running = runPattern(graph, text, { where: 'workers' });
    graph.putSegment('hub', shared(1));
    const { rows } = await running;
    expect(rows).toEqual([[0, 88 * 40 + 3]]);
    const { rows: later } = await runPattern(graph, text, { where: 'workers' });
    expect(later).toEqual([[1, 88 * 40 + 3]]);
  });
});

describe('a graph changed segment by segment', () => {
  test('equals the graph built anew from what is left', () => {
    fc.assert(
      fc.property(fc.array(change, { maxLength: 14 }), (changes) => {
        const graph = new PatternGraph({ hierarchy: HIERARCHY });
        const left = new Map<string, SegmentInput>();
        for (const { key, input } of changes) {
          if (input) {
            graph.putSegment(key, input);
            left.set(key, input);
          } else expect(graph.removeSegment(key)).toBe(left.delete(key));
        }
        const anew = new PatternGraph({ hierarchy: HIERARCHY });
        for (const [key, input] of left) anew.putSegment(key, input);
        expect(contents(graph)).toEqual(contents(anew));
        expect(index(graph)).toEqual(index(anew));
        expect([graph.nodeCount, graph.edgeCount, graph.segmentCount]).toEqual([
          anew.nodeCount,
          anew.edgeCount,
          anew.segmentCount,
        ]);
      }),
      { numRuns: 400 },
    );
  });

  test('keeps what a running query reads until the query has ended', () => {
    const graph = new PatternGraph();
    const segmentOf = (size: number): SegmentInput => ({
      nodes: Array.from({ length: 3 }, (_, i) => ({ id: `n${i}`, properties: { size } })),
    });
    graph.putSegment('s', segmentOf(1));
    const node = graph.findNode('n1');
    const key = graph.store.catalog.findKey('size');
    const ticket = graph.epochs.enter();
    graph.putSegment('s', segmentOf(2));
    graph.putSegment('t', { nodes: [{ id: 'm0' }, { id: 'm1' }, { id: 'm2' }] });
    expect(graph.store.nodeProperty(node, key)).toBe(1);
    graph.epochs.leave(ticket);
    graph.putSegment('u', segmentOf(3));
    // The ranges are used again now.
    expect(graph.store.nodeProperty(node, key)).toBe(3);
  });

  test('writes only the ranges of the changed segment', () => {
    const graph = new PatternGraph();
    for (let i = 0; i < 200; i++)
      graph.putSegment(`s${i}`, {
        nodes: [{ id: `${i}/a` }, { id: `${i}/b` }],
        edges: [{ source: `${i}/a`, target: `${i}/b` }],
      });
    const before = graph.store.adjRow.view.slice();
    graph.putSegment('s7', {
      nodes: [{ id: '7/a' }, { id: '7/b' }],
      edges: [{ source: '7/b', target: '7/a' }],
    });
    const after = graph.store.adjRow.view.slice(0, before.length);
    const changed = [...after.keys()].filter((i) => after[i] !== before[i]);
    // Two entries of two words.
    expect(changed.length).toBeLessThanOrEqual(4);
  });
});
