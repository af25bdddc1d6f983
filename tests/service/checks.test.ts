import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHECKS } from '../../src/design-checks/table.ts';
import { CATALOGUE, DOSSIERS, HIDDEN } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

let desk: Served;
let reader: Served;

const RECORDS = [
  {
    ...CATALOGUE,
    parts: CATALOGUE.parts?.map((part) =>
      part.number === 'OS7' ? { ...part, parameters: { sleepCurrent: '1 uA', activeCurrent: '4 mA' } } : part,
    ),
    patterns: [
      ...(CATALOGUE.patterns ?? []),
      {
        id: 'some-camera',
        name: 'Some camera',
        idea: 'There is one.',
        text: 'MATCH (camera:ImageSensor) RETURN camera',
        reasons: ['To see.'],
        check: { name: 'run-time', inputs: { activeCurrent: 'camera.activeCurrent' } },
      },
      {
        id: 'some-controller',
        name: 'Some controller',
        idea: 'There is one.',
        text: 'MATCH (chip:Microcontroller) RETURN chip',
        reasons: ['To compute.'],
        check: {
          name: 'run-time',
          inputs: {
            activeCurrent: 'chip.activeCurrent',
            sleepCurrent: 'chip.sleepCurrent',
            activeShare: '2 %',
          },
        },
      },
    ],
  },
  ...DOSSIERS,
];

