import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Holder } from '../../src/state/holder.ts';
import type { Measure, TrendCell, TrendQuestion } from '../../src/trends/answer.ts';
import type { FacetName } from '../../src/trends/asked.ts';
import { trend } from '../../src/trends/trends.ts';
import { type Candidates, liveWith, type Made, seen } from './made.ts';

const released = fc.oneof(
  fc.constantFrom('2015', '2016', '2018'),
  fc.constantFrom('2015-02', '2016-07', '2016-12', '2017-11'),
  fc.constantFrom('2018-05-06', '2019-01-31'),
);
const probability = fc.constantFrom(0.02, 0.3, 0.5, 0.7, 0.96, 1);
const candidates: fc.Arbitrary<Candidates> = fc.oneof(
  fc
    .tuple(fc.constantFrom('Microphone', 'Gyroscope', 'Accelerometer'), probability)
    .map(([category, p]) => [{ category, probability: p }]),
  fc
    .tuple(fc.constantFrom('quistle/P1', 'quistle/P2', 'quistle/P3'), probability)
    .map(([part, p]) => [{ part, probability: p }]),
  fc.constant<Candidates>([
    { category: 'Microphone', probability: 0.55 },
    { part: 'quistle/P1', probability: 0.45 },
  ]),
);
const device = fc.record({
  released,
  chips: fc.array(candidates, { maxLength: 4 }),
  visibility: fc.constantFrom('published' as const, 'published' as const, 'draft' as const),
  more: fc.record(
    {
      maker: fc.constantFrom('tarn', 'nolvey'),
      bodySite: fc.constantFrom('wrist' as const, 'ear' as const, 'finger' as const),
      mass: fc.integer({ min: 1, max: 90 }).map((value) => ({ value, unit: 'g' })),
      price: fc.record({
        amount: fc.integer({ min: 1, max: 9 }).map((tens) => tens * 10),
        currency: fc.constantFrom('EUR', 'EUR', 'USD'),
      }),
    },
    { requiredKeys: ['maker', 'bodySite'] },
  ),
});
const archive = fc
  .array(device, { minLength: 1, maxLength: 40 })
  .map((all) => all.map((one, at): Made => ({ ...one, id: `d${at}` })));

const measure = fc.constantFrom<Measure>(
  { share: { category: 'Microphone' } },
  { share: { category: 'Battery' } },
  { share: { part: 'quistle/P1' } },
  { share: { text: 'MATCH (a:Microphone), (b:Battery) RETURN a, b' } },
  { count: 'Component' },
  { count: 'InertialSensor' },
  { quantity: { device: 'mass' } },
  { quantity: { device: 'price' } },
  { quantity: { parameter: 'capacity', of: 'Battery' } },
);
const question: fc.Arbitrary<TrendQuestion> = fc.record({
  of: measure,
  per: fc.constantFrom('year' as const, 'half-year' as const, 'quarter' as const),
  by: fc.constantFrom<FacetName>('body-site', 'maker', 'price-band'),
});

/** Numbers of a cell that add up over groups. */
const SUMS = ['devices', 'n', 'notObserved', 'absent', 'certain', 'likely', 'expected', 'possible'] as const;

function sums(cells: readonly TrendCell[]) {
  return Object.fromEntries(
    SUMS.map((name) => [name, cells.reduce((total, cell) => total + (cell[name] ?? 0), 0)]),
  );
}

function close(values: Record<string, number>) {
  return Object.fromEntries(Object.entries(values).map(([name, value]) => [name, expect.closeTo(value, 6)]));
}

test('groups of a facet add up to the total, in all periods together and in each', async () => {
  await fc.assert(
    fc.asyncProperty(archive, question, async (devices, asked) => {
      const { total, groups } = await trend(seen(liveWith(devices)), asked);
      expect(sums([total.total])).toEqual(close(sums(groups.map((one) => one.total))));
      expect(total.undated).toBe(groups.reduce((total, one) => total + one.undated, 0));
      total.periods.forEach((period, at) => {
        for (const group of groups) expect(group.periods[at].period).toBe(period.period);
        expect(sums([period])).toEqual(close(sums(groups.map((one) => one.periods[at]))));
      });
      const inPeriods = total.periods.reduce((total, one) => total + one.devices, 0);
      expect(inPeriods + total.undated).toBe(total.total.devices);
    }),
    { numRuns: 60 },
  );
});

test('the order of import changes nothing', async () => {
  await fc.assert(
    fc.asyncProperty(
      archive,
      question,
      fc.array(fc.nat(), { maxLength: 40 }),
      async (devices, asked, keys) => {
        const shuffled = devices
          .map((one, at) => ({ one, key: keys[at % (keys.length || 1)] ?? 0, at }))
          .sort((a, b) => a.key - b.key || b.at - a.at)
          .map(({ one }) => one);
        expect(await trend(seen(liveWith(shuffled)), asked)).toEqual(
          await trend(seen(liveWith(devices)), asked),
        );
      },
    ),
    { numRuns: 60 },
  );
});

test("a reader's answer is the same as without the hidden devices", async () => {
  await fc.assert(
    fc.asyncProperty(archive, question, async (devices, asked) => {
      const without = devices.filter(({ visibility }) => visibility !== 'draft');
      const asReader = (live: Holder) => trend(seen(live), asked);
      expect(await asReader(liveWith(devices))).toEqual(await asReader(liveWith(without)));
    }),
    { numRuns: 60 },
  );
});

test('certain, likely, expected and possible come in this order, and intervals and bands hold the value', async () => {
  await fc.assert(
    fc.asyncProperty(archive, measure, async (devices, of) => {
      const { total } = await trend(seen(liveWith(devices), 'desk'), { of });
      for (const cell of [total.total, ...total.periods]) {
        if (cell.possible !== null && cell.likely !== null) {
          expect(cell.certain).toBeLessThanOrEqual(cell.likely);
          expect(cell.likely).toBeLessThanOrEqual(cell.possible);
          // What is less likely than 0.05 is expected a little and not possible: five components a device at most.
          expect(cell.expected).toBeLessThanOrEqual(cell.possible + 0.05 * 5 * cell.n + 1e-9);
        }
        if (cell.value === null) {
          expect(cell.n).toBe(0);
          continue;
        }
        if (cell.interval) {
          expect(cell.interval.low).toBeLessThanOrEqual(cell.value + 1e-9);
          expect(cell.interval.high).toBeGreaterThanOrEqual(cell.value - 1e-9);
        }
        if (cell.outer && cell.band) {
          expect(cell.outer.low).toBeLessThanOrEqual(cell.band.low + 1e-9);
          expect(cell.outer.high).toBeGreaterThanOrEqual(cell.band.high - 1e-9);
        }
      }
    }),
    { numRuns: 60 },
  );
});
