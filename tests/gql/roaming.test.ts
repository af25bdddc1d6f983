import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { type BySegmentOptions, matchBySegment } from '../../src/gql/by-segment.ts';
import { defaultPool } from '../../src/gql/engine.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { nearMatches } from '../../src/gql/near.ts';
import type { SegmentInput } from '../../src/gql/storage/input.ts';

// Held against the definition: of all matches, those whose nodes stand in the segment, in one that is not grouped, or
// have a label that roams.

afterAll(() => defaultPool().close());

const ROAMING = ['Head'];
const SEGMENTS = ['s1', 's2', 's3', 's4'];
const SHARED = ['p1', 'p2', 'p3'];

/** A segment with a head, some chips that point to what all share, and edges among them. */
const segment = (key: string): fc.Arbitrary<SegmentInput> =>
  fc
    .record({
      chips: fc.array(fc.constantFrom(...SHARED), { minLength: 1, maxLength: 4 }),
      joined: fc.array(fc.tuple(fc.nat(3), fc.nat(3)), { maxLength: 3 }),
      follows: fc.option(fc.constantFrom(...SEGMENTS)),
      rank: fc.nat(3),
    })
    .map(({ chips, joined, follows, rank }) => ({
      nodes: [
        { id: `${key}/head`, labels: ['Head'], properties: { rank } },
        ...chips.map((_, i) => ({ id: `${key}/c${i}`, labels: i % 2 ? ['Chip', 'Odd'] : ['Chip'] })),
      ],
      edges: [
        ...chips.map((part, i) => ({ source: `${key}/c${i}`, target: part, label: 'IS' })),
        ...chips.map((_, i) => ({ source: `${key}/head`, target: `${key}/c${i}`, label: 'HAS' })),
        ...joined
          .filter(([a, b]) => a < chips.length && b < chips.length && a !== b)
          .map(([a, b]) => ({
            source: `${key}/c${a}`,
            target: `${key}/c${b}`,
            label: 'JOINS',
            directed: false,
          })),
        ...(follows && follows !== key
          ? [{ source: `${key}/head`, target: `${follows}/head`, label: 'FOLLOWS' }]
          : []),
      ],
    }));

const graphs = fc.tuple(...SEGMENTS.map(segment)).map((inputs) => {
  const graph = new PatternGraph();
  SHARED.forEach((id, i) => {
    graph.putSegment(id, {
      nodes: [{ id, labels: ['Part'], properties: { width: i } }],
      edges: [],
      grouped: false,
    });
  });
  inputs.forEach((input, i) => {
    graph.putSegment(SEGMENTS[i]!, input);
  });
  return graph;
});

const TEXTS = [
  'MATCH (a:Chip)-[:IS]->(p:Part)<-[:IS]-(b:Chip) RETURN *',
  'MATCH (a:Chip)-[:IS]->(p:Part), (b:Chip)-[:IS]->(q:Part) WHERE p.width < q.width RETURN *',
  'MATCH (a:Odd), (b:Chip) RETURN *',
  'MATCH (h:Head)-[:FOLLOWS]->(g:Head) RETURN *',
  'MATCH (c:Chip)<-[:HAS]-(h:Head)-[:FOLLOWS]->(g:Head)-[:HAS]->(d:Chip) RETURN *',
  'MATCH (c:Chip)<-[:HAS]-(h)-[:FOLLOWS]-(g)-[:HAS]-(d) RETURN *',
  'MATCH (a:Chip)-[:JOINS|IS]-{1,3}(b) RETURN *',
  'MATCH (h:Head) MATCH (a:Chip)-[:IS]->(p)<-[:IS]-(b) RETURN *',
  'MATCH (h:Head)-[:FOLLOWS]->(g) OPTIONAL MATCH (g)-[:HAS]->(c:Odd) RETURN h, g',
];

