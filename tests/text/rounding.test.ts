import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixed, inPercent, percentText, significant } from '../../src/text/rounding.ts';

// Rounding half away from zero ("commercial rounding", ISO 80000-1:2022 annex B, rule B), on the number as it is written; from memory.

describe('numbers that are printed', () => {
  test.each([
    [0.9215, 3, '0.922'],
    [0.5445, 3, '0.545'],
    [0.5335, 3, '0.534'],
    [0.7905, 3, '0.791'],
    [1.005, 2, '1.01'],
    [-1.005, 2, '-1.01'],
    [-0.004, 2, '0.00'],
    [2.5, 0, '3'],
    [1e-9, 2, '0.00'],
    [5e-7, 6, '0.000001'],
    [1234567.125, 2, '1234567.13'],
  ])('%d with %i decimals is %s', (value, digits, written) => {
    expect(fixed(value, digits)).toBe(written);
  });

  test.each([
    [0.485, 0, '49'],
    [0.145, 0, '15'],
    [0.285, 0, '29'],
    [0.1445, 1, '14.5'],
    [1, 0, '100'],
  ])('a share of %d is %s in percent', (share, digits, written) => {
    expect(inPercent(share, digits)).toBe(written);
  });

  test.each([
    [0, 0, '0 %'],
    [0.0001, 0, '<1 %'],
    [0.0049, 0, '<1 %'],
    [0.005, 0, '1 %'],
    [0.9949, 0, '99 %'],
    [0.995, 0, '>99 %'],
    [0.9999, 0, '>99 %'],
    [0.1 + 0.2 + 0.7 - 1e-16, 0, '100 %'],
    [0.99951, 1, '>99.9 %'],
    [0.0004, 1, '<0.1 %'],
    [1, 1, '100.0 %'],
  ])(
    'a share of %d with %i decimals is printed as %s: none and all are said of none and all alone',
    (share, digits, written) => {
      expect(percentText(share, digits)).toBe(written);
    },
  );

  test.each([
    [0.0012345, 4, 0.001235],
    [1234.5, 4, 1235],
    [-1234.5, 4, -1235],
    [9.9995, 4, 10],
    [0, 3, 0],
  ])('%d to %i significant digits is %d', (value, digits, rounded) => {
    expect(significant(value, digits)).toBe(rounded);
  });

  test('agrees with whole numbers of the last place, halves away from zero', () => {
    const digits = fc.integer({ min: 0, max: 6 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10 ** 9 }), digits, (tenths, places) => {
        // Tenths of the last place, written as a decimal without arithmetic.
        const text = `${tenths}`.padStart(places + 2, '0');
        const value = Number(`${text.slice(0, -places - 1)}.${text.slice(-places - 1)}`);
        const rounded = `${BigInt(tenths + 5) / 10n}`.padStart(places + 1, '0');
        const expected = places === 0 ? rounded : `${rounded.slice(0, -places)}.${rounded.slice(-places)}`;
        expect(fixed(value, places)).toBe(expected);
      }),
    );
  });
});
