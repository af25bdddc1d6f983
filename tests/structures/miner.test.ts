import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isMinimal } from '../../src/structures/dfs-code.ts';
import { graphStore, type InputGraph } from '../../src/structures/graph-store.ts';
import { type Mined, Miner, type MinerOptions } from '../../src/structures/miner.ts';
import { canonical, closedByTrying, frequentByTrying } from './brute-force.ts';

function mined(
  graphs: readonly InputGraph[],
  options: MinerOptions,
  reverse?: (link: number) => number,
): readonly Mined[] {
  const miner = new Miner(graphStore(graphs, reverse), options);
  let before = 0;
  do {
    expect(miner.fraction).toBeGreaterThanOrEqual(before);
    before = miner.fraction;
  } while (miner.step());
  expect(miner.fraction).toBe(1);
  return miner.found;
}

function byName(found: readonly Mined[], reverse?: (link: number) => number): Map<string, number[]> {
  const names = new Map(
    found.map(({ labels, edges, groups }) => [
      canonical({ labels, edges: edges.map(({ from, to, link }) => [from, to, link]) }, reverse),
      [...groups],
    ]),
  );
  expect(names.size).toBe(found.length);
  return names;
}

/** Labels of edges without direction. */
const SAME = [0, 1, 2, 3];

const sorted = (map: Map<string, number[]>) => [...map].sort(([a], [b]) => (a < b ? -1 : 1));

/** Small graphs with few labels, so that much recurs; parallel edges of different labels among them. */
const graphs = (labelsOfNode: fc.Arbitrary<number[]>, most = 6, edges = { minLength: 0, maxLength: 8 }) =>
  fc
    .array(
      fc.integer({ min: 2, max: most }).chain((size) =>
        fc.record({
          labels: fc.array(labelsOfNode, { minLength: size, maxLength: size }),
          edges: fc.array(
            fc.tuple(
              fc.integer({ min: 0, max: size - 1 }),
              fc.integer({ min: 0, max: size - 1 }),
              fc.integer({ min: 0, max: 1 }),
            ),
            edges,
          ),
        }),
      ),
      { minLength: 1, maxLength: 5 },
    )
    .chain((all) =>
      fc.array(fc.boolean(), { minLength: all.length, maxLength: all.length }).map((joins): InputGraph[] => {
        let group = 0;
        return all.map((one, at) => {
          if (at > 0 && !joins[at]) group++;
          return { ...one, group };
        });
      }),
    );

const oneLabel = fc.integer({ min: 0, max: 2 }).map((label) => [label]);
/** Whoever has the narrower label 2 has label 0 as well. */
const someLabels = fc
  .uniqueArray(fc.integer({ min: 0, max: 2 }), { maxLength: 2 })
  .map((own) => [...new Set(own.includes(2) ? [0, ...own] : own)]);
const LIMITS = [
  { minSupport: 1, minSize: 2, maxSize: 4, maxEdges: 5 },
  { minSupport: 2, minSize: 2, maxSize: 5 },
  { minSupport: 2, minSize: 3, maxSize: 3 },
];

