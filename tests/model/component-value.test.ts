import { describe, expect, test } from 'vitest';
import { readComponentValue, resistanceIn, sameValue } from '../../src/model/component-value.ts';

describe('codes after IEC 60062', () => {
  // IEC 60062:2016, tables of examples for resistance and capacitance, from memory.
  test.each([
    ['R10', 0.1],
    ['R15', 0.15],
    ['R332', 0.332],
    ['R59', 0.59],
    ['1R0', 1],
    ['1R5', 1.5],
    ['3R32', 3.32],
    ['5R9', 5.9],
    ['10R', 10],
    ['33R2', 33.2],
    ['100R', 100],
    ['332R', 332],
    ['1K0', 1_000],
    ['3K32', 3_320],
    ['10K', 10_000],
    ['33K2', 33_200],
    ['100K', 100_000],
    ['1M0', 1_000_000],
    ['3M32', 3_320_000],
    ['10M', 10_000_000],
    ['1G0', 1e9],
    ['1T0', 1e12],
  ])('%s is %s Ohm', (code, ohms) => {
    expect(readComponentValue(code)?.resistance).toBe(ohms);
  });

  test.each([
    ['p10', 0.1e-12],
    ['p332', 0.332e-12],
    ['1p0', 1e-12],
    ['1p5', 1.5e-12],
    ['33p2', 33.2e-12],
    ['100p', 100e-12],
    ['1n0', 1e-9],
    ['3n32', 3.32e-9],
    ['10n', 10e-9],
    ['590n', 590e-9],
    ['1µ0', 1e-6],
    ['3µ32', 3.32e-6],
    ['100µ', 100e-6],
  ])('%s is %s F', (code, farads) => {
    expect(readComponentValue(code)?.capacitance).toBe(farads);
  });

  test.each([
    ['4K7J', 4_700, 5],
    ['R47F', 0.47, 1],
    ['3R3K', 3.3, 10],
    ['2M2M', 2_200_000, 20],
  ])('%s carries its tolerance', (code, resistance, tolerance) => {
    expect(readComponentValue(code)).toEqual({ resistance, tolerance });
  });
});

// IEC 60062, tolerances in fixed values below 10 pF (from memory): 0.25 of 3.3 pF are 7.57576 %.
test.each([
  ['3p3C', 7.57576],
  ['4p7D', 10.6383],
  ['1p0B', 10],
  ['3p3J', 5],
  ['47p0D', 0.5],
])('%s carries its tolerance in per cent', (code, tolerance) => {
  expect(readComponentValue(code)?.tolerance).toBe(tolerance);
});

// How lists write values: common practice, no source.
describe('values in words', () => {
  test.each([
    ['4.7 kOhm', { resistance: 4_700 }],
    ['4,7k', { resistance: 4_700 }],
    ['4.7kΩ ±1%', { resistance: 4_700, tolerance: 1 }],
    ['0R', { resistance: 0 }],
    ['10 mOhm 1/4W', { resistance: 0.01, ratedPower: 0.25 }],
    ['100 nF 16V X7R', { capacitance: 100e-9, ratedVoltage: 16, dielectric: 'X7R' }],
    ['100nF/50V/10%', { capacitance: 100e-9, ratedVoltage: 50, tolerance: 10 }],
    ['10uF,6.3V,X5R', { capacitance: 10e-6, ratedVoltage: 6.3, dielectric: 'X5R' }],
    ['4.7 µF', { capacitance: 4.7e-6 }],
    ['12pF NPO', { capacitance: 12e-12, dielectric: 'NP0' }],
    ['2.2uH 1.2A', { inductance: 2.2e-6, ratedCurrent: 1.2 }],
    ['600R@100MHz', { resistance: 600, frequency: 100e6 }],
    ['32.768kHz', { frequency: 32_768 }],
    ['32 MHz 8pF', { frequency: 32e6, capacitance: 8e-12 }],
    ['1k 1% 0402', { resistance: 1_000, tolerance: 1 }],
  ])('%s', (text, value) => {
    expect(readComponentValue(text)).toEqual(value);
  });

  test.each([
    ['100', undefined, undefined],
    ['100', 'resistance', { resistance: 100 }],
    ['2u2', 'inductance', { inductance: 2.2e-6 }],
    ['2R2', 'inductance', { inductance: 2.2e-6 }],
    ['10m', undefined, undefined],
    ['10m', 'resistance', { resistance: 0.01 }],
    ['10m', 'inductance', { inductance: 0.01 }],
    ['16M', 'frequency', { frequency: 16e6 }],
    ['QX17', undefined, undefined],
    ['USB', undefined, undefined],
    ['R', undefined, undefined],
    ['', undefined, undefined],
    ['1'.repeat(1000), 'resistance', undefined],
  ] as const)('%s of a component of kind %s', (text, kind, value) => {
    expect(readComponentValue(text, kind)).toEqual(value);
  });

  test('resistance alone', () => {
    expect(['4.7 kOhm', '0R', '10mR', '4k7', '470', '1M', undefined, '100 nF'].map(resistanceIn)).toEqual([
      4_700,
      0,
      0.01,
      4_700,
      470,
      1e6,
      undefined,
      undefined,
    ]);
  });
});

// Spellings as bills of materials have them: common practice, no source.
test.each([
  ['4k7', '4.7 kOhm', true],
  ['100nF', '0.1uF 16V', true],
  ['100n', '0.1uF', true],
  ['100n', '100nH', true],
  ['10UF', '10 µF', true],
  ['2u2F', '2.2 uF', true],
  ['.1uF', '100nF', true],
  ['0R', '0 Ohm', true],
  ['600R@100MHz', '600 Ohm', true],
  ['10k', '10k5', false],
  ['10uF', '10uH', false],
  ['green', 'Green', true],
  ['green', 'red', false],
  ['3V3', '3V0', false],
  ['10 x 10 mm', '10k', undefined],
  ['QWR4T10', 'QWR4T10-T', undefined],
  ['10k', 'NTC', undefined],
  ['10k', undefined, undefined],
])('%s and %s: %s', (a, b, same) => {
  expect(sameValue(a, b)).toBe(same);
  expect(sameValue(b, a)).toBe(same);
});
