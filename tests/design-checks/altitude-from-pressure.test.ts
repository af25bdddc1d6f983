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

  test('refuses pressures above the layer that the formula is for', () => {
    expect(() => altitudeFromPressure.run(inputs({ ...wrist, pressure: '200 hPa' }))).toThrow(
      /"pressure" must be/u,
    );
  });

  test('asks for what is missing', () => expectToAskForEachInput(altitudeFromPressure, inputs(wrist)));
});