// The published check would be a graph data set with counts of a reference implementation; see reference.test.ts for
// one. Here everything is tried on small random graphs, parallel edges and nodes of several labels included.
describe('against exhaustive enumeration', () => {
  test.each(LIMITS)('frequent structures and their devices, %j', (limits) => {
    fc.assert(
      fc.property(graphs(oneLabel), (all) => {
        const expected = sorted(frequentByTrying(all, limits)).filter(
          ([name]) => name.split(' | ')[0].split(' ').length >= limits.minSize,
        );
        expect(sorted(byName(mined(all, { ...limits, closedOnly: false })))).toEqual(expected);
      }),
      { numRuns: 150 },
    );
  });

  test.each(LIMITS)('closed structures, %j', (limits) => {
    fc.assert(
      fc.property(graphs(oneLabel), (all) => {
        expect(sorted(byName(mined(all, limits)))).toEqual(sorted(closedByTrying(all, limits)));
      }),
      { numRuns: 120 },
    );
  });

  test('closed structures of dense graphs of one kind', () => {
    const limits = { minSupport: 2, minSize: 2, maxSize: 4 };
    fc.assert(
      fc.property(graphs(fc.constant([0]), 5, { minLength: 6, maxLength: 11 }), (all) => {
        expect(sorted(byName(mined(all, limits)))).toEqual(sorted(closedByTrying(all, limits)));
      }),
      { numRuns: 60 },
    );
  });

  test('nodes of several labels, none among them, and labels that are narrower than others', () => {
    const isNarrower = (label: number, than: number) => label === 2 && than === 0;
    const limits = { minSupport: 2, minSize: 2, maxSize: 4 };
    fc.assert(
      fc.property(graphs(someLabels, 5), (all) => {
        const expected = sorted(closedByTrying(all, limits, isNarrower));
        expect(sorted(byName(mined(all, { ...limits, isNarrower })))).toEqual(expected);
      }),
      { numRuns: 150 },
    );
  });

  // Label 0 has no direction; 1 is called 2 from its other end.
  const turned = (link: number) => [0, 2, 1][link];
  test.each(LIMITS)('edges with direction beside such without, %j', (limits) => {
    fc.assert(
      fc.property(graphs(oneLabel, 5), (all) => {
        expect(sorted(byName(mined(all, limits, turned), turned))).toEqual(
          sorted(closedByTrying(all, limits, undefined, turned)),
        );
        const every = sorted(byName(mined(all, { ...limits, closedOnly: false }, turned), turned));
        expect(every).toEqual(
          sorted(frequentByTrying(all, limits, turned)).filter(
            ([name]) => name.split(' | ')[0].split(' ').length >= limits.minSize,
          ),
        );
      }),
      { numRuns: 150 },
    );
  });

  test('directed edges between nodes of several labels', () => {
    const isNarrower = (label: number, than: number) => label === 2 && than === 0;
    const limits = { minSupport: 2, minSize: 2, maxSize: 4 };
    fc.assert(
      fc.property(graphs(someLabels, 5), (all) => {
        const expected = sorted(closedByTrying(all, limits, isNarrower, turned));
        expect(sorted(byName(mined(all, { ...limits, isNarrower }, turned), turned))).toEqual(expected);
      }),
      { numRuns: 150 },
    );
  });

  // Stars, cliques and lines behind them: most nodes have twins, so that a mistake about these would show.
  test('graphs full of interchangeable nodes', () => {
    const limits = { minSupport: 2, minSize: 2, maxSize: 4 };
    const twinned = fc
      .array(
        fc.record({
          hub: fc.integer({ min: 0, max: 2 }),
          leaves: fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 3 }),
          link: fc.integer({ min: 0, max: 2 }),
          clique: fc.boolean(),
          tail: fc.boolean(),
        }),
        { minLength: 2, maxLength: 3 },
      )
      .map((all) =>
        all.map(({ hub, leaves, link, clique, tail }, group): InputGraph => {
          const labels = [[hub]];
          const edges: [number, number, number][] = [];
          for (const [label, count] of leaves.entries()) {
            const own = Array.from({ length: count }, () => labels.push([label % 3]) - 1);
            for (const leaf of own) edges.push([0, leaf, (link + label) % 3]);
            if (clique) own.forEach((a, at) => own.slice(at + 1).forEach((b) => edges.push([a, b, 0])));
          }
          if (tail) edges.push([labels.length - 1, labels.push([1]) - 1, 1]);
          return { group, labels, edges };
        }),
      );
    fc.assert(
      fc.property(twinned, (all) => {
        const found = mined(all, limits, turned);
        expect(sorted(byName(found, turned))).toEqual(sorted(closedByTrying(all, limits, undefined, turned)));
      }),
      { numRuns: 120 },
    );
  });

  test('the order of graphs and of their nodes changes no count', () => {
    const limits = { minSupport: 2, minSize: 2, maxSize: 4 };
    fc.assert(
      fc.property(graphs(oneLabel), fc.infiniteStream(fc.nat()), (all, random) => {
        const turned = all.map(({ labels, edges }, group) => {
          const shift = (random.next().value as number) % labels.length;
          const to = (node: number) => (node + shift) % labels.length;
          return {
            group,
            labels: labels.map((_, node) => labels[(node - shift + labels.length) % labels.length]),
            edges: edges.map(([a, b, link]) => [to(b), to(a), link] as const).reverse(),
          };
        });
        const apart = all.map((one, group) => ({ ...one, group }));
        expect(sorted(byName(mined(turned, limits)))).toEqual(sorted(byName(mined(apart, limits))));
      }),
      { numRuns: 60 },
    );
  });
});

test('the minimum DFS code of the worked example is accepted, its other codes are not', () => {
  // Figure 1 and table 1 of Yan & Han 2002 (labels X Y X Z Z as 0 1 0 2 2, edges a b c d as 0 1 2 3), from memory.
  const least = {
    labels: [0, 0, 1, 2, 2],
    edges: [
      { from: 0, to: 1, link: 0 },
      { from: 1, to: 2, link: 0 },
      { from: 2, to: 0, link: 1 },
      { from: 2, to: 3, link: 1 },
      { from: 3, to: 0, link: 2 },
      { from: 2, to: 4, link: 3 },
    ],
  };
  expect(isMinimal(least, SAME)).toBe(true);
  const alpha = {
    labels: [0, 1, 0, 2, 2],
    edges: [
      { from: 0, to: 1, link: 0 },
      { from: 1, to: 2, link: 1 },
      { from: 2, to: 0, link: 0 },
      { from: 2, to: 3, link: 2 },
      { from: 3, to: 1, link: 1 },
      { from: 1, to: 4, link: 3 },
    ],
  };
  expect(isMinimal(alpha, SAME)).toBe(false);
});
