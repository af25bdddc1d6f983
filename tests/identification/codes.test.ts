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
      expect(read(code, 'eia-96')).toEqual([{ kind: 'resistance', ohm, tolerancePercent: 1 }]);
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
      ...(tolerance_percent === undefined ? {} : { tolerancePercent: tolerance_percent }),
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
        { kind: 'resistance', ohm: 4700, tolerancePercent: percent },
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
      ...(tolerance_percent === undefined ? {} : { tolerancePercent: tolerance_percent }),
    });
  });
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
