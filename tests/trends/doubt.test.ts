import { describe, expect, test } from 'vitest';
import { presenceAnswer } from '../../src/questions/presence.ts';
import type { Measure } from '../../src/trends/answer.ts';
import { trend } from '../../src/trends/trends.ts';
import { dossierChange } from '../state/archive-of.ts';
import { chip, liveWith, type Made, many, seen, viewOf } from './made.ts';

const HEARING: Measure = { share: { category: 'Microphone' } };

/** A device with chips that nobody named, every board inventoried. */
function unread(id: string, chips = 3) {
  return dossierChange({
    device: { id, name: id, maker: 'tarn', released: '2020', bodySite: 'wrist' },
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
    components: [
      { id: 'R1', appears: 'Resistor', board: 'main' },
      ...Array.from({ length: chips }, (_, at) => ({
        id: `U${at + 1}`,
        appears: 'IntegratedCircuit',
        board: 'main',
      })),
    ],
  });
}

describe('a chip that nobody named may be anything that chips are', () => {
  test.each(['Gyroscope', 'Microphone', 'Magnetometer', 'SatelliteReceiver'])(
    '%s: neither a no nor absent',
    async (category) => {
      const view = seen(liveWith([], [unread('unread')]));
      const answer = await presenceAnswer(view, 'unread', { category });
      expect(answer.verdict).not.toBe('ABSENT');
      expect(answer.why).toMatch(/not every component that it may be is identified|with a probability of/u);
      const { total } = await trend(view, { of: { share: { category } } });
      expect(total.total.absent).toBe(0);
      const { total: byText } = await trend(view, {
        of: { share: { text: `MATCH (x:${category}) RETURN x` } },
      });
      expect(byText.total).toMatchObject({ absent: 0, notObserved: total.total.notObserved });
      const { total: counted } = await trend(view, { of: { count: category } });
      expect(counted.total.absent).toBe(0);
    },
  );

  test.each(['Speaker', 'Battery', 'Capacitor', 'Button'])('%s is no chip, and absent', async (category) => {
    const view = seen(liveWith([], [unread('unread')]));
    expect((await presenceAnswer(view, 'unread', { category })).verdict).toBe('ABSENT');
  });

  test('nothing is in doubt without such a chip; what is known roughly may be any of its kind', async () => {
    const view = viewOf([
      { id: 'none', released: '2020' },
      { id: 'rough', released: '2020', chips: [chip('InertialSensor')] },
    ]);
    expect((await presenceAnswer(view, 'none', { category: 'Gyroscope' })).verdict).toBe('ABSENT');
    expect((await presenceAnswer(view, 'rough', { category: 'Gyroscope' })).verdict).toBe('NOT_OBSERVED');
    expect((await presenceAnswer(view, 'rough', { category: 'Microphone' })).verdict).toBe('ABSENT');
  });
});

/** Five devices in each of some years, so many with a microphone; more devices of unknown content by year. */
function archive(
  having: readonly number[],
  open: readonly (readonly [year: number, chips?: Made['chips']])[],
) {
  const devices = having.flatMap((count, at) => {
    const released = String(2015 + at);
    return [
      ...many(count, { released, chips: [chip('Microphone')] }, `${released}-with`),
      ...many(5 - count, { released }, `${released}-without`),
    ];
  });
  const unknown = open.map(([year, chips]) => ({ released: String(year), chips }));
  return { devices, unknown };
}

/** Devices of unknown content as dossiers: doubtful chips, or boards that were not inventoried. */
function openDossiers(unknown: ReturnType<typeof archive>['unknown']) {
  return unknown.map(({ released, chips }, at) =>
    dossierChange({
      device: { id: `open-${at}`, name: `open-${at}`, maker: 'tarn', released, bodySite: 'wrist' },
      specimen: { id: 'a' },
      boards: [{ id: 'main', kind: 'rigid', ...(chips ? { fullyInventoried: true } : {}) }],
      components: [
        { id: 'R1', appears: 'Resistor', board: 'main' },
        ...(chips ?? []).map((_, chip) => ({ id: `U${chip + 1}`, board: 'main' })),
      ],
      identifications: (chips ?? []).map((candidates, chip) => ({ component: `U${chip + 1}`, candidates })),
    }),
  );
}

