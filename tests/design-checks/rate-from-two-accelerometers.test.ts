import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rateFromTwoAccelerometers } from '../../src/design-checks/rate-from-two-accelerometers.ts';
import { convert } from '../../src/model/quantity.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Rigid-body kinematics, difference = ω² d; the floor of 0.8409 rad/s is worked in the note of the reference.
const { two_accelerometers: worked } = reference('signal');
const board = { distance: '20 mm', noise: '0.01 m/s2', rateWanted: '200 deg/s' };

describe('rate from two accelerometers', () => {
  test('gives the worked rate and floor', () => {
    const { values } = rateFromTwoAccelerometers.run({
      ...inputs(board),
      distance: { value: worked.distance_m, unit: 'm' },
      difference: { value: worked.difference_m_s2, unit: 'm/s2' },
    });
    expect(convert(values.rate, 'rad/s').value).toBeCloseTo(worked.omega_rad_s, 9);
    expect(convert(values.floor, 'rad/s').value).toBeCloseTo(0.8409, 4);
  });

  test('resolves smaller rates the farther apart they are', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 100, noNaN: true }), (distance) => {
        const floor = (value: number) =>
          rateFromTwoAccelerometers.run({ ...inputs(board), distance: { value, unit: 'mm' } }).values.floor
            .value;
        expect(floor(distance * 2)).toBeLessThan(floor(distance));
        expect(floor(distance * 4)).toBeCloseTo(floor(distance) / 2, 6);
      }),
      { numRuns: 50 },
    );
  });

  test('supports a rate well above the floor, speaks against one below', () => {
    const verdict = (rateWanted: string) =>
      rateFromTwoAccelerometers.run(inputs({ ...board, rateWanted })).verdict;
    expect(verdict('200 deg/s')).toBe('supports');
    expect(verdict('100 deg/s')).toBe('neutral');
    expect(verdict('0.5 rad/s')).toBe('speaks-against');
  });

  test('asks for what is missing', () => expectToAskForEachInput(rateFromTwoAccelerometers, inputs(board)));
});
