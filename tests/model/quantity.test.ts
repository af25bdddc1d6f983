import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  convert,
  formatQuantity,
  parseQuantity,
  QuantityError,
  sameDimension,
  unitCode,
  valueIn,
} from '../../src/model/quantity.ts';

const reference = JSON.parse(readFileSync(new URL('../reference/identifiers.json', import.meta.url), 'utf8'));

describe('units', () => {
  // The Unified Code for Units of Measure, as gathered in tests/reference/identifiers.json (from memory).
  const { codes } = reference.ucum as { codes: Record<string, string> };
  const listed = Object.entries(codes).filter(([, code]) => !code.includes(' '));
  test.each(listed)('%s is written %s', (_, code) => {
    expect(unitCode(code)).toBe(code);
  });

  test('a spectral density in µV/√Hz is refused, because UCUM exponents are integers', () => {
    expect(unitCode('uV/Hz^0.5')).toBeUndefined();
    expect(unitCode('uV2/Hz')).toBe('uV2/Hz');
  });

  // Plain forms are common practice, no source; the codes on the right are UCUM's.
  test.each([
    ['mAh', 'mA.h'],
    ['Wh', 'W.h'],
    ['mA·h', 'mA.h'],
    ['mA⋅h', 'mA.h'],
    ['mA h', 'mA.h'],
    ['mA\u202fh', 'mA.h'],
    ['mA-h', 'mA.h'],
    ['mW·h', 'mW.h'],
    ['µF', 'uF'],
    ['kohm', 'kOhm'],
    ['ppm', '[ppm]'],
    ['°F', '[degF]'],
    ['°/s', 'deg/s'],
    ['dps', 'deg/s'],
    ['mm^2', 'mm2'],
    ['MB/s', 'MBy/s'],
    ['dBm', 'dB{mW}'],
    ['µm', 'um'],
    ['μm', 'um'],
    ['kΩ', 'kOhm'],
    ['kΩ', 'kOhm'],
    ['°C', 'Cel'],
    ['m/s²', 'm/s2'],
    ['oz', '[oz_av]'],
    ['gram', 'g'],
    ['volt', 'V'],
    ['in', '[in_i]'],
    ['KiB', 'KiBy'],
    ['kbps', 'kbit/s'],
    ['', '1'],
  ])('"%s" is understood as %s', (written, code) => {
    expect(unitCode(written)).toBe(code);
    expect(unitCode(code)).toBe(code);
  });

  test.each(['volts', 'mAhh', 'm m', 'V V', 'milli', '#', '?'])('"%s" is no unit', (written) => {
    expect(unitCode(written)).toBeUndefined();
  });
});

test('a level over a milliwatt is no bare ratio', () => {
  expect(sameDimension('dB', 'dB{mW}')).toBe(false);
  expect(sameDimension('dBm', 'dB{mW}')).toBe(true);
  expect(convert({ value: 3, unit: 'dB{mW}' }, 'dBm')).toEqual({ value: 3, unit: 'dB{mW}' });
});

describe('reading', () => {
  test.each([
    ['3.7 V', { value: 3.7, unit: 'V' }],
    ['65 mAh', { value: 65, unit: 'mA.h' }],
    ['65mAh', { value: 65, unit: 'mA.h' }],
    ['12.4 ± 0.1 mm', { value: 12.4, unit: 'mm', plusMinus: 0.1 }],
    ['12.4 +/- 0.1 mm', { value: 12.4, unit: 'mm', plusMinus: 0.1 }],
    ['-20 °C', { value: -20, unit: 'Cel' }],
    ['85 %', { value: 85, unit: '%' }],
    ['1.5e-6 A', { value: 1.5e-6, unit: 'A' }],
    ['.5 g', { value: 0.5, unit: 'g' }],
    ['  4 kBy ', { value: 4, unit: 'kBy' }],
    ['7', { value: 7, unit: '1' }],
  ])('%s', (written, quantity) => {
    expect(parseQuantity(written)).toEqual(quantity);
  });

  test.each(['', 'V', 'about 3 V', '3,7 V', '3.7 volts', '--3 V', '3 ± V'])('refuses "%s"', (written) => {
    expect(() => parseQuantity(written)).toThrow(QuantityError);
  });

  test('what is written out reads back as the same quantity', () => {
    const unit = fc.constantFrom('V', 'mA.h', 'mm', 'Cel', '%', '1', '[g]', 'uV2/Hz', 'kBy', 'm/s2', '10*3');
    const value = fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => n + 0);
    const plusMinus = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(value, unit, fc.option(plusMinus, { nil: undefined }), (amount, code, spread) => {
        const quantity = {
          value: amount,
          unit: code,
          ...(spread === undefined ? {} : { plusMinus: spread }),
        };
        expect(parseQuantity(formatQuantity(quantity))).toEqual(quantity);
      }),
      {
        numRuns: 300,
        examples: [
          [1e21, 'V', 1e-7],
          [5e-324, 'mm', 1.7e308],
        ],
      },
    );
  });
});

describe('conversion', () => {
  // Defined factors: BIPM SI Brochure, 9th edition (prefixes; hour = 3600 s; degree Celsius, section 2.3.4);
  // standard gravity 9.80665 m/s² (3rd CGPM, 1901); avoirdupois ounce 28.349523125 g and inch 25.4 mm
  // (international yard and pound agreement, 1959); 1 byte = 8 bit, 1 KiB = 1024 byte (IEC 80000-13).
  test.each([
    ['65 mA.h', 'C', 234],
    ['1 W.h', 'J', 3600],
    ['25 °C', 'K', 298.15],
    ['-40 °C', '[degF]', -40],
    ['1 [g]', 'm/s2', 9.80665],
    ['1 oz', 'g', 28.349523125],
    ['1 in', 'mm', 25.4],
    ['1 KiB', 'bit', 8192],
    ['180 deg', 'rad', Math.PI],
    ['5 %', '1', 0.05],
    ['1013.25 hPa', 'Pa', 101325],
  ])('%s in %s', (written, unit, value) => {
    const factor = valueIn(parseQuantity(written), unit) / value;
    expect(factor).toBeCloseTo(1, 9);
  });

  test('an uncertainty scales without the offset of the temperature scale', () => {
    expect(convert(parseQuantity('36.6 ± 0.2 °C'), 'K')).toEqual({
      value: expect.closeTo(309.75, 9),
      unit: 'K',
      plusMinus: expect.closeTo(0.2, 9),
    });
    expect(convert(parseQuantity('36.6 ± 0.5 °C'), '[degF]').plusMinus).toBeCloseTo(0.9, 9);
  });

  test.each([
    ['3.7 V', 'A'],
    ['5 g', '[g]'],
    ['8 By', '%'],
    ['3 dB', '1'],
    ['3 dB', '%'],
    ['1 mA.h', 'W.h'],
  ])('%s does not become %s', (written, unit) => {
    const quantity = parseQuantity(written);
    expect(sameDimension(quantity.unit, unit)).toBe(false);
    expect(() => convert(quantity, unit)).toThrow(QuantityError);
  });
});
