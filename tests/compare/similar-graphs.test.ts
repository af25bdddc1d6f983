import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { editDistance, MAX_EDIT_NODES } from '../../src/compare/similar/edit-distance.ts';
import {
  MIXED_NUMBERS,
  normalisedKernel,
  SubtreeLabels,
  sharedLabels,
  subtreeCounts,
  subtreeKernel,
} from '../../src/compare/similar/kernel.ts';
import { type LabelledGraph, labelledGraph } from '../../src/compare/similar/labelled-graph.ts';
import reference from '../reference/graph.json' with { type: 'json' };
import { exhaustiveDistance, graphs } from './labelled-graphs.ts';

const shapes = { ...reference.graphs, ...reference.patterns } as Readonly<
  Record<string, { readonly nodes: number; readonly edges: readonly (readonly number[])[] }>
>;
const shape = (name: string) =>
  labelledGraph(
    new Array<string>(shapes[name].nodes).fill('node'),
    shapes[name].edges.map(([a, b]) => [a, b] as const),
  );

/** A graph with its nodes in another order. */
function renumbered({ labels, neighbours }: LabelledGraph, order: readonly number[]): LabelledGraph {
  const place = new Map(order.map((node, at) => [node, at]));
  return {
    labels: order.map((node) => labels[node]),
    neighbours: order.map((node) =>
      neighbours[node].map((other) => place.get(other) as number).sort((a, b) => a - b),
    ),
  };
}

describe('Weisfeiler–Lehman subtree kernel', () => {
  // Computed from the definition of Shervashidze et al., JMLR 12 (2011) 2539-2561.
  for (const { a, b, iterations, kernel } of reference.weisfeiler_lehman_subtree.cases) {
    test(`${a} and ${b} at height ${iterations}`, () => {
      const known = new SubtreeLabels();
      const counts = [a, b].map((name) => subtreeCounts(shape(name), iterations, known));
      expect(subtreeKernel(counts[0], counts[1])).toBe(kernel);
      const mixed = [a, b].map((name) => subtreeCounts(shape(name), iterations, MIXED_NUMBERS));
      expect(subtreeKernel(mixed[0], mixed[1])).toBe(kernel);
    });
  }

  test('is symmetric, 1 with itself however the nodes are numbered, and never above 1', () =>
    fc.assert(
      fc.property(
        graphs(8).chain((graph) =>
          fc.tuple(
            fc.constant(graph),
            fc.shuffledSubarray([...graph.labels.keys()], { minLength: graph.labels.length }),
          ),
        ),
        graphs(8),
        fc.integer({ min: 0, max: 4 }),
        ([graph, order], other, height) => {
          const known = new SubtreeLabels();
          const [one, again, two] = [graph, renumbered(graph, order), other].map((each) =>
            subtreeCounts(each, height, known),
          );
          expect(again).toEqual(one);
          expect(subtreeKernel(one, two)).toBe(subtreeKernel(two, one));
          expect(normalisedKernel(one, two)).toBeLessThanOrEqual(1);
          if (graph.labels.length > 0) expect(normalisedKernel(one, again)).toBeCloseTo(1, 12);
        },
      ),
    ));

  test('shares of what two graphs have in common add up to the total', () =>
    fc.assert(
      fc.property(graphs(8), graphs(8), (a, b) => {
        const known = new SubtreeLabels();
        const [one, two] = [a, b].map((each) => subtreeCounts(each, 3, known));
        const shared = sharedLabels(one, two);
        if (subtreeKernel(one, two) === 0) expect(shared).toEqual([]);
        else expect(shared.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
      }),
    ));

  test('numbers mixed from labels give the same kernel as a table of labels', () =>
    fc.assert(
      fc.property(graphs(10), graphs(10), (a, b) => {
        const known = new SubtreeLabels();
        const kernelBy = (numbers: typeof MIXED_NUMBERS) =>
          subtreeKernel(subtreeCounts(a, 3, numbers), subtreeCounts(b, 3, numbers));
        expect(kernelBy(MIXED_NUMBERS)).toBe(kernelBy(known));
      }),
      { numRuns: 300 },
    ));
});

describe('exact graph edit distance', () => {
  // Computed with NetworkX 2.8.8, graph_edit_distance, all costs 1.
  for (const { a, b, distance } of reference.edit_distance_unit_costs) {
    test(`${a} to ${b}`, async () => {
      expect((await editDistance(shape(a), shape(b))).distance).toBe(distance);
      expect((await editDistance(shape(b), shape(a))).distance).toBe(distance);
    });
  }

  test('no mapping of nodes needs fewer edits', () =>
    fc.assert(
      fc.asyncProperty(graphs(5), graphs(5), async (a, b) => {
        const { distance, becomes, ...edits } = await editDistance(a, b);
        expect(distance).toBe(exhaustiveDistance(a, b));
        expect(Object.values(edits).reduce((sum, value) => sum + value, 0)).toBe(distance);
        expect(becomes).toHaveLength(a.labels.length);
      }),
      { numRuns: 150 },
    ));

  test('is 0 for the same graph with its nodes renumbered, symmetric, and keeps the triangle inequality', () =>
    fc.assert(
      fc.asyncProperty(graphs(6), graphs(6), graphs(6), async (a, b, c) => {
        const order = [...a.labels.keys()].reverse();
        expect((await editDistance(a, renumbered(a, order))).distance).toBe(0);
        const [ab, ba, bc, ac] = await Promise.all(
          [
            [a, b],
            [b, a],
            [b, c],
            [a, c],
          ].map(async ([x, y]) => (await editDistance(x, y)).distance),
        );
        expect(ab).toBe(ba);
        expect(ac).toBeLessThanOrEqual(ab + bc);
      }),
      { numRuns: 60 },
    ));

  test('states its limits, and ends when cancelled', async () => {
    const large = labelledGraph(new Array<string>(MAX_EDIT_NODES + 1).fill('a'), []);
    await expect(editDistance(large, shape('C4'))).rejects.toMatchObject({ code: 'TOO_LARGE' });
    await expect(editDistance(shape('petersen'), shape('frucht'), { mostSteps: 1 })).rejects.toMatchObject({
      code: 'OUT_OF_BUDGET',
    });
    const gone = new AbortController();
    setImmediate(() => gone.abort());
    const running = editDistance(shape('heawood'), shape('frucht'), { signal: gone.signal });
    await expect(running).rejects.toThrow(/abort/iu);
  });
});
