import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CATALOGUE_WITH_PINOUT, DOSSIER_WITH_NETS } from '../dossier/files.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder();
const cwd = folder.path;
beforeAll(async () => {
  folder.write('a.yaml', DOSSIER_WITH_NETS);
  folder.write('b.yaml', CATALOGUE_WITH_PINOUT);
  const { code, err } = await caseback(['import', 'a.yaml', 'b.yaml', '--reason', 'test'], { cwd });
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

/** Lines of an answer, blanks and rules of tables by their being there. */
async function lines(...args: string[]): Promise<readonly string[]> {
  const { code, out, err } = await caseback(args, { cwd });
  expect([code, err]).toEqual([0, expect.any(String)]);
  return `${out}\n${err}`
    .split('\n')
    .map((line) => line.replaceAll(/\s+/gu, ' ').trim())
    .filter((line) => line !== '' && !line.startsWith('--'));
}

describe('nets', () => {
  test('of a specimen, a net a row', async () => {
    expect(await lines('nets', 'tarn-sennit-3/a')).toEqual([
      'net label kind voltage bus complete pins',
      'vdd VDD power 1.8 V yes U1.1 (VDD), R1.1, R2.1, not fitted',
      'gnd ground not known U1.GND, U2',
      'sda signal I2C not known U1.4 (SDA), R1.2, R2.2, not fitted, U2.2 (SDA)',
      'tarn-sennit-3/a: 3 nets, 9 pins',
    ]);
    expect((await lines('nets', 'tarn-sennit-3', '--kind', 'power')).at(-1)).toBe(
      'tarn-sennit-3/a: 1 net, 3 pins',
    );
    expect((await lines('nets', 'tarn-sennit-3', '--bus', 'I2C')).at(-1)).toBe(
      'tarn-sennit-3/a: 1 net, 4 pins',
    );
  });

  test('a pin a row, of one net and as CSV', async () => {
    expect(await lines('nets', 'tarn-sennit-3/a/sda')).toContain('sda signal I2C U2 2 SDA data yes');
    const csv = await lines('nets', 'tarn-sennit-3/a', '--format', 'csv');
    expect(csv.slice(0, 3)).toEqual([
      'net,label,kind,voltage,bus,component,pin,name,direction,function,output,value,fitted',
      'vdd,VDD,power,1.8 V,,U1,1,VDD,power-input,,,,yes',
      'vdd,VDD,power,1.8 V,,R1,1,,,,,4.7 kOhm,yes',
    ]);
    const { out } = await caseback(['nets', 'tarn-sennit-3/a/gnd', '--format', 'json'], { cwd });
    expect(JSON.parse(out)).toEqual([
      {
        id: 'gnd',
        kind: 'ground',
        specimen: 'tarn-sennit-3/a',
        basis: [],
        pins: [{ component: 'U1', name: 'GND' }, { component: 'U2' }],
      },
    ]);
  });

  test('of nothing known, with near ids', async () => {
    const { code, err } = await caseback(['nets', 'tarn-sennit-3/a/sdb'], { cwd });
    expect([code, err]).toEqual([1, expect.stringContaining('did you mean "tarn-sennit-3/a/sda"')]);
  });
});

describe('components', () => {
  test('of a specimen or board, with values and what counts', async () => {
    expect(await lines('components', 'tarn-sennit-3/a')).toEqual([
      'component board side x y rotation package pins value kind kind sure part part sure counts',
      'R1 main top 4.7 kOhm yes',
      'R2 main top 10 kOhm no, not fitted',
      'U1 main top 5 5 LGA-14 Accelerometer 0.7 quistle/QWR4T10 0.7 yes',
      'U2 sensor top 2 2 Microcontroller 0.9 ostrel/OS7 0.9 yes',
      'tarn-sennit-3/a: 3 components, and 1 place that counts as none',
    ]);
    expect(await lines('components', 'tarn-sennit-3/a/sensor')).toContain('tarn-sennit-3/a: 1 component');
    expect(await lines('components', 'tarn-sennit-3', '--category', 'Processor', '--format', 'csv')).toEqual([
      'component,board,side,x,y,rotation,package,pins,value,kind,kind sure,part,part sure,counts',
      'U2,sensor,top,2,2,,,,,Microcontroller,0.9,ostrel/OS7,0.9,yes',
      'tarn-sennit-3/a: 1 component',
    ]);
  });

  test('the pins of one, with their nets', async () => {
    expect(await lines('components', 'tarn-sennit-3/a/U1')).toEqual([
      'pin name direction function output net label kind voltage bus',
      '1 VDD power-input vdd VDD power 1.8 V',
      '4 SDA sda signal I2C',
      '7 GND gnd ground',
      '8 GND gnd ground',
      'tarn-sennit-3/a/U1: 4 pins known',
    ]);
  });

  test('an unknown term is refused, with a near one', async () => {
    const { code, err } = await caseback(['components', 'tarn-sennit-3', '--category', 'Sensr'], { cwd });
    expect([code, err]).toEqual([2, expect.stringContaining('did you mean "Sensor"')]);
  });
});

test('a further pin of a net, and a value, are corrections', async () => {
  const by = ['--actor', 'I. Example', '--reason', 'followed by probe'];
  expect(
    (
      await caseback(['correct', 'value', 'tarn-sennit-3/a/gnd', 'pins', '[U1.GND, U2.5, R2.3]', ...by], {
        cwd,
      })
    ).code,
  ).toBe(0);
  expect(
    (await caseback(['correct', 'value', 'tarn-sennit-3/a/R1', 'value', '47', ...by], { cwd })).code,
  ).toBe(0);
  expect(
    (await caseback(['correct', 'value', 'tarn-sennit-3/a/R2', 'value', '22 kOhm', ...by], { cwd })).code,
  ).toBe(0);
  expect(
    (await caseback(['correct', 'value', 'tarn-sennit-3/a/R2', 'fitted', 'true', ...by], { cwd })).code,
  ).toBe(0);
  expect(await lines('nets', 'tarn-sennit-3/a')).toContain('gnd ground not known U1.GND, U2.5, R2.3');
  expect(await lines('components', 'tarn-sennit-3/a')).toEqual(
    expect.arrayContaining(['R1 main top 47 yes', 'R2 main top 22 kOhm yes']),
  );
  // A pin in two nets is refused as in files.
  const { code, err } = await caseback(
    ['correct', 'value', 'tarn-sennit-3/a/gnd', 'pins', '[U1.VDD]', ...by],
    { cwd },
  );
  expect([code, err]).toEqual([1, expect.stringContaining('U1.VDD is in net "gnd" and')]);
  expect(
    (await caseback(['correct', 'value', 'tarn-sennit-3/a/gnd', 'pins', '[U1.VDD', ...by], { cwd })).code,
  ).toBe(2);
});

test('what shows a net is recorded of it; without standing evidence it counts for nothing', async () => {
  const by = ['--actor', 'I. Example', '--reason', 'test'];
  const observe = [
    'observe',
    'tarn-sennit-3/a',
    'rail',
    'probe',
    '--about',
    'vdd,U1',
    '--value',
    '1.79 V',
    ...by,
  ];
  expect((await caseback(observe, { cwd })).code).toBe(0);
  expect((await caseback(['history', 'tarn-sennit-3/a/rail'], { cwd })).out).toContain(
    'observation-recorded',
  );
  expect((await caseback(['impact', 'tarn-sennit-3/a/seen-1'], { cwd })).out).toMatch(
    /tarn-sennit-3\/a\/vdd .*is shown by it/u,
  );
  // The only observation that vdd names as its basis.
  expect((await caseback(['withdraw', 'tarn-sennit-3/a/seen-1', ...by], { cwd })).code).toBe(0);
  expect((await lines('nets', 'tarn-sennit-3/a')).map((line) => line.split(' ')[0])).toEqual([
    'net',
    'gnd',
    'sda',
    'tarn-sennit-3/a:',
  ]);
});
