import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import {
  type BoundValue,
  buildGraph,
  countBySegment,
  countPattern,
  defaultPool,
  explainPattern,
  MatchExpiredError,
  matchBySegment,
  nearMatches,
  PatternGraph,
  runPattern,
  type SegmentAnswer,
  type SegmentInput,
} from '../../src/gql/gql.ts';

afterAll(() => defaultPool().close());

/** A house of one specimen: `chips` joined in a ring, each identified as a part. */
function house(key: string, names: string, chips: number, part: string): SegmentInput {
  const id = (i: number) => `${key}/${names}${i}`;
  const numbers = Array.from({ length: chips }, (_, i) => i);
  return {
    nodes: [
      { id: key, labels: ['House'] },
      ...numbers.map((i) => ({
        id: id(i),
        labels: [{ label: 'Chip', weight: i % 2 ? 0.5 : 1 }],
        properties: { place: i },
      })),
    ],
    edges: [
      ...numbers.map((i) => ({ source: id(i), target: key, label: 'IN' })),
      ...numbers.map((i) => ({ source: id(i), target: part, label: 'IS' })),
      ...numbers.map((i) => ({
        id: `e${i}`,
        source: id(i),
        target: id((i + 1) % chips),
        label: 'JOINS',
        directed: false,
      })),
    ],
  };
}

const part = (id: string, width: number): SegmentInput => ({
  nodes: [{ id, labels: ['Part'], properties: { width } }],
  grouped: false,
});

const TEXT = 'MATCH p = (a:Chip)~[j:JOINS]~(b:Chip), (a)-[:IS]->(q:Part) RETURN *';

function idsOf(value: BoundValue): unknown {
  if (value === null) return null;
  if (value.kind === 'node') return value.id;
  if (value.kind === 'edge') return [value.id, value.label, value.source, value.target];
  return (value.kind === 'path' ? value.elements : value.items).map(idsOf);
}

const readOf = (answers: readonly SegmentAnswer[]) =>
  answers.map(({ key, matches }) => [
    key,
    matches.map(({ bindings }) => Object.entries(bindings).map(([name, value]) => [name, idsOf(value)])),
  ]);

async function collected(search: AsyncIterable<SegmentAnswer>): Promise<SegmentAnswer[]> {
  const answers: SegmentAnswer[] = [];
  for await (const answer of search) answers.push(answer);
  return answers;
}

/** A graph of many houses, more than are searched in one go. */
function town(size: number): PatternGraph {
  const graph = new PatternGraph();
  for (const id of ['p1', 'p2']) graph.putSegment(id, part(id, 1));
  for (let i = 0; i < size; i++)
    graph.putSegment(`h${i}`, house(`h${i}`, 'c', 3 + (i % 3), i % 2 ? 'p1' : 'p2'));
  return graph;
}

/** Everything replaced by something else of the same size, twice, so that all memory is written again. */
function rebuild(graph: PatternGraph, size: number): void {
  for (const names of ['x', 'y'])
    for (let i = 0; i < size; i++)
      graph.putSegment(`h${i}`, house(`h${i}`, names, 3 + (i % 3), i % 2 ? 'p2' : 'p1'));
  for (const id of ['p1', 'p2']) graph.putSegment(id, part(id, 2));
}

describe('an answer stays valid when the graph changes afterwards', () => {
  test('what variables are bound to can be read at any time', async () => {
    const expected = readOf(await collected(matchBySegment(town(40), TEXT)));
    expect(expected).toHaveLength(40);
    const graph = town(40);
    const answers = await collected(matchBySegment(graph, TEXT));
    rebuild(graph, 40);
    expect(readOf(answers)).toEqual(expected);
    expect(graph.epochs.readers).toBe(0);
  });

  test('what must be read during the search throws afterwards, unless it was read in time', async () => {
    const graph = town(4);
    const [first, second] = await collected(matchBySegment(graph, TEXT));
    const read = first.matches.map(({ open }) => open.map(({ id }) => id));
    rebuild(graph, 4);
    expect(first.matches.map(({ open }) => open.map(({ id }) => id))).toEqual(read);
    expect(read.flat()).toContain('h0/c1');
    for (const ask of [
      () => second.matches[0].open,
      () => second.matches[0].certain,
      () => second.matches[0].edgesLabelled('IS'),
    ])
      expect(ask).toThrow(MatchExpiredError);
  });

  test('edges by label come with the ids of their ends, and are the same object for all matches', async () => {
    for await (const { key, matches } of matchBySegment(town(3), TEXT, { matchesPerSegment: 1000 })) {
      const edges = matches.flatMap((match) => match.edgesLabelled('IS'));
      const ends = new Set(edges.map(({ sourceId, targetId, label }) => `${sourceId} ${label} ${targetId}`));
      const chips = 3 + (Number(key.slice(1)) % 3);
      const wanted = Array.from({ length: chips }, (_, i) => `${key}/c${i} IS ${key === 'h1' ? 'p1' : 'p2'}`);
      expect([...ends].sort()).toEqual(wanted);
      expect(new Set(edges).size).toBe(chips);
      expect(matches[0].edgesLabelled('NO_SUCH')).toEqual([]);
    }
  });
});