/** Largest p over all ways in which the devices of unknown content may turn out, each asked of an archive of its own. */
async function worstOf(of: Measure, { devices, unknown }: ReturnType<typeof archive>): Promise<number> {
  let worst = 0;
  for (let way = 0; way < 2 ** unknown.length; way++) {
    const settled = unknown.map(
      ({ released }, at): Made => ({
        id: `open-${at}`,
        released,
        chips: (way >> at) & 1 ? [chip('Microphone')] : [],
      }),
    );
    const { total } = await trend(viewOf([...devices, ...settled]), { of });
    worst = Math.max(worst, total.test?.direction === 'rising' ? total.test.p : 1);
  }
  return worst;
}

describe('a direction is named only where every way to settle the doubt gives it', () => {
  // The unknown devices alone decide: of five, one or two turned take the p above 0.05.
  const doubtful = [chip('Microphone', 0.4)];
  test.each([
    ['a strong rise, little in doubt', [0, 1, 4, 5], [[2015], [2018]]],
    ['a weak rise, five not observed', [1, 2, 3, 4], [[2015], [2015], [2016], [2018], [2018]]],
    [
      'doubtful identifications',
      [0, 2, 3, 5],
      [
        [2015, doubtful],
        [2016, doubtful],
        [2018, doubtful],
      ],
    ],
    ['both', [0, 0, 5, 5], [[2015, doubtful], [2016], [2018]]],
  ] as const)('%s: share, the largest q is that of all ways asked one by one', async (_, having, open) => {
    const made = archive(having, open as unknown as Parameters<typeof archive>[1]);
    const view = seen(liveWith(made.devices, openDossiers(made.unknown)));
    const { total } = await trend(view, { of: HEARING });
    const worst = await worstOf(HEARING, made);
    expect(total.test?.qAtMost).toBeCloseTo(Math.max(worst, total.test?.p as number), 9);
    expect(total.verdict.direction).toBe(worst <= 0.05 ? 'rising' : 'no clear direction');
    if (worst > 0.05 && (total.test?.q as number) <= 0.05)
      expect(total.verdict.sentence).toMatch(/devices in doubt or not observed could change that/u);
    // A pattern as text is counted by the same verdicts.
    const { total: byText } = await trend(view, {
      of: { share: { text: 'MATCH (x:Microphone) RETURN x' } },
    });
    expect(byText.test?.qAtMost).toBeCloseTo(total.test?.qAtMost as number, 12);
  });

  test('count: the bound is not below the p of any way', async () => {
    const made = archive(
      [0, 0, 5, 5],
      [
        [2015, doubtful],
        [2018, doubtful],
      ],
    );
    const view = seen(liveWith(made.devices, openDossiers(made.unknown)));
    const { total } = await trend(view, { of: { count: 'Microphone' } });
    const worst = await worstOf({ count: 'Microphone' }, made);
    expect(total.test?.qAtMost).toBeGreaterThanOrEqual(worst - 1e-12);
    expect(total.verdict.direction).toBe('rising');
    // A board that was not inventoried may hold any number.
    const more = archive([0, 0, 5, 5], [[2015], [2015], [2015], [2015]]);
    const open = await trend(seen(liveWith(more.devices, openDossiers(more.unknown))), {
      of: { count: 'Microphone' },
    });
    expect(open.total.total.notObserved).toBe(4);
    expect(open.total.test?.qAtMost).toBeGreaterThan(total.test?.qAtMost as number);
  });

  test('quantity: a device without a value may have any', async () => {
    const weighed = [10, 11, 12, 13, 14].flatMap((mass, at) =>
      many(5, { released: String(2015 + at), more: { mass: { value: mass, unit: 'g' } } }, `m${at}`),
    );
    const of: Measure = { quantity: { device: 'mass' } };
    const one = await trend(viewOf([...weighed, { id: 'x', released: '2015' }]), { of });
    expect(one.total.verdict.direction).toBe('rising');
    const lost = many(12, { released: '2015' }, 'lost');
    const { total } = await trend(viewOf([...weighed, ...lost]), { of });
    expect(total.test?.q).toBeLessThan(0.001);
    expect(total.verdict).toMatchObject({ direction: 'no clear direction' });
    // Twelve devices of 2015 with 20 g each would make it so.
    const heavy = lost.map((one): Made => ({ ...one, more: { mass: { value: 20, unit: 'g' } } }));
    expect((await trend(viewOf([...weighed, ...heavy]), { of })).total.verdict.direction).toBe(
      'no clear direction',
    );
  });
});

