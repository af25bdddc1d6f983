import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  altitudeAt,
  altitudeFromPressure,
  pressureAt,
} from '../../src/design-checks/altitude-from-pressure.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// ISO 2533:1975 / U.S. Standard Atmosphere 1976.
const atmosphere = reference('atmosphere');
const table: { altitude_m: number; pressure_Pa: number }[] = atmosphere.table;
const wrist = { pressure: '101325 Pa', pressureResolution: '1 Pa', altitudeResolutionWanted: '0.2 m' };

describe('altitude from pressure', () => {
  test.each(table)('$altitude_m m is $pressure_Pa Pa, both ways', ({ altitude_m, pressure_Pa }) => {
    expect(Math.abs(pressureAt(altitude_m) - pressure_Pa)).toBeLessThan(0.01);
    expect(Math.abs(altitudeAt(pressure_Pa) - altitude_m)).toBeLessThan(0.01);
  });

  // The printed table of the standard, hPa, from memory.
  test.each([
    [0, 1013.25],
    [500, 954.61],
    [1000, 898.75],
    [2000, 794.95],
    [5000, 540.2],
    [11000, 226.32],
  ])('agrees with the printed table at %d m', (altitude, hectopascal) => {
    expect(pressureAt(altitude) / 100).toBeCloseTo(hectopascal, 2);
  });

  // U.S. Standard Atmosphere 1976 as printed by an engineering handbook on the web (engineeringtoolbox.com/standard-atmosphere-d_604,
  // BG units): feet, pound-force per square inch. Its figures are those of geometric altitude. 1 psi is 6894.757 Pa.
  test.each([
    [-5000, 17.554],
    [5000, 12.228],
    [20000, 6.759],
    [35000, 3.468],
    [40000, 2.73],
    [45000, 2.149],
    [50000, 1.692],
    [60000, 1.049],
    [70000, 0.651],
  ])('agrees with the printed table at %d ft, above 36,089 ft too', (feet, psi) => {
    const geometric = feet * 0.3048;
    const geopotential = (6_356_766 * geometric) / (6_356_766 + geometric);
    expect(Math.abs(pressureAt(geopotential) / 6894.757 - psi)).toBeLessThan(0.00051);
    expect(Math.abs(altitudeAt(psi * 6894.757) - geopotential)).toBeLessThan(25);
  });

  // Pressures at the bases of the layers as the barometric formula is usually printed (en.wikipedia.org, Barometric formula).
  test.each([
    [11000, 22632.1],
    [20000, 5474.89],
    [32000, 868.02],
    [47000, 110.91],
  ])('the layer that meets %d m has the published pressure there', (altitude, pascal) => {
    expect(Math.abs(pressureAt(altitude) / pascal - 1)).toBeLessThan(5e-5);
    expect(pressureAt(altitude - 1e-6) / pressureAt(altitude)).toBeCloseTo(1, 9);
  });

  test('an interval reaches into the layer above and is not cut at 11,000 m', () => {
    const { values, notes } = altitudeFromPressure.run(inputs({ ...wrist, pressure: '23 ± 1 kPa' }));
    // Above 11,000 m the temperature is 216.65 K: h = 11000 + (R T/g) ln(22632/22000), by hand 11,180 m.
    expect(values.altitude.high).toBeGreaterThan(11_179);
    expect(values.altitude.high).toBeLessThan(11_181);
    expect(values.altitude.low).toBeLessThan(10_630);
    expect(notes).toEqual([]);
  });

  test('turns a step of altitude into pascal and bits', () => {
    const [step, range] = atmosphere.derived;
    const { values } = altitudeFromPressure.run(inputs({ ...wrist, pressureRange: '800 hPa' }));
    expect(values.altitude.value).toBe(0);
    expect(1 / values.altitudeResolution.value).toBeCloseTo(-atmosphere.slope_at_sea_level_Pa_per_m, 4);
    expect(values.pressureStepWanted.value).toBeCloseTo(step.pressure_resolution_Pa, 3);
    expect(Math.ceil(values.bitsWanted.value)).toBe(range.bits_needed);
  });

  test('does not mind hPa or Pa, and wants finer steps the higher it is', () => {
    expect(altitudeFromPressure.run(inputs({ ...wrist, pressure: '1013.25 hPa' })).values).toEqual(
      altitudeFromPressure.run(inputs(wrist)).values,
    );
    fc.assert(
      fc.property(fc.double({ min: 25000, max: 100000, noNaN: true }), (pressure) => {
        const step = (value: number) =>
          altitudeFromPressure.run({ ...inputs(wrist), pressure: { value, unit: 'Pa' } }).values
            .pressureStepWanted.value;
        expect(step(pressure)).toBeLessThan(step(pressure + 1000));
      }),
      { numRuns: 50 },
    );
  });

  test('judges the resolution of the sensor', () => {
    const verdict = (pressureResolution: string) =>
      altitudeFromPressure.run(inputs({ ...wrist, pressureResolution })).verdict;
    expect(verdict('1 Pa')).toBe('supports');
    expect(verdict('3 Pa')).toBe('neutral');
    expect(verdict('10 Pa')).toBe('speaks-against');
  });

  test('refuses pressures that may lie beyond the layers, rather than cutting the interval', () => {
    const at = (pressure: string) => () => altitudeFromPressure.run(inputs({ ...wrist, pressure }));
    expect(at('100 Pa')).toThrow(/"pressure" must be .*; the layers used reach from -2000 m to 47000 m/u);
    expect(at('120 ± 20 Pa')).toThrow(/it is 120 ± 20; the layers used/u);
    expect(at('130 kPa')).toThrow(/the layers used/u);
    expect(at('120 ± 1 Pa')).not.toThrow();
  });

  test('wants no bits for a step wider than the range', () => {
    const coarse = { ...wrist, altitudeResolutionWanted: '200 m', pressureRange: '1 kPa' };
    expect(altitudeFromPressure.run(inputs(coarse)).values.bitsWanted.value).toBe(0);
  });

  test('asks for what is missing', () => expectToAskForEachInput(altitudeFromPressure, inputs(wrist)));
});
