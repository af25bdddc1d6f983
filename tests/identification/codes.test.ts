import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { mondayOf } from '../../src/identification/codes/dates.ts';
import { e96Value } from '../../src/identification/codes/eia96.ts';
import type { CodeMeaning } from '../../src/identification/codes/reading.ts';
import { readCode } from '../../src/identification/codes/rules.ts';

// Worked codes with their sources: EIA-96 and IEC 60063, IEC 60062, ISO 8601; see the file itself.
const REFERENCE = JSON.parse(readFileSync('tests/reference/marking_codes.json', 'utf8'));
const CONTEXT = { thisYear: 2026 };

function read(code: string, rule: string | RegExp): CodeMeaning[] {
  return readCode(code, CONTEXT)
    .filter((reading) => (typeof rule === 'string' ? reading.rule === rule : rule.test(reading.rule)))
    .map(({ meaning }) => meaning);
}

describe('EIA-96', () => {
  test.each(Object.entries(REFERENCE.eia96.values as Record<string, number>))(
    'place %s is %d',
    (place, value) => {
      expect(e96Value(Number(place))).toBe(value);
    },
  );
  test.each(REFERENCE.eia96.examples as { code: string; ohm: number }[])(
    '$code is $ohm ohm',
    ({ code, ohm }) => {
      expect(read(code, 'eia-96')).toEqual([{ kind: 'resistance', ohm, tolerance: { percent: 1 } }]);
    },
  );
  test.each(Object.entries(REFERENCE.eia96.multipliers as Record<string, number>))(
    'letter %s is %d',
    (letter, factor) => {
      const [meaning] = read(`01${letter}`, 'eia-96');
      expect(meaning.kind === 'resistance' && meaning.ohm).toBeCloseTo(100 * factor, 9);
    },
  );
  test('places beyond 96 are no code', () => {
    expect(read('97A', 'eia-96')).toEqual([]);
    expect(read('00A', 'eia-96')).toEqual([]);
  });
});

describe('IEC 60062 resistors', () => {
  const examples = REFERENCE.iec60062_resistor.examples as {
    code: string;
    ohm: number;
    tolerance_percent?: number;
  }[];
  test.each(examples)('$code is $ohm ohm', ({ code, ohm, tolerance_percent }) => {
    const readings = read(code, /^iec-60062-(three|four|letter)/u).filter(
      ({ kind }) => kind === 'resistance',
    );
    expect(readings).toContainEqual({
      kind: 'resistance',
      ohm,
      ...(tolerance_percent === undefined ? {} : { tolerance: { percent: tolerance_percent } }),
    });
  });
  test('100 is 10 ohm and never 100 ohm', () => {
    const ohms = read('100', /.*/u).flatMap((meaning) =>
      meaning.kind === 'resistance' ? [meaning.ohm] : [],
    );
    expect(ohms).toEqual([10]);
  });
  test.each(Object.entries(REFERENCE.iec60062_resistor.tolerance_letters_percent as Record<string, number>))(
    'tolerance %s is %d percent',
    (letter, percent) => {
      expect(read(`4K7${letter}`, 'iec-60062-letter')).toEqual([
        { kind: 'resistance', ohm: 4700, tolerance: { percent } },
      ]);
    },
  );
});

describe('IEC 60062 capacitors', () => {
  const examples = REFERENCE.iec60062_capacitor.examples as {
    code: string;
    farad: number;
    tolerance_percent?: number;
  }[];
  test.each(examples)('$code is $farad F', ({ code, farad, tolerance_percent }) => {
    const [meaning] = read(code, /capacitor/u);
    expect(meaning).toEqual({
      kind: 'capacitance',
      farad,
      ...(tolerance_percent === undefined ? {} : { tolerance: { percent: tolerance_percent } }),
    });
  });
});

