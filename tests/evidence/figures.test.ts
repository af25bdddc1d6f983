import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { auditClaims } from '../../src/evidence/audit.ts';
import { workedFigure } from '../../src/evidence/figures.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { type Figure, figureSchema } from '../../src/model/figure.ts';
import type { State } from '../../src/state/state.ts';
import { trend } from '../../src/trends/trends.ts';
import { catalogueChanges } from '../state/archive-of.ts';
import { chip, liveWith, type Made, many, seen, viewOf } from '../trends/made.ts';

// Held against the enumeration of every way in which the doubtful chips may turn out: each is what it may be or is not,
// independently of the others.

/** Probability of each number of hits among trials, by going through all outcomes. */
function countsOf(chances: readonly number[]): readonly number[] {
  const counts = new Array<number>(chances.length + 1).fill(0);
  for (let outcome = 0; outcome < 2 ** chances.length; outcome++) {
    let probability = 1;
    let hits = 0;
    chances.forEach((chance, at) => {
      const hit = ((outcome >> at) & 1) === 1;
      probability *= hit ? chance : 1 - chance;
      if (hit) hits++;
    });
    counts[hits] += probability;
  }
  return counts;
}

const figureOf = (written: object): Figure => figureSchema.parse(written);
const worked = (view: State, written: object) => workedFigure(view, figureOf(written));

const chances = (most: number) =>
  fc.array(
    fc.integer({ min: 0, max: 20 }).map((twentieths) => twentieths / 20),
    { maxLength: most },
  );
/** One device for each chance that it hears. */
const hearing = (each: readonly number[]): Made[] =>
  each.map((chance, at) => ({ id: `d${at}`, released: '2020', chips: [chip('Microphone', chance)] }));

const between = (counts: readonly number[], low: number, high: number) =>
  counts.reduce((sum, p, k) => (k >= low && k <= high ? sum + p : sum), 0);

describe('counts and shares of devices', () => {
  test('a count within bounds, for any bounds', async () => {
    await fc.assert(
      fc.asyncProperty(chances(7), fc.nat(8), fc.nat(8), async (each, atLeast, atMost) => {
        const view = viewOf(hearing(each));
        const { probability, devices } = await worked(view, {
          count: { category: 'Microphone' },
          atLeast,
          atMost,
        });
        expect(devices).toHaveLength(each.length);
        const expected = each.length === 0 ? 0 : between(countsOf(each), atLeast, atMost);
        expect(probability).toBeCloseTo(expected, 8);
      }),
      { numRuns: 60 },
    );
  });

  test('a share within bounds: tenths of any number of devices, without the dust of binary fractions', async () => {
    await fc.assert(
      fc.asyncProperty(chances(7), fc.nat(10), fc.nat(10), async (each, low, high) => {
        const view = viewOf(hearing(each));
        const figure = { share: { category: 'Microphone' }, atLeast: low / 10, atMost: high / 10 };
        const { probability } = await worked(view, figure);
        // Counts k with low/10 <= k/n <= high/10, in whole numbers.
        const fits = (k: number) => low * each.length <= 10 * k && 10 * k <= high * each.length;
        const expected = countsOf(each).reduce((sum, p, k) => (fits(k) ? sum + p : sum), 0);
        expect(probability).toBeCloseTo(each.length === 0 ? 0 : expected, 8);
      }),
      { numRuns: 60 },
    );
  });

  test.each([
    ['at least 100 %: all of them', [1, 0.5, 0.5], { atLeast: 1 }, 0.25],
    ['at most 0 %: none of them', [0.2, 0.5], { atMost: 0 }, 0.4],
    ['exactly one half', [1, 0.3], { atLeast: 0.5, atMost: 0.5 }, 0.7],
    ['of no devices nothing is so', [], { atLeast: 0 }, 0],
    ['at least more than there are', [1, 1], { atLeast: 1 }, 1],
  ])('%s', async (_, each, bounds, expected) => {
    const figure = { share: { category: 'Microphone' }, ...bounds };
    expect((await worked(viewOf(hearing(each)), figure)).probability).toBeCloseTo(expected, 9);
  });

  test('a decision counts with the strength of its pattern, and only where the filter lets it', async () => {
    // Strength 0.5: two devices that hear for certain make 0.25 for both.
    const view = viewOf([
      ...hearing([1, 1]),
      { id: 'other', released: '2020', chips: [chip('Microphone')], more: { bodySite: 'ear' } },
    ]);
    const where = { bodySite: 'wrist' };
    const both = await worked(view, { count: { decision: 'hears' }, where, atLeast: 2 });
    expect(both.probability).toBeCloseTo(0.25, 9);
    expect(both.devices).toEqual(['d0', 'd1']);
    const shape = await worked(view, { count: { pattern: 'hears' }, where, atLeast: 2 });
    expect(shape.probability).toBe(1);
  });
});

