import { describe, expect, test } from 'vitest';
import { digestOf } from '../../src/decisions/decisions.ts';
import type { Change } from '../../src/model/entry.ts';
import { findPattern } from '../../src/patterns/find.ts';
import type { TrendQuestion } from '../../src/trends/answer.ts';
import { deviceWeights } from '../../src/trends/subject.ts';
import { trend, trends } from '../../src/trends/trends.ts';
import { BY, dossierChange, entriesOf } from '../state/archive-of.ts';
import { chip, dossiersOf, liveWith, type Made, many, seen, viewOf } from './made.ts';

const HEARING: TrendQuestion = { of: { share: { category: 'Microphone' } } };
const WITH = [chip('Microphone')];

/** Five devices in each of some years, so many of them with a microphone. */
function fives(having: readonly number[], probability = 1): Made[] {
  return having.flatMap((count, at) => {
    const released = String(2015 + at);
    return [
      ...many(count, { released, chips: [chip('Microphone', probability)] }, `${released}-with`),
      ...many(5 - count, { released }, `${released}-without`),
    ];
  });
}

describe('what the verdict says', () => {
  test('with 20 devices in four periods a clear rise is called a trend, with its slope and q', async () => {
    const { total } = await trend(viewOf(fives([0, 1, 4, 5])), HEARING);
    expect(total.verdict).toMatchObject({ enough: true, direction: 'rising' });
    // By hand: slope of 0, 0.2, 0.8, 1 over equal groups is (1.5 × 1 + 0.5 × 0.6) / 5 = 0.36 a year; its standard
    // error √(0.25 / 25) = 0.1.
    expect(total.test?.slope).toBeCloseTo(0.36, 12);
    expect(total.verdict.sentence).toBe(
      'Rising trend: +36 percentage points a year (95 % +16 to +56), q < 0.001, 20 devices in 4 periods.',
    );
  });

  test.each([
    ['19 devices', fives([0, 1, 4, 5]).slice(1)],
    ['three periods', fives([0, 4, 5]).concat(many(9, { released: '2016' }, 'more'))],
    ['no device', []],
  ])('with %s neither word nor test, but the figures', async (_, devices) => {
    const answer = await trend(viewOf(devices), HEARING);
    expect(answer.total.test).toBeNull();
    expect(answer.total.verdict).toMatchObject({ enough: false, direction: null });
    expect(JSON.stringify([answer.total.verdict, answer.cautions])).not.toMatch(/trend/iu);
    expect(answer.total.total.devices).toBe(devices.length);
  });

  test('without a rise or fall there is no clear direction, and no trend is named', async () => {
    const { total } = await trend(viewOf(fives([2, 3, 2, 3])), HEARING);
    expect(total.verdict).toMatchObject({ enough: true, direction: 'no clear direction' });
    expect(total.verdict.sentence).toMatch(/^No clear direction \(q = 0\.\d+, 20 devices in 4 periods\)\.$/u);
  });

  test('when nothing varies the reason is given in place of a q', async () => {
    const { total } = await trend(viewOf(fives([5, 5, 5, 5])), HEARING);
    expect(total.test).toBeNull();
    expect(total.verdict.sentence).toBe(
      'No clear direction: no failure in any group (20 devices in 4 periods).',
    );
  });

  test('a rise that doubtful identifications could undo is not called a rise', async () => {
    const mixed = [
      ...many(10, { released: '2015', chips: [chip('Microphone', 0.49)] }, 'nearly'),
      ...many(10, { released: '2016', chips: [chip('Microphone', 0.49)] }, 'nearly2'),
      ...many(10, { released: '2017', chips: [chip('Microphone', 0.51)] }, 'just'),
      ...many(10, { released: '2018', chips: [chip('Microphone', 0.51)] }, 'just2'),
    ];
    const { total: flat } = await trend(viewOf(mixed), HEARING);
    expect(flat.test?.q).toBeLessThan(0.001);
    expect(flat.test?.holdsUnderDoubt).toBe(false);
    expect(flat.verdict.direction).toBe('no clear direction');
    expect(flat.verdict.sentence).toMatch(/devices in doubt or not observed could change that/u);
  });

  test('a slope is given in the unit of the quantity', async () => {
    const heavier = [10, 11, 12, 13].flatMap((mass, at) =>
      many(5, { released: String(2015 + at), more: { mass: { value: mass, unit: 'g' } } }, `m${at}`),
    );
    const { total } = await trend(viewOf(heavier), { of: { quantity: { device: 'mass' } } });
    expect(total.verdict.sentence).toBe(
      'Rising trend: +1 g a year (95 % +1 to +1), q < 0.001, 20 devices in 4 periods.',
    );
  });

  test('series tested together are corrected together, each group of a facet among them', async () => {
    const view = viewOf(fives([1, 1, 3, 4]));
    const [alone] = await trends(view, [HEARING]);
    expect(alone.total.test?.q).toBe(alone.total.test?.p);
    const [first] = await trends(view, [HEARING, { of: { share: { category: 'Resistor' } } }]);
    // Every device has a resistor, so that there is nothing to test and nothing to correct for.
    expect(first.total.test?.q).toBe(alone.total.test?.p);
    const level = { of: { count: 'Component' } } as const;
    const [corrected, other] = await trends(view, [HEARING, level]);
    expect(other.total.test).not.toBeNull();
    expect(corrected.total.test?.q).toBeGreaterThanOrEqual(alone.total.test?.p as number);
    const facet = await trend(view, { ...HEARING, by: 'body-site' });
    expect(facet.groups[0].test?.p).toBe(facet.total.test?.p);
  });

  test('every answer says that the archive is not the market, and n in every period', async () => {
    const { cautions, total } = await trend(viewOf(fives([0, 1, 4, 5])), HEARING);
    expect(cautions[0]).toBe(
      'Devices that were opened and pass the filter: 20, released 2015 to 2018; the archive is what was opened, not the market.',
    );
    expect(total.periods.map(({ n }) => n)).toEqual([5, 5, 5, 5]);
  });
});