// IEC 60062, tolerances in fixed values and asymmetrical ones, as gathered in tests/reference/marking_codes.json (from memory).
describe('tolerances of capacitors', () => {
  const { below_10_pF: small, letter_Z: z } = REFERENCE.iec60062_capacitor;
  test.each(small.examples as { code: string; farad: number; tolerance_farad: number }[])(
    '$code is $farad F within $tolerance_farad F',
    ({ code, farad, tolerance_farad }) => {
      expect(read(code, /capacitor/u)).toEqual([
        { kind: 'capacitance', farad, tolerance: { farad: tolerance_farad } },
      ]);
    },
  );
  test.each(Object.entries(small.tolerance_pF as Record<string, number>))(
    '%s is %d pF below 10 pF, and not at 10 pF',
    (letter, picofarad) => {
      expect(readCode(`4p7${letter}`, CONTEXT)[0].description).toBe(`capacitor, 4.7 pF, ±${picofarad} pF`);
      const [at] = readCode(`100${letter}`, CONTEXT).filter(({ rule }) => rule.includes('capacitor'));
      expect(at.description).toMatch(/ %$/u);
    },
  );
  test('Z runs from -20 to +80 per cent, J stays a percentage below 10 pF', () => {
    const [below, above] = z.tolerance_percent;
    expect(read(z.code, /capacitor/u)).toEqual([
      { kind: 'capacitance', farad: z.farad, tolerance: { percentBelow: -below, percentAbove: above } },
    ]);
    expect(readCode('104Z', CONTEXT)[0].description).toBe('capacitor, 100 nF, -20 % to +80 %');
    expect(readCode('3p3J', CONTEXT)[0].description).toBe('capacitor, 3.3 pF, ±5 %');
  });
  test('a percentage that makers mean as picofarad is doubted', () => {
    expect(readCode('220D', CONTEXT)[0].doubt).toContain('part makers mean ±0.5 pF by D');
    expect(readCode('3p3D', CONTEXT)[0].doubt).toBeUndefined();
  });
});

// What chip parts come in: common practice, no source. Series: IEC 60063.
describe('magnitudes that no part has', () => {
  const doubts = (code: string) =>
    Object.fromEntries(readCode(code, CONTEXT).map(({ rule, doubt }) => [rule, doubt]));
  test('419 is no resistor of 41 GΩ and no inductor of 41 kH', () => {
    const found = doubts('419');
    expect(found['iec-60062-three-digit']).toMatch(/^no resistor has that: 100 µΩ to 1 GΩ/u);
    expect(found['inductor-three-place']).toMatch(/^no inductor has that/u);
    expect(found['iec-60062-capacitor-digits']).toBeUndefined();
    expect(readCode('419', CONTEXT)[0].description).toBe('capacitor, 4.1 pF');
  });
  test('105 is a capacitor or a resistor rather than an inductor of 1 H', () => {
    expect(doubts('105')).toMatchObject({
      'iec-60062-three-digit': undefined,
      'iec-60062-capacitor-digits': undefined,
      'inductor-three-place': expect.stringMatching(/^no inductor has that/u),
    });
  });
  test('two digits that no series has are doubted', () => {
    expect(doubts('411')['iec-60062-three-digit']).toBe('41 is not in the series E24 (IEC 60063)');
    expect(doubts('471')['iec-60062-three-digit']).toBeUndefined();
    // 2.0 Ω; small capacitors come between the series.
    expect(doubts('020')['iec-60062-three-digit']).toBeUndefined();
    expect(doubts('509')['iec-60062-capacitor-digits']).toBeUndefined();
  });
  test('a capacitor of 0 is none, a resistor of 0 is a jumper', () => {
    expect(doubts('000')).toMatchObject({
      'iec-60062-three-digit': undefined,
      'iec-60062-capacitor-digits': 'no capacitor has 0 F',
      'inductor-three-place': 'no inductor has 0 H',
    });
  });
  test('what stands in doubt comes behind what does not', () => {
    for (const code of ['419', '000', '105', '2199', '999999', '96F'])
      expect(readCode(code, CONTEXT).map(({ doubt }) => (doubt === undefined ? 0 : 1))).toEqual(
        readCode(code, CONTEXT)
          .map(({ doubt }) => (doubt === undefined ? 0 : 1))
          .sort(),
      );
  });
  test('no worked example of the standards is doubted', () => {
    const { eia96, iec60062_resistor, iec60062_capacitor, inductor_three_digit } = REFERENCE;
    const worked = [
      ...eia96.examples.map(({ code }: { code: string }) => [code, 'eia-96']),
      ...iec60062_resistor.examples.map(({ code }: { code: string }) => [
        code,
        'iec-60062-(three|four|letter)',
      ]),
      ...iec60062_capacitor.examples.map(({ code }: { code: string }) => [code, 'capacitor']),
      ...inductor_three_digit.examples.map(({ code }: { code: string }) => [code, 'inductor']),
    ];
    for (const [code, rule] of worked) {
      const read = readCode(code, CONTEXT).filter((one) => new RegExp(rule, 'u').test(one.rule));
      expect(read.length, code).toBeGreaterThan(0);
      expect(
        read.map(({ doubt }) => doubt),
        code,
      ).toEqual(read.map(() => undefined));
    }
  });
});

