import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/statistics/random.ts';
import { ChanceModel } from '../../src/structures/chance.ts';
import { graphStore, type InputGraph } from '../../src/structures/graph-store.ts';
import { Miner } from '../../src/structures/miner.ts';
import { symmetries } from '../../src/structures/occurrences.ts';

const random = seededRandom(7);

/** Chain 0 - 1 - 2 of three labels, one link label. */
const CHAIN = {
  labels: [0, 1, 2],
  edges: [
    { from: 0, to: 1, link: 0 },
    { from: 1, to: 2, link: 0 },
  ],
};

const graph = (group: number, labels: readonly number[], edges: readonly [number, number][]): InputGraph => ({
  group,
  labels: labels.map((label) => [label]),
  edges: edges.map(([a, b]) => [a, b, 0] as const),
});

describe('what chance gives, calculated by hand', () => {
  test('two links, each with two possible middles, meet half the time', () => {
    const all = Array.from({ length: 10 }, (_, at) =>
      graph(
        at,
        [0, 1, 1, 2],
        at < 8
          ? [
              [0, 1],
              [1, 3],
            ]
          : [
              [0, 1],
              [2, 3],
            ],
      ),
    );
    const chance = new ChanceModel(graphStore(all), 10).of(CHAIN, 8, random.stream('half'));
    expect(Math.abs(chance.meeting - 0.5)).toBeLessThan(5 * chance.meetingError);
    expect(chance.expected).toBeCloseTo(10 * chance.meeting, 12);
    expect(chance.lift).toBeCloseTo(0.8 / chance.meeting, 12);
    // Wilson's interval of 8 of 10 is 0.4902 to 0.9433 (worked example after Newcombe 1998, from the formula).
    expect((chance.liftInterval?.low as number) * chance.meeting).toBeCloseTo(0.4902, 3);
    expect((chance.liftInterval?.high as number) * chance.meeting).toBeCloseTo(0.9433, 3);
  });

  test('links in half the devices each, where they must meet, are expected together in a quarter', () => {
    // Ten devices have both links, ten have neither: expected 20 * 1/2 * 1/2 = 5, found 10, lift 2.
    const all = Array.from({ length: 20 }, (_, at) =>
      graph(
        at,
        [0, 1, 2],
        at < 10
          ? [
              [0, 1],
              [1, 2],
            ]
          : [],
      ),
    );
    const chance = new ChanceModel(graphStore(all), 20).of(CHAIN, 10, random);
    expect(chance).toMatchObject({ expected: 5, meeting: 1, meetingError: 0, lift: 2 });
  });

  test('a single link is as frequent as chance', () => {
    const all = Array.from({ length: 9 }, (_, at) =>
      graph(
        at,
        [0, 1, 1],
        at < 4
          ? [
              [0, 1],
              [0, 2],
            ]
          : [],
      ),
    );
    const one = { labels: [0, 1], edges: [{ from: 0, to: 1, link: 0 }] };
    expect(new ChanceModel(graphStore(all), 9).of(one, 4, random).lift).toBe(1);
    expect(new ChanceModel(graphStore(all), 9).roughLift(one, 4)).toBe(1);
  });

  test('two links of one kind at one component: both of the two there are, of three places each', () => {
    // Label 0 once, label 1 three times, two links: both always end at the one component. With label 0 twice, the two
    // of six pairs share a component of label 0 in 2 * C(3, 2) of C(6, 2) cases: 6 / 15.
    const fork = {
      labels: [0, 1, 1],
      edges: [
        { from: 0, to: 1, link: 0 },
        { from: 0, to: 2, link: 0 },
      ],
    };
    const all = Array.from({ length: 6 }, (_, at) =>
      graph(
        at,
        [0, 0, 1, 1, 1],
        [
          [0, 2],
          [0, 3],
        ],
      ),
    );
    const chance = new ChanceModel(graphStore(all), 6).of(fork, 6, random.stream('fork'));
    expect(Math.abs(chance.meeting - 6 / 15)).toBeLessThan(5 * chance.meetingError);
  });
});

test('over graphs whose links are random, structures are as frequent as expected', () => {
  const draw = seededRandom(11);
  const labels = [0, 0, 1, 1, 2, 2, 3, 3];
  const all = Array.from({ length: 400 }, (_, group) => {
    const edges: [number, number][] = [];
    for (let a = 0; a < labels.length; a++)
      for (let b = a + 1; b < labels.length; b++) if (draw.chance(0.15)) edges.push([a, b]);
    return graph(group, labels, edges);
  });
  const store = graphStore(all);
  const miner = new Miner(store, { minSupport: 20, minSize: 3, maxSize: 3 });
  while (miner.step());
  const chances = new ChanceModel(store, 400);
  const lifts = miner.found.map(
    (one, at) => chances.of(one, one.groups.length, draw.stream(String(at))).lift as number,
  );
  expect(lifts.length).toBeGreaterThan(20);
  const mean = lifts.reduce((sum, lift) => sum + lift, 0) / lifts.length;
  expect(mean).toBeGreaterThan(0.93);
  expect(mean).toBeLessThan(1.07);
  expect(Math.min(...lifts)).toBeGreaterThan(0.6);
  expect(Math.max(...lifts)).toBeLessThan(1.5);
});

test('symmetries: of a path two, of a star of three equal arms six, of a triangle six, of unlike labels one', () => {
  const link = (from: number, to: number) => ({ from, to, link: 0 });
  const path = { labels: [1, 0, 1], edges: [link(0, 1), link(1, 2)] };
  const star = { labels: [0, 1, 1, 1], edges: [link(0, 1), link(0, 2), link(0, 3)] };
  const triangle = { labels: [0, 0, 0], edges: [link(0, 1), link(1, 2), link(2, 0)] };
  expect([path, star, triangle, CHAIN].map((one) => symmetries(one, [0, 1]))).toEqual([2, 6, 6, 1]);
});

test('symmetries times sets of nodes are the embeddings of trees', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.nat(5), fc.nat(5)), { minLength: 3, maxLength: 9 }),
      fc.array(fc.nat(1), { minLength: 6, maxLength: 6 }),
      (edges, labels) => {
        const miner = new Miner(graphStore([graph(0, labels, edges)]), {
          minSupport: 1,
          minSize: 2,
          maxSize: 4,
          closedOnly: false,
        });
        while (miner.step());
        for (const one of miner.found) expect(one.embeddings % symmetries(one, [0])).toBe(0);
      },
    ),
    { numRuns: 60 },
  );
});