describe('doubt and what is missing', () => {
  test('a share has a band from what is certain to what is possible, and an expectation between', async () => {
    const devices = [
      ...many(2, { released: '2020', chips: WITH }, 'sure'),
      ...many(1, { released: '2020', chips: [chip('Microphone', 0.4)] }, 'maybe'),
      ...many(1, { released: '2020' }, 'none'),
    ];
    const nobodyLooked = dossierChange({
      device: { id: 'closed', name: 'Closed', maker: 'tarn', released: '2020', bodySite: 'wrist' },
      specimen: { id: 'a' },
    });
    const { total } = await trend(seen(liveWith(devices, [nobodyLooked])), HEARING);
    expect(total.total).toMatchObject({
      devices: 5,
      n: 4,
      notObserved: 1,
      absent: 1,
      certain: 2,
      likely: 2,
      expected: 2.4,
      possible: 3,
      value: 0.6,
      band: { low: 2 / 5, high: 4 / 5 },
    });
  });

  test('an unidentified chip counts as what such chips usually are, with a caution', async () => {
    const unknown = dossierChange({
      device: { id: 'unread', name: 'Unread', maker: 'tarn', released: '2020', bodySite: 'wrist' },
      specimen: { id: 'a' },
      components: [
        { id: 'U1', appears: 'IntegratedCircuit' },
        { id: 'R1', appears: 'Resistor' },
      ],
    });
    const view = seen(liveWith(many(2, { released: '2020', chips: WITH }), [unknown]));
    const { total, cautions } = await trend(view, HEARING);
    expect(total.total).toMatchObject({ n: 3, certain: 2, likely: 2, possible: 3, absent: 0 });
    expect(cautions.filter((one) => /an unidentified chip: 1;/u.test(one))).toHaveLength(1);
    expect((await trend(view, { of: { count: 'Component' } })).cautions.join()).not.toMatch(
      /an unidentified chip/u,
    );
  });

  test('a part parameter: absent and not observed are separate, doubtful and certain parts too', async () => {
    const battery = (part: string, probability = 1) => [[{ part: `quistle/${part}`, probability }]];
    const devices: Made[] = [
      { id: 'a', released: '2020', chips: battery('P1') },
      { id: 'b', released: '2020', chips: battery('P2', 0.8) },
      { id: 'c', released: '2020', chips: [...battery('P1'), ...battery('P2')] },
      { id: 'd-no-figure', released: '2020', chips: battery('P3') },
      { id: 'e-hardly', released: '2020', chips: battery('P2', 0.4) },
      { id: 'f-none', released: '2020' },
    ];
    const { total, unit, of } = await trend(viewOf(devices), {
      of: { quantity: { parameter: 'capacity', of: 'Battery' } },
    });
    expect(of).toBe('median capacity of parts of the category Battery');
    expect(unit).toBe('mA.h');
    expect(total.total).toMatchObject({
      devices: 6,
      n: 3,
      notObserved: 2,
      absent: 1,
      // 100, 200 (the median of its two cells) and 300 mAh; the last rests on a part that is not certain.
      value: 200,
      certain: 2,
      certainMedian: 150,
      interval: null,
    });
  });

  test('prices are never converted; those in another currency are not observed', async () => {
    const priced = (id: string, amount: number, currency = 'EUR'): Made => ({
      id,
      released: '2020',
      more: { price: { amount, currency } },
    });
    const view = viewOf([
      priced('a', 100),
      priced('b', 200),
      priced('c', 300),
      priced('d', 90, 'USD'),
      { id: 'e', released: '2020' },
    ]);
    const answer = await trend(view, { of: { quantity: { device: 'price' } }, by: 'price-band' });
    expect(answer.unit).toBe('EUR');
    expect(answer.total.total).toMatchObject({ n: 3, value: 200, notObserved: 2 });
    expect(answer.cautions).toContain(
      'Devices priced in a currency other than EUR: 1; nothing is converted.',
    );
    expect(answer.groups.map(({ group, total }) => [group, total.devices])).toEqual([
      ['under 166.67 EUR', 1],
      ['166.67 to under 233.33 EUR', 1],
      ['233.33 EUR and more', 1],
      ['not known', 2],
    ]);
    const edges = await trend(view, { ...HEARING, by: 'price-band', edges: [200], currency: 'EUR' });
    expect(edges.groups.map(({ group, total }) => [group, total.devices])).toEqual([
      ['under 200 EUR', 1],
      ['200 EUR and more', 2],
      ['not known', 2],
    ]);
  });
});