describe('a query sees the graph of its start', () => {
  test.each(['here', 'workers'] as const)('to the last of many segments, run %s', async (where) => {
    const size = 700;
    const expected = readOf(await collected(matchBySegment(town(size), TEXT)));
    const graph = town(size);
    const search = matchBySegment(graph, TEXT, { where });
    const answers = [(await search.next()).value as SegmentAnswer];
    rebuild(graph, size);
    for (let i = 0; i < 5; i++) graph.putSegment(`a${i}`, house(`a${i}`, 'c', 4, 'p1'));
    graph.removeSegment('h699');
    answers.push(...(await collected(search)));
    expect(readOf(answers)).toEqual(expected);
    expect(graph.epochs.readers).toBe(0);
  });

  test('a search that is left early gives its memory back', async () => {
    const graph = town(300);
    for await (const { key } of matchBySegment(graph, TEXT)) {
      expect(key).toBe('h0');
      expect(graph.epochs.readers).toBe(1);
      break;
    }
    expect(graph.epochs.readers).toBe(0);
    await expect(collected(matchBySegment(graph, 'MATCH (a:Chip RETURN a'))).rejects.toThrow(/expected/iu);
    await expect(runPattern(graph, 'MATCH (a) RETURN $x')).rejects.toThrow(/\$x/u);
    expect(graph.epochs.readers).toBe(0);
  });
});

describe('many callers of one graph, each with a state of its own', () => {
  // A state says of each segment which of its versions holds, or that there is none.
  const state = fc.record({
    parts: fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 3 })),
    houses: fc.array(fc.option(fc.integer({ min: 0, max: 4 })), { minLength: 5, maxLength: 5 }),
  });
  type State = typeof state extends fc.Arbitrary<infer T> ? T : never;

  function segmentsOf({ parts, houses }: State): Map<string, SegmentInput> {
    const all = new Map<string, SegmentInput>();
    parts.forEach((width, i) => {
      all.set(`p${i}`, part(`p${i}`, width));
    });
    houses.forEach((version, i) => {
      if (version === null) return;
      all.set(`h${i}`, house(`h${i}`, `v${version}_`, 2 + version, `p${version % 2}`));
    });
    return all;
  }

  /** Makes a graph hold a state: puts what differs and removes what is not in it. */
  function aligning(graph: PatternGraph, held: Map<string, string>, wanted: Map<string, SegmentInput>) {
    return () => {
      for (const key of held.keys())
        if (!wanted.has(key)) {
          graph.removeSegment(key);
          held.delete(key);
        }
      for (const [key, input] of wanted) {
        const text = JSON.stringify(input);
        if (held.get(key) !== text) graph.putSegment(key, input);
        held.set(key, text);
      }
    };
  }

  const QUESTIONS = [
    'MATCH (a:Chip)-[:IS]->(p:Part) WHERE p.width >= 1 RETURN a, p.width AS width ORDER BY a.place, width',
    'MATCH (a:Chip)~[:JOINS]~(b:Chip), (a)-[:IS]->(p:Part)<-[:IS]-(b) RETURN p, COUNT(*) AS n ORDER BY n',
    'MATCH (h:House)<-[:IN]-(a:Chip) WHERE EXISTS { MATCH (a)-[:IS]->(p:Part) WHERE p.width > 1 } RETURN h, a',
  ];

  async function answersOf(
    graph: PatternGraph,
    align: (() => void) | undefined,
    where: 'here' | 'workers' | 'auto',
    segments?: readonly string[],
  ) {
    const options = { ...(align && { align }), where, ...(segments && { segments }) };
    const [rows, counts, matches, near] = await Promise.all([
      Promise.all(QUESTIONS.map(async (text) => (await runPattern(graph, text, options)).rows)),
      countBySegment(graph, QUESTIONS[1], options),
      collected(matchBySegment(graph, TEXT, { ...options, matchesPerSegment: 1000 })),
      nearMatches(graph, QUESTIONS[0], options),
    ]);
    const sorted = (list: readonly unknown[]) => list.map((one) => JSON.stringify(one)).sort();
    return {
      rows: rows.map(sorted),
      counts: [...counts.counts].sort(),
      matches: readOf(matches).map(([key, found]) => [key, sorted(found as unknown[])]),
      near: near.matches.map(({ key, missing }) => [key, missing.map(({ removed }) => removed.kind)]),
    };
  }

  test('each gets the answer of its own state, however many ask at once', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(state, fc.constantFrom('here', 'workers', 'auto')), { minLength: 2, maxLength: 4 }),
        async (asked) => {
          const shared = new PatternGraph();
          const held = new Map<string, string>();
          const found = await Promise.all(
            asked.map(async ([own, where]) => {
              const align = aligning(shared, held, segmentsOf(own));
              return [await answersOf(shared, align, where), await answersOf(shared, align, where)];
            }),
          );
          for (const [i, [own]] of asked.entries()) {
            const alone = new PatternGraph();
            for (const [key, input] of segmentsOf(own)) alone.putSegment(key, input);
            const expected = await answersOf(alone, undefined, 'here');
            expect(found[i]).toEqual([expected, expected]);
          }
          expect(shared.epochs.readers).toBe(0);
        },
      ),
      { numRuns: 40, seed: 20260401 },
    );
  });

  test('callers that may see different segments each get their own', async () => {
    const all: State = { parts: [1, 2], houses: [0, 1, 2, 3, 4] };
    const graph = new PatternGraph();
    for (const [key, input] of segmentsOf(all)) graph.putSegment(key, input);
    const views = [
      ['p0', 'p1', 'h0', 'h3'],
      ['p0', 'h1', 'h2'],
      ['p1', 'h4', 'h1'],
      ['p0', 'p1', 'h0', 'h1', 'h2', 'h3', 'h4'],
    ];
    const found = await Promise.all(
      views.flatMap((keys) =>
        (['here', 'workers'] as const).map((where) => answersOf(graph, undefined, where, keys)),
      ),
    );
    for (const [i, keys] of views.entries()) {
      const alone = new PatternGraph();
      const inputs = segmentsOf(all);
      for (const key of keys) alone.putSegment(key, inputs.get(key) as SegmentInput);
      const expected = await answersOf(alone, undefined, 'here');
      expect(found[i * 2]).toEqual(expected);
      expect(found[i * 2 + 1]).toEqual(expected);
    }
  });
});