test('what is from memory says so in the source of the reading', () => {
  const source = (code: string, rule: string) =>
    readCode(code, CONTEXT).find((one) => one.rule === rule)?.source;
  expect(source('4K7J', 'iec-60062-letter')).toMatch(/from memory/u);
  expect(source('104K', 'iec-60062-capacitor-digits')).toMatch(/from memory/u);
  expect(source('M5', 'iec-60062-date')).toMatch(/from memory/u);
  expect(source('01C', 'eia-96')).toMatch(/as guides of the trade have them/u);
});

describe('inductors (common practice, no source)', () => {
  test.each(REFERENCE.inductor_three_digit.examples as { code: string; henry: number }[])(
    '$code is $henry H',
    ({ code, henry }) => {
      expect(read(code, 'inductor-three-place')).toEqual([{ kind: 'inductance', henry }]);
    },
  );
});

describe('dates', () => {
  test.each(REFERENCE.iec60062_date.examples as { code: string; year_month: string }[])(
    '$code is $year_month',
    ({ code, year_month }) => {
      const [meaning] = read(code, 'iec-60062-date');
      expect(meaning.kind === 'date' && meaning.from.slice(0, 7)).toBe(year_month);
    },
  );
  test.each(Object.entries(REFERENCE.iec60062_date.years as Record<string, number>))(
    'year letter %s is %d',
    (letter, year) => {
      const readings = readCode(`${letter}1`, { thisYear: 2029 }).filter(
        ({ rule }) => rule === 'iec-60062-date',
      );
      expect(readings[0].description).toBe(`made in ${year}-01`);
    },
  );
  test.each(REFERENCE.yyww.examples as { code: string; from?: string; to?: string; invalid?: boolean }[])(
    '$code',
    ({ code, from, to, invalid }) => {
      expect(read(code, 'date-yyww')).toEqual(invalid ? [] : [{ kind: 'date', from, to }]);
    },
  );
  test('only years with 53 ISO weeks have a week 53', () => {
    const years = Array.from({ length: 17 }, (_, i) => 2010 + i).filter(
      (year) => mondayOf(year, 53) !== undefined,
    );
    expect(years).toEqual(REFERENCE.yyww.years_with_week_53);
  });
  test('a date after the release of the device is doubted, and the decade before is offered', () => {
    const context = { thisYear: 2026, released: '2019-04' };
    const [yyww] = readCode('2110', context).filter(({ rule }) => rule === 'date-yyww');
    expect(yyww.doubt).toMatch(/after the device's release/u);
    const yww = readCode('852', context).filter(({ rule }) => rule === 'date-yww');
    expect(yww.map(({ description }) => description.slice(0, 23))).toEqual([
      'made in week 52 of 2018',
      'made in week 52 of 2008',
    ]);
  });
});

describe('cell sizes (common practice, no source)', () => {
  test.each(REFERENCE.pouch_cell_size.examples as Record<string, number>[])('$code', (example) => {
    const { code, thickness_mm, width_mm, length_mm, diameter_mm, height_mm } = example;
    const expected =
      diameter_mm === undefined
        ? { kind: 'cell', thicknessMm: thickness_mm, widthMm: width_mm, lengthMm: length_mm }
        : { kind: 'round-cell', diameterMm: diameter_mm, heightMm: height_mm };
    expect(read(String(code), /cell/u)).toEqual([expected]);
  });
});

test('rival readings are all kept, each with its rule', () => {
  const rules = readCode('103', CONTEXT).map(({ rule }) => rule);
  expect(rules).toEqual([
    'iec-60062-three-digit',
    'iec-60062-capacitor-digits',
    'inductor-three-place',
    'date-yww',
    'date-yww',
    'date-yww',
  ]);
});
