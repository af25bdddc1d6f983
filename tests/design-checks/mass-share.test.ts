import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { massShare } from '../../src/design-checks/mass-share.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// No published case; worked by hand: 6 g of 24 g, 3 cm³ of 15 cm³.
const battery = { mass: '6 g', deviceMass: '24 g' };
const run = (given: Record<string, string>) => massShare.run(inputs({ ...battery, ...given }));

describe('mass share', () => {
  test('a quarter of the mass, a fifth of the volume', () => {
    const { values, verdict } = run({ volume: '3 cm3', deviceVolume: '15 cm3' });
    expect(values.massShare.value).toBeCloseTo(25, 12);
    expect(values.volumeShare.value).toBeCloseTo(20, 12);
    expect(values.density).toMatchObject({ unit: 'g/cm3', value: expect.closeTo(2, 12) });
    expect(values.rest.value).toBe(18);
    expect(verdict).toBe('supports');
  });

  test('carries the spread of the scale into the share', () => {
    const { values } = run({ mass: '6 ± 0.5 g', deviceMass: '24 ± 1 g' });
    expect(values.massShare.low).toBeCloseTo(22, 12);
    expect(values.massShare.high).toBeCloseTo((100 * 6.5) / 23, 12);
  });

  test('gives the same answer in g, mg or oz, and grows with the part', () => {
    expect(run({ deviceMass: '1 oz' }).values.massShare.value).toBeCloseTo(600 / 28.349523125, 9);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20000 }), (milligram) => {
        const share = (value: number, unit: string) =>
          massShare.run({ ...inputs(battery), mass: { value, unit } }).values.massShare.value;
        expect(share(milligram / 1000, 'g')).toBeCloseTo(share(milligram, 'mg'), 9);
        expect(share(milligram + 1, 'mg')).toBeGreaterThan(share(milligram, 'mg'));
      }),
      { numRuns: 50 },
    );
  });

  test('judges the share, and finds a part heavier than the device', () => {
    expect(run({ mass: '4 g' }).verdict).toBe('neutral');
    expect(run({ mass: '1 g' }).verdict).toBe('speaks-against');
    expect(() => run({ mass: '30 g' })).toThrow(
      '"mass" (30 g) is above "deviceMass" (24 g); a part weighs no more',
    );
    expect(run({ mass: '20 ± 6 g', deviceMass: '24 ± 1 g' }).values.massShare.high).toBe(100);
  });

  test('tells of a density that nothing has', () => {
    const dense = { mass: '4 g', volume: '0.1 cm3' };
    expect(run(dense).notes).toEqual([expect.stringMatching(/^density is 40 .*osmium/u)]);
    expect(run({ mass: '4 g', volume: '2 cm3' }).notes).toEqual([]);
  });

  test('asks for what is missing', () => expectToAskForEachInput(massShare, inputs(battery)));
});