describe('periods', () => {
  const dates = ['2019', '2019-02', '2019-08-30', '2020-12'];
  const devices = dates.map((released, at): Made => ({ id: `d${at}`, released, chips: WITH }));

  test.each([
    ['year', ['2019', '2020'], 0],
    ['half-year', ['2019-H1', '2019-H2', '2020-H1', '2020-H2'], 1],
    ['quarter', ['2019-Q1', '2019-Q2', '2019-Q3', '2019-Q4', '2020-Q1', '2020-Q2', '2020-Q3', '2020-Q4'], 1],
  ] as const)(
    'by %s, empty ones shown, dates too rough for it in the whole alone',
    async (per, labels, undated) => {
      const { total, cautions } = await trend(viewOf(devices), { ...HEARING, per });
      expect(total.periods.map(({ period }) => period)).toEqual(labels);
      expect(total.undated).toBe(undated);
      expect(total.total.devices).toBe(4);
      expect(cautions.some((one) => /dated too roughly/u.test(one))).toBe(undated > 0);
      for (const { n, value } of total.periods) expect(value).toBe(n === 0 ? null : 1);
    },
  );
});

describe('first adopters', () => {
  const made = (id: string, released: string, probability: number): Made => ({
    id,
    released,
    chips: [chip('Microphone', probability)],
  });

  test('the first certain device, those that may have come before it, and those not certainly after', async () => {
    const view = viewOf([
      made('late', '2021', 1),
      made('perhaps', '2017-05', 0.25),
      made('sure', '2018-06', 0.96),
      made('same-year', '2018', 1),
      made('after', '2018-07', 1),
    ]);
    const { firstAdopters } = await trend(view, HEARING);
    expect(
      firstAdopters.map(({ device, probability, certain, probabilityFirst }) => [
        device.id,
        probability,
        certain,
        probabilityFirst,
      ]),
    ).toEqual([
      ['perhaps', 0.25, false, 0.25],
      // It may have come before or after the one of June: a tie.
      ['same-year', 1, true, 0.75],
      ['sure', 0.96, true, 0.72],
    ]);
  });

  test('a hidden device is not the first', async () => {
    const view = viewOf([{ ...made('secret', '2010', 1), visibility: 'draft' }, made('seen', '2015', 1)]);
    const { firstAdopters } = await trend(view, HEARING);
    expect(firstAdopters.map(({ device }) => device.id)).toEqual(['seen']);
  });
});

