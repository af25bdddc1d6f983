import { expect, test } from 'vitest';
import { formatValue } from '../../src/design-checks/format-value.ts';

const nanovolts = (value: number, low: number, high: number) => formatValue({ value, unit: 'nV', low, high });

// Joint Committee for Guides in Metrology, Guide to the expression of uncertainty in measurement (JCGM 100:2008), 7.2.6: a value is
// given to the place of its uncertainty.
test.each([
  ['three digits where they show the interval', 40.5405, 38.1, 43.24, '40.5 nV (38.1 to 43.2)'],
  ['more digits where three do not', 1120.3, 1119.7, 1120.9, '1120.3 nV (1119.7 to 1120.9)'],
  ['no interval that six digits do not show', 1120.3, 1120.29999, 1120.30001, '1120 nV'],
  ['no interval of an exact value', 1120.3, 1120.3, 1120.3, '1120 nV'],
  ['an interval about 0', 0, -0.25, 0.25, '0 nV (-0.25 to 0.25)'],
  ['whole numbers in full', 12345, 12000, 13000, '12345 nV (12000 to 13000)'],
])('%s', (_, value, low, high, written) => {
  expect(nanovolts(value, low, high)).toBe(written);
});

test('an interval is never written with equal ends', () => {
  for (const middle of [0.00123456, 1.23456, 1120.3, 98765.4])
    for (const width of [1e-9, 1e-7, 1e-5, 1e-4, 1e-3, 0.01, 0.1, 0.5]) {
      const [low, high] = [middle * (1 - width / 2), middle * (1 + width / 2)];
      const ends = /\((\S+) to (\S+)\)/u.exec(nanovolts(middle, low, high));
      expect(ends?.[1] === undefined || ends[1] !== ends[2]).toBe(true);
    }
});
