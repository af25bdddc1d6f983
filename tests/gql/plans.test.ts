/**
 * Plans on archives of the same habits and of several sizes: the same order, bindings in proportion to the devices, and
 * expected numbers near those that are found.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { defaultPool } from '../../src/gql/engine.ts';
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