beforeAll(async () => {
  const archive = await archiveOf(RECORDS);
  desk = await serve({ audience: 'desk' }, archive);
  reader = await serve({ audience: 'reader' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

test('designChecks lists every check with inputs, usual ranges, formula, source and limits', async () => {
  const { designChecks } = await desk.ask(
    `{ designChecks { name title formula source limits cautions
       inputs { name unit meaning isOptional min max above isInteger typical { low high note } } outputs { name unit } } }`,
  );
  expect(designChecks.map(({ name }: { name: string }) => name)).toEqual(Object.keys(CHECKS));
  const rate = designChecks.find(({ name }: { name: string }) => name === 'charge-rate');
  expect(rate.inputs[2]).toEqual({
    name: 'rateAllowed',
    unit: '1/h',
    meaning: CHECKS['charge-rate'].inputs[2].meaning,
    isOptional: false,
    min: null,
    max: null,
    above: 0,
    isInteger: false,
    typical: { low: 0.5, high: 1, note: 'common practice, no source' },
  });
  expect(rate.cautions.join(' ')).toMatch(/pouch cell.*Disconnect chargers.*not medical advice/u);
  const pulse = designChecks.find(({ name }: { name: string }) => name === 'optical-pulse');
  expect(pulse.limits).toContain('Not for medical use');
  expect(pulse.cautions.join(' ')).toContain('not medical advice');
});

const CALCULATE = `query ($check: String!, $inputs: [CheckInputValue!]!) { calculate(check: $check, inputs: $inputs) {
  verdict sentence values { name value low high unit meaning } missing { name typical { note } } check { source } } }`;
const calculate = (check: string, inputs: Record<string, [number, string, number?]>) =>
  desk.answer(CALCULATE, {
    check,
    inputs: Object.entries(inputs).map(([name, [value, unit, plusMinus]]) => ({
      name,
      quantity: { value, unit, plusMinus },
    })),
  });

describe('calculate', () => {
  test('gives the worked case of the charge rate, with its interval', async () => {
    // 32.5 mA into 65 mAh are 0.5 C (reference file).
    const { data } = await calculate('charge-rate', {
      capacity: [65, 'mAh'],
      chargeCurrent: [32.5, 'mA', 3.25],
      rateAllowed: [1, '1/h'],
    });
    const [rate] = data.calculate.values;
    expect(rate).toMatchObject({ name: 'rate', value: 0.5, unit: '1/h' });
    expect([rate.low, rate.high]).toEqual([expect.closeTo(0.45, 12), expect.closeTo(0.55, 12)]);
    expect(data.calculate.verdict).toBe('SUPPORTS');
    expect(data.calculate.check.source).toBe(CHECKS['charge-rate'].source);
  });

  test('asks for what is missing', async () => {
    const { data } = await calculate('charge-rate', { capacity: [65, 'mAh'] });
    expect(data.calculate).toMatchObject({
      verdict: 'NEUTRAL',
      values: [],
      missing: [
        { name: 'chargeCurrent', typical: { note: 'common practice, no source' } },
        { name: 'rateAllowed', typical: { note: 'common practice, no source' } },
      ],
    });
  });

  test.each([
    ['charg-rate', {}, 'no check is named "charg-rate"; did you mean "charge-rate"?'],
    ['charge-rate', { capacty: [1, 'mAh'] }, 'charge-rate has no input "capacty"'],
    ['charge-rate', { capacity: [1, 'V'] }, 'measures something else; give it in mA.h'],
    ['charge-rate', { capacity: [1, 'mAhh'] }, 'capacity: "mAhh" is not a unit that UCUM knows'],
    ['charge-rate', { capacity: [-1, 'mAh'] }, 'must be above 0'],
  ])('refuses %s %j', async (check, inputs, said) => {
    const { data, errors } = await calculate(check, inputs as Record<string, [number, string]>);
    expect(data.calculate).toBeNull();
    expect(errors?.[0].message).toContain(said);
    expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
  });

  test('refuses an input given twice', async () => {
    const twice = [1, 2].map((value) => ({ name: 'capacity', quantity: { value, unit: 'mAh' } }));
    const { errors } = await desk.answer(CALCULATE, { check: 'charge-rate', inputs: twice });
    expect(errors?.[0]).toMatchObject({
      message: 'the input "capacity" is given twice',
      extensions: { code: 'BAD_INPUT' },
    });
  });
});

const BOUND = `query ($device: ID!, $given: [CheckInputValue!]!) {
  patternCheck(pattern: "some-controller", device: $device, given: $given) {
    check { name } problem missing { name unit } result { sentence values { name value } }
    inputs { name origin from supportedBy probability quantity { text } } } }`;

describe('patternCheck', () => {
  test('binds inputs to the device and asks for the rest', async () => {
    const { patternCheck } = await reader.ask(BOUND, { device: 'tarn-sennit-1', given: [] });
    expect(patternCheck).toMatchObject({
      check: { name: 'run-time' },
      result: null,
      problem: null,
      missing: [{ name: 'capacity', unit: 'mA.h' }],
    });
    expect(patternCheck.inputs).toContainEqual({
      name: 'activeCurrent',
      origin: 'GRAPH',
      from: 'activeCurrent of ostrel/OS7, which U1 is identified as',
      supportedBy: ['tarn-sennit-1/a/U1', 'ostrel/OS7'],
      probability: 0.97,
      quantity: { text: '4 mA' },
    });
    expect(patternCheck.inputs.map(({ origin }: { origin: string }) => origin)).toContain('STATED');
  });

  test('calculates with what is given by hand', async () => {
    const given = [{ name: 'capacity', quantity: { value: 65, unit: 'mAh' } }];
    const { patternCheck } = await reader.ask(BOUND, { device: 'tarn-sennit-1', given });
    const { values } = patternCheck.result;
    // 2 % of 4 mA and 98 % of 1 µA are 80.98 µA on average.
    expect(values.find(({ name }: { name: string }) => name === 'runTime').value).toBeCloseTo(
      65 / 0.08098,
      6,
    );
  });

  test('is null where the pattern has no check or the device does not show it', async () => {
    const { bare, none } = await reader.ask(
      `{ bare: patternCheck(pattern: "front-end-at-sensor", device: "tarn-sennit-1") { problem }
         none: patternCheck(pattern: "some-camera", device: "tarn-sennit-1") { problem } }`,
    );
    expect([bare, none]).toEqual([null, null]);
  });

  test.each(HIDDEN.devices)(
    'answers for the hidden %s as for a device that does not exist',
    async (device) => {
      const hidden = await reader.answer(BOUND, { device, given: [] });
      const absent = await reader.answer(BOUND, { device: 'no-such-device', given: [] });
      expect(hidden.errors?.[0].extensions.code).toBe('NOT_FOUND');
      expect(hidden.errors?.[0].message.replace(device, 'no-such-device')).toBe(absent.errors?.[0].message);
      const { patternCheck } = await desk.ask(BOUND, { device, given: [] });
      expect(patternCheck.inputs.length).toBeGreaterThan(0);
    },
  );

  test('deviceChecks answers without a pattern, and asks for what the archive does not know', async () => {
    const { deviceChecks } = await reader.ask(
      '{ deviceChecks(device: "tarn-sennit-1") { check { name } missing { name } inputs { name origin quantity { value unit } } } }',
    );
    const shares = deviceChecks.find((one: { check: { name: string } }) => one.check.name === 'power-share');
    expect(shares.inputs).toContainEqual({
      name: 'processingCurrent',
      origin: 'GRAPH',
      quantity: { value: 4, unit: 'mA' },
    });
    expect(shares.missing.map(({ name }: { name: string }) => name)).toEqual(
      expect.arrayContaining(['energy', 'cellVoltage', 'processingTime']),
    );
    // No display was seen.
    expect(deviceChecks.map((one: { check: { name: string } }) => one.check.name)).not.toContain(
      'display-power',
    );
  });

  test('deviceChecks calculates one check with inputs by hand, and takes none without a check', async () => {
    const given = Object.entries({
      energy: [0.2405, 'W.h'],
      cellVoltage: [3.7, 'V'],
      processingTime: [2, '%'],
    }).map(([name, [value, unit]]) => ({ name, quantity: { value, unit } }));
    const ask =
      'query ($check: String, $given: [CheckInputValue!]!) { deviceChecks(device: "tarn-sennit-1", check: $check, given: $given) { result { sentence values { name value } } } }';
    const { deviceChecks } = await reader.ask(ask, { check: 'power-share', given });
    expect(deviceChecks).toHaveLength(1);
    const { values } = deviceChecks[0].result;
    // 2 % of 4 mA is 0.08 mA, which 65 mAh last 812.5 h at.
    expect(values.find(({ name }: { name: string }) => name === 'runTime').value).toBeCloseTo(812.5, 9);
    const { errors } = await reader.answer(ask, { given });
    expect(errors?.[0]).toMatchObject({ extensions: { code: 'BAD_INPUT' } });
    const hidden = await reader.answer('{ deviceChecks(device: "tarn-hidden") { problem } }');
    expect(hidden.errors?.[0].extensions.code).toBe('NOT_FOUND');
  });

  test('a pattern names its check', async () => {
    const { a, b } = await reader.ask(
      '{ a: pattern(id: "some-controller") { check { name } } b: pattern(id: "front-end-at-sensor") { check { name } } }',
    );
    expect(a.check).toEqual({ name: 'run-time' });
    expect(b.check).toBeNull();
  });
});
