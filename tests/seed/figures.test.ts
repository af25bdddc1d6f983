import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { draw, valuesOf } from './figures/draw.ts';
import { partsOf, withFigures } from './figures/file.ts';
import { PLANS, RANGES } from './figures/tables.ts';
import { catalogue, figure, parts } from './seed.ts';

// The figures of the demo parts are drawn from ranges, none is written by hand. Bounds of the trade: common practice,
// no source.

const folder = fileURLToPath(new URL('../../seed-data/parts/', import.meta.url));
const files = new Map(readdirSync(folder).map((name) => [name, readFileSync(folder + name, 'utf8')]));
const written = new Map([...files.values()].flatMap((text) => [...partsOf(text)]));

/** Parameters that a part's purpose or a standard fixes, so that no range has them. */
const FIXED = new Set([
  'outputVoltage',
  'wordWidth',
  'bus',
  'axes',
  'channels',
  'frequencyMin',
  'frequencyMax',
  'dataRateMax',
  'chemistry',
  'rechargeable',
  'thermalSource',
  'resolutionBits',
  'ratedVoltage',
]);

describe('figures of the demo parts', () => {
  test('are what the seeded draw writes, file by file', () => {
    for (const [name, text] of files) expect(withFigures(text, written), name).toBe(text);
  });

  test('every part has a class, and every class in the list of parts exists', () => {
    expect([...PLANS.keys()].sort()).toEqual([...parts.keys()].sort());
    const classes = new Set(RANGES.map((range) => range.class));
    for (const plan of PLANS.values()) if (plan.supply !== '') expect(classes).toContain(plan.supply);
  });

  test('are all drawn, but for those that purpose or standard fix', () => {
    const undrawn = [...written].flatMap(([id, part]) => {
      const drawn = draw(part, written).parameters;
      const size = PLANS.get(id)?.class.match(/memory|RAM|storage|module|codec/u);
      return Object.keys(part.parameters).flatMap((name) => {
        if (FIXED.has(name) || name in drawn) return [];
        // A memory is named by its size, and sound is sampled at standard rates.
        return size && ['flashSize', 'ramSize', 'sampleRateMax'].includes(name) ? [] : [`${id} ${name}`];
      });
    });
    expect(undrawn).toEqual([]);
  });

  test('a range leaves something to draw, and its bounds are in order', () => {
    for (const range of RANGES) {
      expect(range.lowest, JSON.stringify(range)).toBeLessThanOrEqual(range.highest);
      expect(range.from, JSON.stringify(range)).toBeLessThanOrEqual(range.to);
      expect(valuesOf(range).length, JSON.stringify(range)).toBeGreaterThan(0);
    }
  });

  test('no two ranges of a figure are for the same part', () => {
    const twice = RANGES.filter((a, index) =>
      RANGES.some(
        (b, other) =>
          other > index &&
          a.class === b.class &&
          a.parameter === b.parameter &&
          (a.package === b.package || a.package === '' || b.package === '') &&
          a.from <= b.to &&
          b.from <= a.to,
      ),
    );
    expect(twice).toEqual([]);
  });

  test('balls of wafer-level packages are 0.3 to 0.7 mm apart', () => {
    const wafers = catalogue.parts.filter(({ package: name }) => name?.startsWith('WLCSP-'));
    expect(wafers.length).toBeGreaterThan(50);
    for (const { number, pins, body } of wafers) {
      const pitch = Math.sqrt(((body?.length ?? 0) * (body?.width ?? 0)) / (pins ?? 0));
      expect(pitch, number).toBeGreaterThan(0.3);
      expect(pitch, number).toBeLessThan(0.7);
    }
  });

  test('pouch cells measure what their numbers say, and hold more in a litre the later they came', () => {
    const cells = catalogue.parts.filter(({ categories }) => categories.includes('PouchCell'));
    const coded = cells.flatMap((cell) => {
      const [, thickness, width, length] = /(\d\d)(\d\d)(\d\d)H?$/u.exec(cell.number) ?? [];
      return thickness ? [{ cell, thickness, width, length }] : [];
    });
    expect(coded.length).toBeGreaterThan(12);
    for (const { cell, thickness, width, length } of coded) {
      expect(cell.body, cell.number).toEqual({
        height: Number(thickness) / 10,
        width: Number(width),
        length: Number(length) + 1,
      });
      // Energy by hand: capacity times voltage.
      const [capacity, volts] = [
        figure(cell, 'capacity', 'mAh') ?? 0,
        figure(cell, 'outputVoltage', 'V') ?? 0,
      ];
      const stated = figure(cell, 'energy', 'Wh') ?? 0;
      expect(Math.abs(stated - (capacity * volts) / 1000), cell.number).toBeLessThan(0.0006);
    }
    const density = ({ cell }: (typeof coded)[number]) =>
      (figure(cell, 'energy', 'Wh') ?? 0) /
      ((cell.body?.length ?? 0) * (cell.body?.width ?? 0) * (cell.body?.height ?? 0));
    const mean = (from: string, to: string) => {
      const some = coded.filter(({ cell: { introduced = '' } }) => introduced >= from && introduced < to);
      return some.reduce((sum, one) => sum + density(one), 0) / some.length;
    };
    expect(mean('2010', '2013')).toBeLessThan(mean('2013', '2016'));
    expect(mean('2013', '2016')).toBeLessThan(mean('2016', '2019'));
    expect(mean('2016', '2019')).toBeLessThan(mean('2019', '2023'));
  });

  test('a motor starts on no more than a fifth above what its coil takes at its voltage', () => {
    const motors = catalogue.parts.filter(
      ({ parameters }) => 'startCurrent' in parameters && 'coilResistance' in parameters,
    );
    expect(motors.length).toBeGreaterThan(2);
    for (const motor of motors) {
      const [volts, ohms] = [
        figure(motor, 'ratedVoltage', 'V') ?? 0,
        figure(motor, 'coilResistance', 'Ohm') ?? 1,
      ];
      const share = (figure(motor, 'startCurrent', 'A') ?? 0) / (volts / ohms);
      expect(share, motor.number).toBeGreaterThan(0.85);
      expect(share, motor.number).toBeLessThan(1.25);
    }
  });

  test('generations of one kind of part need less', () => {
    // Powers of one line of parts, oldest first: what the demo archive tells of its years.
    const lines: readonly (readonly [string, readonly string[], string, string])[] = [
      ['ostrel', ['OJL410', 'OJL470', 'OJL630', 'OJL720'], 'receiveCurrent', 'mA'],
      ['estermark', ['EHN100', 'EHN120', 'EHN140', 'EHN160', 'EHN180'], 'quiescentCurrent', 'uA'],
      ['quistle', ['QWR4T60', 'QWR4T65', 'QWR4T70', 'QWR4T75'], 'activeCurrent', 'uA'],
      ['quistle', ['QWR4T01', 'QWR4T10', 'QWR4T20', 'QWR4T30'], 'activeCurrent', 'uA'],
      ['pharrow', ['PRHF10', 'PRHF20', 'PRHF30', 'PRHF40'], 'activeCurrent', 'uA'],
      ['isobrant', ['IJB814', 'IJB826', 'IJB833', 'IJB857'], 'pressureResolution', 'Pa'],
      ['brackwen', ['BWN2011', 'BWN2020', 'BWN2030'], 'quiescentCurrent', 'uA'],
    ];
    for (const [maker, numbers, name, unit] of lines) {
      const values = numbers.map(
        (number) => figure(parts.get(`${maker}/${number}`), name, unit) ?? Number.NaN,
      );
      expect(
        [...values].sort((a, b) => b - a),
        `${numbers.join(', ')}: ${name}`,
      ).toEqual(values);
    }
  });
});
