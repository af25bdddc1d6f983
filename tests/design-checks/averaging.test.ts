import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { averaging } from '../../src/design-checks/averaging.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Variance of a mean of equally correlated errors, standard statistics.
const cases: { n: number; rho: number; noise_ratio: number }[] = reference('signal').averaging.cases;
const one = (value: number) => ({ value, unit: '1' });

describe('averaging', () => {
  test.each(cases)('of $n sensors with correlation $rho leaves $noise_ratio', ({ n, rho, noise_ratio }) => {
    const { values } = averaging.run({ count: one(n), correlation: one(rho) });
    expect(values.noiseRatio.value).toBeCloseTo(noise_ratio, 6);
  });

  test('never loses by another sensor, never gains by correlation', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 50 }), fc.double({ min: 0, max: 0.9, noNaN: true }), (n, rho) => {
        const ratio = (count: number, correlation: number) =>
          averaging.run({ count: one(count), correlation: one(correlation) }).values.noiseRatio.value;
        expect(ratio(n + 1, rho)).toBeLessThanOrEqual(ratio(n, rho));
        expect(ratio(n, rho + 0.1)).toBeGreaterThanOrEqual(ratio(n, rho));
      }),
      { numRuns: 50 },
    );
  });

  test('judges, and calculates the noise of the mean in any unit of acceleration', () => {
    const two = inputs({ count: '2', correlation: '0 %', noise: '10 mm/s2' });
    expect(averaging.run(two)).toMatchObject({
      verdict: 'supports',
      values: { averagedNoise: { unit: 'm/s2', value: expect.closeTo(0.00707107, 8) } },
    });
    expect(averaging.run(inputs({ count: '2', correlation: '1' })).verdict).toBe('speaks-against');
    expect(averaging.run(inputs({ count: '2', correlation: '0.5 ± 0.5' })).verdict).toBe('neutral');
  });

  test('an interval that reaches below 0 is kept: errors may make up for one another', () => {
    const { values, notes } = averaging.run(inputs({ count: '2', correlation: '0 ± 0.5' }));
    // √((1 - 0.5)/2)
    expect(values.noiseRatio.low).toBeCloseTo(0.5, 12);
    expect(notes).toEqual([]);
  });

  test('refuses half a sensor', () => {
    expect(() => averaging.run(inputs({ count: '1.5', correlation: '0' }))).toThrow(
      /"count" must be a whole number/u,
    );
  });

  test('asks for what is missing', () =>
    expectToAskForEachInput(averaging, inputs({ count: '2', correlation: '0' })));
});