async function found(graph: PatternGraph, text: string, options: BySegmentOptions): Promise<string[]> {
  const matches: string[] = [];
  for await (const answer of matchBySegment(graph, text, { matchesPerSegment: 100_000, ...options }))
    for (const match of answer.matches) {
      const nodes = Object.entries(match.bindings).flatMap(([name, value]) =>
        value?.kind === 'node' ? [[name, value.id] as const] : [],
      );
      matches.push(JSON.stringify([answer.key, nodes]));
    }
  return matches.sort();
}

/**
 * The segments that a match belongs to, each as what `found` says of it: that of the nodes that do not roam, which have to be
 * in one; when all of them roam, those of all of them. The segment that it was found in does not matter.
 */
function belonging(match: string): readonly string[] {
  const [, nodes] = JSON.parse(match) as [string, [string, string][]];
  const ids = nodes.map(([, id]) => id).filter((id) => id.includes('/'));
  const keysOf = (some: readonly string[]) => [...new Set(some.map((id) => id.split('/')[0]!))];
  const bound = keysOf(ids.filter((id) => !id.endsWith('/head')));
  const keys = bound.length > 0 ? bound : keysOf(ids);
  return bound.length > 1 ? [] : keys.map((key) => JSON.stringify([key, nodes]));
}

function staysWithin(match: string): boolean {
  return belonging(match).includes(match);
}

/** Matches without the order in which their variables stand in the text. */
const unordered = (matches: readonly string[]) =>
  matches
    .map((match) => {
      const [key, nodes] = JSON.parse(match) as [string, [string, string][]];
      return JSON.stringify([key, nodes.sort(([a], [b]) => (a < b ? -1 : 1))]);
    })
    .sort();

/** Texts that say the same in another order. */
const ORDERS = [
  ['(h:Head)-[:FOLLOWS]->(g:Head)', '(g:Head)<-[:FOLLOWS]-(h:Head)'],
  ['(c:Chip)-[:IS]->(p)', '(p)<-[:IS]-(c:Chip)'],
  ['(c)-[x]->(p)', '(p)<-[x]-(c)'],
  [
    '(g:Head)<-[:FOLLOWS]-(h)-[:HAS]->(c:Chip)-[:IS]->(p)',
    '(p)<-[:IS]-(c:Chip)<-[:HAS]-(h)-[:FOLLOWS]->(g:Head)',
  ],
  ['(p:Part), (c:Odd)', '(c:Odd), (p:Part)'],
  ['(p:!Chip&!Head), (c:Odd)', '(c:Odd), (p:!Chip&!Head)'],
  [
    '(p:Part) MATCH (c:Odd)-[:IS]->(p)',
    '(c:Odd)-[:IS]->(p) MATCH (p:Part)',
    '(p)<-[:IS]-(c) MATCH (p:Part), (c:Odd)',
  ],
  ['(p:Part {width: 1}) MATCH (c:Odd)', '(c:Odd) MATCH (p:Part {width: 1})'],
];