describe('decisions', () => {
  test("a decision weighs the pattern's probability times its strength; rejected, it does not count", async () => {
    const live = liveWith(many(2, { released: '2020', chips: [chip('Microphone', 0.9)] }, 'x'));
    const view = seen(live);
    const weights = async () => Object.fromEntries(await deviceWeights(seen(live), { decision: 'hears' }));
    const one = { verdict: 'POSSIBLE', certain: false, probability: 0.45 };
    expect(await weights()).toEqual({ 'd-x-0': one, 'd-x-1': one });
    const pattern = view.pattern('hears');
    if (!pattern) throw new Error('the pattern is in the catalogue');
    const [found] = (await findPattern(view, { text: pattern.text })).devices;
    const rejected: Change = {
      ...BY,
      kind: 'decision-judged',
      payload: {
        device: 'd-x-0',
        pattern: 'hears',
        verdict: 'rejected',
        evidence: digestOf(view, pattern, found),
      },
    };
    live.apply(entriesOf([rejected], live.sequence + 1));
    // Of a rejected one nobody may count anything; the boards were looked at, so it is absent.
    const none = { verdict: 'ABSENT', certain: false, probability: 0 };
    expect(await weights()).toEqual({ 'd-x-0': none, 'd-x-1': one });
  });
});

describe('kept answers', () => {
  test('an answer is kept until something changes, for each audience separately', async () => {
    const live = liveWith([
      { id: 'a', released: '2020', chips: WITH },
      { id: 'b', released: '2020', chips: WITH, visibility: 'draft' },
    ]);
    const found = async (audience: 'reader' | 'desk') =>
      (await trend(seen(live, audience), HEARING)).total.total.devices;
    expect(await found('desk')).toBe(2);
    expect(await found('reader')).toBe(1);
    live.apply(entriesOf(dossiersOf([{ id: 'c', released: '2020' }]), live.sequence + 1));
    expect(await found('desk')).toBe(3);
    expect(await found('reader')).toBe(2);
  });

  test('an answer is kept no longer than an embargo lasts', async () => {
    const embargoed = dossiersOf([{ id: 'b', released: '2020', chips: WITH }]).map((change) =>
      change.kind === 'dossier-put'
        ? {
            ...change,
            payload: {
              ...change.payload,
              visibility: 'embargoed' as const,
              embargoUntil: '2026-03-01T12:00:00+01:00',
            },
          }
        : change,
    );
    const live = liveWith([{ id: 'a', released: '2020', chips: WITH }], embargoed);
    const at = async (now: string) => (await trend(live.state('reader', now), HEARING)).total.total.devices;
    expect(await at('2026-03-01T10:59:59.999Z')).toBe(1);
    expect(await at('2026-03-01T11:00:00.000Z')).toBe(2);
    // A request that began earlier is still answered as of then.
    expect(await at('2026-03-01T10:00:00.000Z')).toBe(1);
  });

  test('a cancelled request stops the work', async () => {
    const signal = AbortSignal.abort(new Error('gone'));
    await expect(
      trend(
        viewOf(many(3, { released: '2020' })),
        { of: { share: { text: 'MATCH (x:Microphone) RETURN x' } } },
        signal,
      ),
    ).rejects.toThrow();
  });
});

describe('contradictory questions are refused', () => {
  test.each([
    [{ of: { count: 'Gyroscop' } }, /did you mean "Gyroscope"/u],
    [{ of: { quantity: { parameter: 'capasity', of: 'Battery' } } }, /did you mean "capacity"/u],
    [{ of: { quantity: { parameter: 'chemistry', of: 'Battery' } } }, /no number/u],
    [{ ...HEARING, edges: [10] }, /price band/u],
    [{ ...HEARING, by: 'price-band', edges: [10, 5] }, /rising/u],
    [{ ...HEARING, currency: 'EUR' }, /currency/u],
    [{ ...HEARING, where: { makers: ['nobody'] } }, /No maker/u],
  ] as [TrendQuestion, RegExp][])('%j', async (question, why) => {
    await expect(trend(viewOf([]), question)).rejects.toThrow(why);
  });

  test('none at all, or more than fifty at once', async () => {
    await expect(trends(viewOf([]), [])).rejects.toThrow(/1 to 50/u);
    await expect(trends(viewOf([]), Array(51).fill(HEARING))).rejects.toThrow(/1 to 50/u);
  });
});