describe('devices of one product line are alike', () => {
  // Two lines of ten devices: the older ones without, the younger with. Each line says it once.
  const line = (productLine: string | undefined, year: number, having: boolean, count: number) =>
    many(
      count,
      {
        released: String(year),
        ...(having ? { chips: [chip('Microphone')] } : {}),
        ...(productLine ? { more: { productLine } } : {}),
      },
      `${productLine}-${year}-${count}`,
    );

  test('the verdict goes by the more careful of two tests, and says so', async () => {
    const lines = (name: (n: number) => string | undefined) => [
      ...line(name(1), 2015, false, 6),
      ...line(name(1), 2016, false, 6),
      ...line(name(2), 2017, true, 6),
      ...line(name(2), 2018, true, 6),
      ...line(name(3), 2016, false, 3),
    ];
    const alone = await trend(viewOf(lines(() => undefined)), { of: HEARING });
    expect(alone.total.test).toMatchObject({ byProductLine: null, basis: 'devices' });
    expect(alone.total.verdict.direction).toBe('rising');
    expect(alone.total.total).toMatchObject({ n: 27, productLines: 27 });
    expect(alone.total.total.productLineInterval).toEqual(alone.total.total.interval);
    const { total, cautions } = await trend(viewOf(lines((n) => `line-${n}`)), { of: HEARING });
    expect(total.test).toMatchObject({ basis: 'product lines', byProductLine: { productLines: 3 } });
    expect(total.test?.q).toBe(total.test?.byProductLine?.p);
    expect(total.test?.p).toBe(alone.total.test?.p);
    expect(total.verdict.direction).toBe('no clear direction');
    expect(total.verdict.sentence).toMatch(
      /by product line, of which there are 3; p < 0\.001 device by device/u,
    );
    expect(cautions.join()).toMatch(/the 27 counted are of 3/u);
    const { interval, productLineInterval } = total.total;
    expect(productLineInterval?.low).toBeLessThan(interval?.low as number);
    expect(productLineInterval?.high).toBeGreaterThan(interval?.high as number);
  });

  test('all of one line: said of that line alone', async () => {
    const one = [2015, 2016, 2017, 2018].flatMap((year) => line('one', year, year > 2016, 5));
    const { total, cautions } = await trend(viewOf(one), { of: HEARING });
    expect(total.test?.byProductLine).toBeNull();
    expect(cautions).toContain('All are of one product line: what is said holds of that line alone.');
  });
});

test('a device in which it was not observed may be older than the first', async () => {
  const made = archive([0, 0, 5, 5], [[2014], [2019]]);
  const { cautions } = await trend(seen(liveWith(made.devices, openDossiers(made.unknown))), { of: HEARING });
  expect(cautions).toContain(
    'Devices that may be older than the first, in which it was not observed: 1; any of them may be the first.',
  );
});

test('a count of 7,484 components has its limits, where the library once gave up', async () => {
  const crowded = ['a', 'b', 'c', 'd'].map((id) =>
    dossierChange({
      device: { id, name: id, maker: 'tarn', released: '2020', bodySite: 'wrist' },
      specimen: { id: 'a' },
      boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
      components: Array.from({ length: 1871 }, (_, at) => ({
        id: `C${at + 1}`,
        appears: 'Capacitor',
        board: 'main',
      })),
    }),
  );
  const { total } = await trend(seen(liveWith([], crowded)), { of: { count: 'Capacitor' } });
  expect(total.total).toMatchObject({ n: 4, expected: 7484, value: 1871 });
  // Garwood's limits from mpmath (tests/reference/trend-statistics.py): shape 7,485 at 0.025 is 7,655.513193559109.
  expect(total.total.interval?.high).toBeCloseTo(7655.513193559109 / 4, 6);
});