describe('a match that lies within one segment', () => {
  for (const text of TEXTS.slice(0, 6))
    test(`${text}: all matches, less those that reach into others`, async () => {
      await fc.assert(
        fc.asyncProperty(graphs, fc.boolean(), fc.boolean(), async (graph, distinctNodes, naive) => {
          const all = await found(graph, text, { distinctNodes });
          const within = await found(graph, text, { distinctNodes, naive, roaming: ROAMING });
          expect(within).toEqual([...new Set(all.flatMap(belonging))].sort());
        }),
        { numRuns: 60 },
      );
    });

  for (const text of TEXTS.slice(6))
    test(`${text}: planned and in the order of the text, the same and nothing from elsewhere`, async () => {
      await fc.assert(
        fc.asyncProperty(graphs, fc.boolean(), async (graph, distinctNodes) => {
          const within = await found(graph, text, { distinctNodes, roaming: ROAMING });
          expect(within.filter((match) => !staysWithin(match))).toEqual([]);
          expect(await found(graph, text, { distinctNodes, naive: true, roaming: ROAMING })).toEqual(within);
        }),
        { numRuns: 40 },
      );
    });

  for (const [first, ...others] of ORDERS)
    test(`${first}: the same in whatever order it is written`, async () => {
      await fc.assert(
        fc.asyncProperty(graphs, fc.boolean(), async (graph, distinctNodes) => {
          const options = { distinctNodes, roaming: ROAMING };
          const one = unordered(await found(graph, `MATCH ${first} RETURN *`, options));
          for (const other of others)
            expect(unordered(await found(graph, `MATCH ${other} RETURN *`, options))).toEqual(one);
        }),
        { numRuns: 40 },
      );
    });

  test('an EXISTS about what all share finds other things in each segment', async () => {
    const joined = '(p)<-[:IS]-(b:Odd)~[:JOINS]~{1,2}(c)';
    await fc.assert(
      fc.asyncProperty(graphs, fc.constantFrom('', 'NOT '), async (graph, not) => {
        const ends = (matches: readonly string[]) =>
          new Set(
            matches.map((match) => {
              const [key, nodes] = JSON.parse(match) as [string, [string, string][]];
              return JSON.stringify([key, nodes.filter(([name]) => name === 'a' || name === 'p')]);
            }),
          );
        const options = { roaming: ROAMING };
        const having = ends(
          await found(graph, `MATCH (a:Chip)-[:IS]->(p:Part) MATCH ${joined} RETURN *`, options),
        );
        const every = await found(graph, 'MATCH (a:Chip)-[:IS]->(p:Part) RETURN *', options);
        const text = `MATCH (a:Chip)-[:IS]->(p:Part) WHERE ${not}EXISTS { MATCH ${joined} } RETURN *`;
        const expected = every.filter((match) => having.has(match) === (not === ''));
        expect(await found(graph, text, options)).toEqual(expected);
      }),
      { numRuns: 60 },
    );
  });

  test('is found however many there are that reach into others', async () => {
    const graph = new PatternGraph();
    graph.putSegment('p', { nodes: [{ id: 'p', labels: ['Part'] }], edges: [], grouped: false });
    for (let s = 100; s < 400; s++)
      graph.putSegment(`s${s}`, {
        nodes: [0, 1].map((c) => ({ id: `s${s}/c${c}`, labels: ['Chip'] })),
        edges: [0, 1].map((c) => ({ source: `s${s}/c${c}`, target: 'p', label: 'IS' })),
      });
    const options = { distinctNodes: true, roaming: [] };
    const all = await found(graph, TEXTS[0]!, { ...options, matchesPerSegment: 5, exactCounts: false });
    expect(all).toHaveLength(600);
    expect(await found(graph, TEXTS[0]!, { ...options, where: 'workers' })).toEqual(all);
  });

  test('is a near match only by what its own segment holds', async () => {
    const graph = new PatternGraph();
    graph.putSegment('p', { nodes: [{ id: 'p', labels: ['Part'] }], edges: [], grouped: false });
    for (const key of ['one', 'other'])
      graph.putSegment(key, {
        nodes: [{ id: `${key}/c`, labels: [key === 'one' ? 'Chip' : 'Coil'] }],
        edges: [{ source: `${key}/c`, target: 'p', label: 'IS' }],
      });
    const text = 'MATCH (a:Chip)-[:IS]->(p:Part)<-[:IS]-(b:Coil) RETURN *';
    const { matches } = await nearMatches(graph, text, { distinctNodes: true, roaming: [] });
    const bound = matches.flatMap(({ key, missing }) =>
      missing.flatMap(({ example }) =>
        Object.values(example?.bindings ?? {}).flatMap((value) =>
          value?.kind === 'node' && value.id.includes('/') ? [[key, value.id]] : [],
        ),
      ),
    );
    expect(bound.length).toBeGreaterThan(0);
    for (const [key, id] of bound) expect(id!.startsWith(`${key}/`)).toBe(true);
  });
});
