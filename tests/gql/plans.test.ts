/**
 * Plans on archives of the same habits and of several sizes: the same order, bindings in proportion to the devices, and
 * expected numbers near those that are found.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { type BySegmentOptions, matchBySegment } from '../../src/gql/by-segment.ts';
import { countPattern, defaultPool } from '../../src/gql/engine.ts';
import { explainPattern } from '../../src/gql/explain.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { deviceSegment, flatTables, partsSegment, type Style } from '../bench/match-flat-archive.ts';
import { FLAT_PATTERNS, flatText } from '../bench/match-flat-patterns.ts';

afterAll(() => defaultPool().close());

const SIZES = [400, 3200];

function archive(devices: number, style: Style): PatternGraph {
  const t = flatTables(devices, 30);
  const graph = new PatternGraph();
  graph.putSegment('parts', partsSegment(t));
  for (let d = 0; d < t.devices; d++) graph.putSegment(`d${d}`, deviceSegment(t, d, style));
  return graph;
}

describe.each(['property', 'label'] as const)('categories as %s', (style) => {
  const graphs = SIZES.map((devices) => archive(devices, style));

  test.each(FLAT_PATTERNS.map((p) => [p.name, p] as const))('%s', async (_, pattern) => {
    const found = [];
    for (const graph of graphs) {
      const { matches } = await explainPattern(graph, flatText(pattern, style), { where: 'here' });
      const { steps } = matches[0]!;
      found.push(steps.reduce((sum, { real }) => sum + real!, 0));
      for (const { text, estimated, real } of steps) {
        // Few bindings are as many as chance has it.
        if (real! < 300) continue;
        const factor = Math.max(estimated! / real!, real! / estimated!);
        expect([text, estimated, real, factor < 4]).toEqual([text, estimated, real, true]);
      }
    }
    expect(found[1]!).toBeLessThan(found[0]! * (SIZES[1]! / SIZES[0]!) * 2 + 100);
  });
});

describe('candidate sets in a single large segment', () => {
  const t = flatTables(60, 60);
  const segments = [
    partsSegment(t),
    ...Array.from({ length: t.devices }, (_, d) => deviceSegment(t, d, 'label')),
  ];
  const graph = new PatternGraph();
  graph.putSegment('all', {
    nodes: segments.flatMap(({ nodes }) => nodes),
    edges: segments.flatMap(({ edges }) => edges ?? []),
  });
  const kinds = async (text: string) => {
    const { matches } = await explainPattern(graph, text, { where: 'here' });
    return new Set(matches[0]!.steps.map(({ kind }) => kind));
  };

  test('are not made for a chain of rare things, which loops are through with sooner', async () => {
    const chain = FLAT_PATTERNS.find(({ name }) => name === 'chain of eight')!;
    expect(await kinds(flatText(chain, 'label'))).toEqual(new Set(['scan', 'walk']));
  });

  test('are made for a chain of what there is most of, and for a large cycle', async () => {
    const common = Array.from({ length: 8 }, (_, i) => `(n${i}:Capacitor|Resistor)`).join('~[:WIRED]~');
    expect(await kinds(`MATCH ${common} RETURN COUNT(*) AS n`)).toEqual(new Set(['candidates']));
    const cycle = Array.from({ length: 6 }, (_, i) => `(n${i}:Capacitor|Resistor)`).join('~[:WIRED]~');
    expect(await kinds(`MATCH ${cycle}~[:WIRED]~(n0) RETURN COUNT(*) AS n`)).toEqual(new Set(['candidates']));
  });
});

describe('entries looked at, segment by segment', () => {
  const PARTS = 100;
  const DEVICES = 600;
  const graph = new PatternGraph();
  for (let p = 0; p < PARTS; p++)
    graph.putSegment(`part ${p}`, {
      nodes: [{ id: `p${p}`, labels: ['Part'], properties: { width: p % 7 } }],
      grouped: false,
    });
  for (let d = 0; d < DEVICES; d++)
    graph.putSegment(`device ${d}`, {
      nodes: [0, 1, 2].map((c) => ({ id: `d${d}c${c}`, labels: ['Chip'] })),
      edges: [0, 1, 2].map((c) => ({
        source: `d${d}c${c}`,
        target: `p${(d * 3 + c * 11) % PARTS}`,
        label: 'IS',
      })),
    });

  async function matchesWithin(text: string, steps: number, from: PatternGraph = graph): Promise<number> {
    const options: BySegmentOptions = { where: 'here', roaming: [], budgets: { steps } };
    const answers = matchBySegment(from, text, options);
    let sum = 0;
    for (;;) {
      const { done, value } = await answers.next();
      if (!done) sum += value.count;
      else {
        expect([text, value.shortage]).toEqual([text, undefined]);
        return sum;
      }
    }
  }

  test('a second part of the pattern begins in the segment, not with all that segments share', async () => {
    let expected = 0;
    const width = (d: number, c: number) => ((d * 3 + c * 11) % PARTS) % 7;
    for (let d = 0; d < DEVICES; d++)
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) if (a !== b && width(d, a) < width(d, b)) expected++;
    const text =
      'MATCH (a:Chip)-[:IS]->(p:Part), (b:Chip)-[:IS]->(q:Part) WHERE p.width < q.width AND NOT SAME(a, b) RETURN a, b';
    expect(await matchesWithin(text, 60_000)).toBe(expected);
  });

  // One hub with many ways to each of some ends, at each of which a search is asked for.
  const WAYS = 60;
  const ENDS = 5;
  const TAIL = 100;
  const ends = Array.from({ length: ENDS }, (_, e) => e);
  const ways = Array.from({ length: WAYS }, (_, w) => w);
  const hub = new PatternGraph();
  hub.putSegment('hub', {
    nodes: [
      { id: 'hub', labels: ['Hub'] },
      ...ways.map((w) => ({ id: `w${w}`, labels: ['Way'] })),
      ...ends.map((e) => ({ id: `e${e}`, labels: ['End'] })),
      ...ends.flatMap((e) =>
        Array.from({ length: TAIL }, (_, t) => ({ id: `t${e} ${t}`, labels: [t === 0 ? 'Last' : 'Tail'] })),
      ),
    ],
    edges: [
      ...ways.map((w) => ({ source: 'hub', target: `w${w}`, label: 'TO' })),
      ...ways.flatMap((w) => ends.map((e) => ({ source: `w${w}`, target: `e${e}`, label: 'TO' }))),
      ...ends.flatMap((e) =>
        Array.from({ length: TAIL }, (_, t) => ({
          source: `e${e}`,
          target: `t${e} ${TAIL - 1 - t}`,
          label: 'NEXT',
        })),
      ),
    ],
  });
  const SEARCH = 'MATCH (e)-[:NEXT]->{1,2}(t:Last)';

  test('an EXISTS is answered once for what it reads', async () => {
    const text = `MATCH (h:Hub)-[:TO]->(w:Way)-[:TO]->(e:End) WHERE EXISTS { ${SEARCH} } RETURN w, e`;
    const steps = ENDS * TAIL * 2 + WAYS * ENDS * 4 + 4_000;
    expect(await matchesWithin(text, steps, hub)).toBe(WAYS * ENDS);
    expect((await countPattern(hub, text, { where: 'here', budgets: { steps } })).count).toBe(WAYS * ENDS);
  });

  test('an EXISTS that reads a list as well is answered for each', async () => {
    const text = `MATCH (h:Hub)-[r:TO]->{2,2}(e:End) WHERE EXISTS { ${SEARCH} WHERE SIZE(r) = 2 } RETURN e`;
    expect(await matchesWithin(text, 1_000_000, hub)).toBe(WAYS * ENDS);
  });
});
