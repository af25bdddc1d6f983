import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHECKS } from '../../src/design-checks/table.ts';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder(FILES);
const DATA = ['--data', join(folder.path, 'data')];
beforeAll(() => caseback(['import', ...Object.keys(FILES), ...DATA], { cwd: folder.path }));
afterAll(() => folder.remove());

const calculate = (...args: string[]) => caseback(['calculate', ...args], { cwd: folder.path });

const CELL = ['capacity=65 mAh', 'rateAllowed=1 /h'];

describe('calculate', () => {
  test('alone lists every check', async () => {
    const { code, out } = await calculate();
    expect(code).toBe(0);
    for (const name of Object.keys(CHECKS)) expect(out).toMatch(new RegExp(`^${name} `, 'mu'));
    const { out: json } = await calculate('--format', 'json');
    expect(JSON.parse(json).map(({ name }: { name: string }) => name)).toEqual(Object.keys(CHECKS));
  });

  test('with a check lists its inputs, usual ranges, formula, source, limits and cautions', async () => {
    const { code, out } = await calculate('charge-rate');
    expect(code).toBe(0);
    expect(out).toContain('0.5 to 1 (common practice, no source)');
    const { formula, source, limits, cautions } = CHECKS['charge-rate'];
    for (const text of [formula, source, limits, ...cautions]) expect(out).toContain(text);
  });

  test.each(['32.5 mA +- 3.25', '32.5 mA ± 3.25', '32.5 ± 3.25 mA', '32.5 mA +/- 3.25', '0.0325 A+-0.00325'])(
    'gives the worked case of 0.5 C with its interval, written "%s"',
    async (current) => {
      const { code, out } = await calculate(
        'chargeRate',
        ...CELL,
        `chargeCurrent=${current}`,
        '--format',
        'json',
      );
      expect(code).toBe(0);
      const { rate } = JSON.parse(out).result.values;
      expect(rate).toMatchObject({ value: 0.5, unit: '1/h' });
      expect([rate.low, rate.high]).toEqual([expect.closeTo(0.45, 12), expect.closeTo(0.55, 12)]);
    },
  );

  test('gives a sentence too, with the verdict and the caution about chargers', async () => {
    const { out } = await calculate('charge-rate', ...CELL, 'chargeCurrent=90 mA');
    expect(out).toContain('The cell is charged at 1.38 C');
    expect(out).toContain('Verdict: speaks against.');
    expect(out).toContain('caution: Disconnect chargers');
  });

  test('the optical check says that it is not medical advice', async () => {
    const { out } = await calculate('optical-pulse', 'wavelengths=2', 'pulseShare=1 %', 'noiseShare=0.05 %');
    expect(out).toContain('no medical advice');
  });

  test('asks for what is missing and ends with 1', async () => {
    const { code, out } = await calculate('charge-rate', 'capacity=65 mAh');
    expect(code).toBe(1);
    expect(out).toMatch(/^Not calculated yet\..*^chargeCurrent .*^rateAllowed /msu);
  });

  test.each([
    [2, ['charg-rate'], 'no check is named "charg-rate"; did you mean "charge-rate"?'],
    [
      2,
      ['charge-rate', 'capacity'],
      '"capacity" is not a valid input; write name=value, such as "capacity=1 mA.h"',
    ],
    [2, ['charge-rate', 'capacity=65 mAh', 'capacity=66 mAh'], '"capacity" is given twice'],
    [2, ['charge-rate', 'capacity=much'], 'capacity: "much" is not a valid quantity'],
    [1, ['charge-rate', 'capacity=65 V'], 'measures something else; give it in mA.h'],
    [1, ['charge-rate', 'volume=1 l'], 'charge-rate has no input "volume"; its inputs are capacity'],
  ] as const)('ends with %i for %j', async (expected, args, said) => {
    const { code, err } = await calculate(...args);
    expect(code).toBe(expected);
    expect(err).toContain(said);
  });
});

test('a figure without unit has its uncertainty behind it too, and what was cut off is told', async () => {
  const { code, out } = await calculate('averaging', 'count=2', 'correlation=0.9 +- 0.5');
  expect(code).toBe(0);
  expect(out).toContain('note: correlation is cut off at 1, its physical end.');
});

test('whoever is asked to measure is told what can hurt', async () => {
  const { out } = await calculate('johnson-noise', 'resistance=10 kOhm');
  expect(out).toContain('Not calculated yet.');
  expect(out).toContain('caution: Never join a person, yourself included, to an instrument');
});

test('figures that contradict one another are refused', async () => {
  const { code, err } = await calculate(
    'run-time',
    'capacity=65 mAh',
    'activeCurrent=1 mA',
    'sleepCurrent=2 mA',
    'activeShare=5 %',
  );
  expect(code).toBe(1);
  expect(err).toContain(
    'input "sleepCurrent" (2 mA) is above "activeCurrent" (1 mA); rest takes no more than work',
  );
});

describe('calculate --device', () => {
  const area = (...args: string[]) => calculate('board-area', '--device', 'ferrule-band-1', ...DATA, ...args);

  test('uses values of the archive, names their sources, and asks for the rest', async () => {
    const { code, out } = await area();
    expect(code).toBe(1);
    expect(out).toMatch(/^components +2 +1\.00 +components of ferrule-band-1\/a$/mu);
    expect(out).toMatch(/^shellArea +the room inside ferrule-band-1 is not known: it takes a rigid board/mu);
    expect(out).toMatch(/^shellArea +cm² .*Flat area inside the shell/mu);
  });

  test('calculates with the rest given by hand', async () => {
    const { code, out } = await area('shellArea=8 cm2', '--format', 'json');
    expect(code).toBe(0);
    const { result, inputs } = JSON.parse(out);
    // Two components on two sides of 30 × 20 mm; those sides against two of 8 cm².
    expect(result.values.density.value).toBeCloseTo(2 / 12, 12);
    expect(result.values.boardOverShell.value).toBeCloseTo(12 / 16, 12);
    expect(inputs.map(({ origin }: { origin: string }) => origin)).toEqual([
      'graph',
      'graph',
      'graph',
      'stated',
      'given',
    ]);
  });

  test.each([
    [1, ['board-area', '--device', 'ferrule-band-9'], 'No device "ferrule-band-9" is in the archive'],
    [1, ['display-power', '--device', 'ferrule-band-1'], 'has nothing that "display-power" is about'],
    [1, ['board-area', 'shellArea=-8 cm2', '--device', 'ferrule-band-1'], '"shellArea" must be above 0'],
    [2, ['averaging', '--device', 'ferrule-band-1'], 'takes no input from a device; these do: power-share'],
    [2, ['--device', 'ferrule-band-1'], 'name the check'],
  ] as const)('ends with %i for %j', async (expected, args, said) => {
    const { code, err } = await calculate(...args, ...DATA);
    expect(code).toBe(expected);
    expect(err).toContain(said);
  });
});