test('a comparison of two devices, chip by chip', async () => {
  await fc.assert(
    fc.asyncProperty(chances(4), chances(4), async (first, second) => {
      const device = (id: string, each: readonly number[]): Made => ({
        id,
        released: '2020',
        chips: each.map((chance) => chip('Microphone', chance)),
      });
      const view = viewOf([device('a', first), device('b', second)]);
      const [p, q] = [countsOf(first), countsOf(second)];
      const sum = (holds: (a: number, b: number) => boolean) =>
        p.reduce((all, x, a) => all + q.reduce((some, y, b) => (holds(a, b) ? some + x * y : some), 0), 0);
      for (const [says, holds] of [
        ['more', (a: number, b: number) => a > b],
        ['fewer', (a: number, b: number) => a < b],
        ['as-many', (a: number, b: number) => a === b],
      ] as const) {
        const figure = { compare: 'Microphone', devices: ['a', 'b'], says };
        expect((await worked(view, figure)).probability).toBeCloseTo(sum(holds), 8);
      }
    }),
    { numRuns: 40 },
  );
});

describe('a trend', () => {
  // Five devices a year; the share that hears rises from none to all.
  const rising = [0, 1, 2, 3, 4, 5].flatMap((hear, at) => {
    const released = String(2015 + at);
    return [
      ...many(hear, { released, chips: [chip('Microphone')] }, `hears-${at}`),
      ...many(5 - hear, { released }, `deaf-${at}`),
    ];
  });

  test.each([
    ['rising', true],
    ['falling', false],
  ])('%s is found or not, which is no probability', async (says, isFound) => {
    const figure = { trend: { category: 'Microphone' }, says };
    expect(await worked(viewOf(rising), figure)).toMatchObject({ probability: null, isFound });
  });

  test.each(['year', 'half-year', 'quarter'] as const)(
    'has the verdict that trends give, by %s',
    async (per) => {
      const view = viewOf(rising.map((one) => ({ ...one, released: `${one.released}-05` })));
      for (const subject of [{ category: 'Microphone' }, { pattern: 'hears' }, { decision: 'hears' }]) {
        const { total } = await trend(view, { of: { share: subject }, per, where: {} });
        const figure = await worked(view, { trend: subject, per, says: 'rising' });
        expect(figure.found).toBe(total.verdict.sentence);
        expect(figure.isFound).toBe(total.verdict.direction === 'rising');
      }
    },
  );

  test('of too few devices is none', async () => {
    const { isFound, found } = await worked(viewOf(rising.slice(0, 10)), {
      trend: { category: 'Microphone' },
      says: 'rising',
    });
    expect(isFound).toBe(false);
    expect(found).toContain('Too few');
  });
});

describe('figures over what a reader does not see', () => {
  const hidden: Made = {
    id: 'secret',
    released: '2020',
    visibility: 'draft',
    chips: [chip('Microphone')],
    more: { maker: 'nolvey' },
  };
  const claim = (id: string, figure: object) => ({
    id,
    sentence: 'S.',
    supportedBy: ['d0'],
    figures: [figureOf(figure)],
  });
  const publications = catalogueChanges({
    publications: [
      {
        id: 'publication',
        kind: 'article',
        title: 'T',
        claims: [
          claim('counted', { count: { category: 'Microphone' }, atLeast: 2 }),
          claim('beside', { compare: 'Microphone', devices: ['d0', 'secret'], says: 'more' }),
          claim('where', { count: { category: 'Microphone' }, where: { maker: 'nolvey' }, atLeast: 1 }),
        ],
      },
    ],
  });
  const live = liveWith([...hearing([1]), hidden], publications);

  test('are calculated without it', async () => {
    const at = async (view: State) =>
      Object.fromEntries(
        (await auditClaims(view)).map(({ claim: { id }, support }) => [id, support.probability]),
      );
    expect(await at(seen(live, 'desk'))).toEqual({ counted: 1, beside: 0, where: 1 });
    expect(await at(seen(live))).toEqual({ counted: 0, beside: null, where: null });
  });

  test('break no audit and no impact, and leave no message', async () => {
    const audited = await auditClaims(seen(live));
    expect(audited).toHaveLength(3);
    const said = JSON.stringify(
      audited.map(({ support, findings, proposal }) => [support, findings, proposal]),
    );
    expect(said).not.toMatch(/secret|nolvey/u);
    expect(audited.flatMap(({ findings }) => findings.map(({ kind }) => kind))).not.toContain('withdrawn');
    const { impacted } = await impactOf(seen(live), 'd0');
    expect(impacted.map(({ id }) => id)).toEqual([
      'publication/beside',
      'publication/counted',
      'publication/where',
      'publication',
    ]);
  });
});
