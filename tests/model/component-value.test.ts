import { describe, expect, test } from 'vitest';
import { parseComponentValue, sameValue } from '../../src/model/component-value.ts';

// Spellings as bills of materials have them (common practice, no source); letters for the decimal point after IEC 60062, from memory.

describe('the value of a component', () => {
  test.each([
    ['4.7 kOhm', 4700, 'Ohm'],
    ['4k7', 4700, 'Ohm'],
    ['4K7', 4700, 'Ohm'],
    ['4.7k', 4700, undefined],
    ['4R7', 4.7, 'Ohm'],
    ['0R', 0, 'Ohm'],
    ['10mR', 0.01, 'Ohm'],
    ['1M', 1e6, undefined],
    ['10 Ω', 10, 'Ohm'],
    ['10kΩ 1%', 10_000, 'Ohm'],
    ['100nF', 1e-7, 'F'],
    ['0.1 uF', 1e-7, 'F'],
    ['0.1µF/16V/X7R', 1e-7, 'F'],
    ['100n', 1e-7, undefined],
    ['2u2', 2.2e-6, undefined],
    ['2u2F', 2.2e-6, 'F'],
    ['10UF', 1e-5, 'F'],
    ['15pF, C0G', 1.5e-11, 'F'],
    ['2.2uH', 2.2e-6, 'H'],
    ['26 MHz', 26e6, 'Hz'],
    ['32.768kHz', 32_768, 'Hz'],
    ['47', 47, undefined],
    ['.1uF', 1e-7, 'F'],
  ])('%s', (written, number, unit) => {
    const read = parseComponentValue(written);
    expect(read?.number).toBeCloseTo(number, 15);
    expect(Math.abs((read?.number ?? 0) - number)).toBeLessThanOrEqual(1e-9 * number);
    expect(read?.unit).toBe(unit);
  });

  test.each(['green', 'QWR4410', 'DNP', '10 x 10 mm', '3V3', '', 'k7', '1N4148', '600R@100MHz'])(
    '"%s" is none',
    (written) => {
      expect(parseComponentValue(written)).toBeUndefined();
    },
  );
});

test.each([
  ['4k7', '4.7 kOhm', true],
  ['100nF', '0.1uF 16V', true],
  ['100n', '0.1uF', true],
  ['10k', '10k5', false],
  ['10uF', '10uH', false],
  ['green', 'Green', true],
  ['green', 'red', false],
  ['QWR4410', 'QWR4410-T', undefined],
  ['10k', 'NTC', undefined],
  ['10k', undefined, undefined],
])('%s and %s: %s', (a, b, same) => {
  expect(sameValue(a, b)).toBe(same);
  expect(sameValue(b, a)).toBe(same);
});