describe('what a query may not see', () => {
  test('does not show in the numbers of a plan', async () => {
    const keys = ['p1', 'p2', 'h1', 'h2'];
    const seen = new PatternGraph();
    for (const id of ['p1', 'p2']) seen.putSegment(id, part(id, 1));
    for (const i of [1, 2]) seen.putSegment(`h${i}`, house(`h${i}`, 'c', 3 + (i % 3), i % 2 ? 'p1' : 'p2'));
    const withoutTime = async (graph: PatternGraph, segments?: readonly string[]) => {
      const { matches, count, text } = await explainPattern(graph, TEXT, segments ? { segments } : {});
      return { matches, count, text: text.replace(/in [\d.]+ ms/u, '') };
    };
    const expected = await withoutTime(seen);
    expect(expected.text).toMatch(/of 4 segments/u);
    expect(await withoutTime(town(60), keys)).toEqual(expected);
    // And there is something to hide.
    expect(await withoutTime(town(60))).not.toEqual(expected);
  });
});

test('labels by name and weight are the same as labels in a list', async () => {
  const lists = [
    ['A', { label: 'B', weight: 0.25 }, { label: 'C', weight: 0.5 }],
    [{ label: 'C', weight: 0.5 }, 'A', { label: 'B', weight: 0.25 }, { label: 'D', weight: 0 }],
    [
      { label: 'B', weight: 0.75 },
      { label: 'C', weight: 0.1 },
      'A',
      { label: 'B', weight: 0.25 },
      { label: 'C', weight: 0.5 },
    ],
  ];
  const weightsIn = (graph: PatternGraph, id: string) =>
    Object.fromEntries(
      graph.store.nodeLabels(graph.findNode(id)).map(({ label, weight }) => [label, weight]),
    );
  const graph = buildGraph(
    lists.map((labels, i) => ({ id: `n${i}`, labels })),
    [],
  );
  const map = new Map([
    ['C', 0.5],
    ['B', 0.25],
    ['A', 1],
    ['D', 0],
  ]);
  const mapped = buildGraph([{ id: 'm', labels: map }], []);
  for (const i of lists.keys()) expect(weightsIn(graph, `n${i}`)).toEqual({ A: 1, B: 0.25, C: 0.5 });
  expect(weightsIn(mapped, 'm')).toEqual({ A: 1, B: 0.25, C: 0.5 });
  expect((await countPattern(mapped, 'MATCH (a:A&B) RETURN a')).count).toBe(1);
  expect((await countPattern(mapped, 'MATCH (a:D) RETURN a')).count).toBe(0);
});
