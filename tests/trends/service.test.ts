import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { HIDDEN } from '../service/invented.ts';
import { archiveOf, type Served, serve } from '../service/serving.ts';

let reader: Served;
let desk: Served;
beforeAll(async () => {
  const archive = await archiveOf();
  reader = await serve({ audience: 'reader' }, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const SERIES = `{ group label undated total { n value interval { low high } band { low high } certain expected possible }
  periods { period start n value } test { name p q slope isRobust } verdict { isSufficient direction sentence } }`;
const FIELDS = `{ of unit per by total ${SERIES} groups ${SERIES} cautions
  firstAdopters { device { id } probability isCertain probabilityFirst } }`;

describe('trend', () => {
  test('a share by year, with its groups, first adopters and cautions', async () => {
    const { trend } = await reader.ask(
      `{ trend(of: { share: { category: "Accelerometer" } }, by: MAKER) ${FIELDS} }`,
    );
    expect(trend).toMatchObject({
      of: 'share of devices with a component of the category Accelerometer',
      unit: '1',
      per: 'YEAR',
      by: 'MAKER',
      total: { group: null, verdict: { isSufficient: false, direction: null } },
    });
    const { totalCount } = (await reader.ask('{ devices { totalCount } }')).devices;
    expect(trend.total.total.n).toBe(totalCount);
    expect(trend.groups.map(({ group }: { group: string }) => group)).toEqual(['tarn']);
    expect(trend.groups[0].total).toEqual(trend.total.total);
    expect(trend.firstAdopters.length).toBeGreaterThan(0);
    expect(trend.cautions[0]).toMatch(/what was opened, not the market/u);
  });

  test('a named pattern, a text, a decision and counts and quantities are all answered', async () => {
    const data = await reader.ask(`{
      trends(questions: [
        { of: { share: { pattern: "front-end-at-sensor" } } }
        { of: { share: { text: "MATCH (s:Sensor)~[:CONNECTS]~(a:AnalogueFrontEnd) RETURN s, a" } }, per: QUARTER }
        { of: { share: { decision: "front-end-at-sensor" } } }
        { of: { count: "Component" }, per: HALF_YEAR }
        { of: { quantity: { device: MASS } } }
        { of: { quantity: { parameter: "supplyMin", of: "Accelerometer" } } }
      ]) { of per unit total { total { n value } } }
    }`);
    expect(data.trends.map(({ unit }: { unit: string }) => unit)).toEqual([
      '1',
      '1',
      '1',
      'components a device',
      'g',
      'V',
    ]);
    const [named, text, decision] = data.trends.map(
      (one: { total: { total: { value: number } } }) => one.total.total.value,
    );
    expect(text).toBe(named);
    // The pattern's strength is 0.8 where none is given.
    expect(decision).toBeCloseTo(named * 0.8, 9);
    expect(data.trends[5].total.total.value).toBe(1.7);
  });

  test.each([
    ['of: {}', 'BAD_INPUT', /exactly one of/u],
    ['of: { count: "Sensor", share: { category: "Sensor" } }', 'BAD_INPUT', /exactly one of/u],
    ['of: { share: { category: "Sensr" } }', 'BAD_INPUT', /did you mean "Sensor"/u],
    ['of: { share: { pattern: "never-was" } }', 'NOT_FOUND', /never-was/u],
    ['of: { share: { text: "MATCH (x RETURN x" } }', 'BAD_PATTERN', /Line 1/u],
    ['of: { share: { text: "MATCH (x:Nothing) RETURN x" } }', 'BAD_PATTERN', /Nothing/u],
    ['of: { quantity: { device: MASS, of: "Sensor" } }', 'BAD_INPUT', /either/u],
    ['of: { count: "Sensor" }, filter: { priceFrom: 3 }', 'BAD_INPUT', /currency/u],
  ])('%s is refused', async (args, code, why) => {
    const { data, errors } = await reader.answer(`{ trend(${args}) { unit } }`);
    expect(data.trend).toBeNull();
    expect(errors?.[0].extensions.code).toBe(code);
    expect(errors?.[0].message).toMatch(why);
  });

  test('a hidden maker or product line looks to a reader as if it did not exist; the desk sees it', async () => {
    for (const [field, ids] of [
      ['makers', HIDDEN.makers],
      ['productLines', HIDDEN.productLines],
    ] as const) {
      for (const id of ids) {
        const query = (one: string) =>
          `{ trend(of: { count: "Component" }, filter: { ${field}: ["${one}"] }) { unit } }`;
        const hidden = await reader.answer(query(id));
        const never = await reader.answer(query('never-was'));
        expect(JSON.parse(JSON.stringify(hidden).replaceAll(id, 'never-was'))).toEqual(never);
        expect((await desk.ask(query(id))).trend).not.toBeNull();
      }
    }
  });

  test('no word of a hidden device reaches a reader', async () => {
    const query = `{ trend(of: { share: { category: "Component" } }, by: MAKER) ${FIELDS} }`;
    const [told, all] = [await reader.ask(query), await desk.ask(query)].map((one) => JSON.stringify(one));
    for (const id of [...HIDDEN.devices, ...HIDDEN.makers]) expect(told).not.toContain(id);
    expect(all).not.toBe(told);
  });
});
