import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opticalPulse, ratioOfRatios, saturationOf } from '../../src/design-checks/optical-pulse.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Beer–Lambert with molar extinction compiled by S. Prahl (Oregon Medical Laser Center) after Gratzer and Kollias.
const cases: { saturation: number; ratio: number }[] = reference('signal').haemoglobin.ratio_of_ratios;
const wrist = { wavelengths: '2', pulseShare: '1 %', noiseShare: '0.05 %' };
const run = (given: Record<string, string>) => opticalPulse.run(inputs({ ...wrist, ...given }));

describe('optical pulse', () => {
  test.each(cases)('saturation $saturation is the ratio $ratio, both ways', ({ saturation, ratio }) => {
    expect(ratioOfRatios(saturation)).toBeCloseTo(ratio, 5);
    expect(saturationOf(ratio)).toBeCloseTo(saturation, 4);
  });

  test('the saturation falls as the ratio grows, and comes back from its own ratio', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.99, noNaN: true }), (saturation) => {
        expect(saturationOf(ratioOfRatios(saturation))).toBeCloseTo(saturation, 9);
        expect(ratioOfRatios(saturation + 0.01)).toBeLessThan(ratioOfRatios(saturation));
      }),
      { numRuns: 100 },
    );
  });

  test('calculates the saturation with its interval, from two wavelengths up', () => {
    const { values } = run({ ratioOfRatios: '0.52524 ± 0.05' });
    expect(values.saturation.value).toBeCloseTo(90, 3);
    expect(values.saturation.low).toBeCloseTo(100 * saturationOf(0.57524), 9);
    expect(values.saturation.high).toBeCloseTo(100 * saturationOf(0.47524), 9);
    expect(run({ wavelengths: '1', ratioOfRatios: '0.52524' }).values.saturation).toBeUndefined();
  });

  test('refuses a ratio that no mixture gives', () => {
    expect(() => run({ ratioOfRatios: '9' })).toThrow(
      /"ratioOfRatios" must be at least 0\.26.* and at most 4\.65/u,
    );
  });

  test('states what one, two and three wavelengths cannot show, and that it is not medical advice', () => {
    expect(run({ wavelengths: '1' }).sentence).toContain('cannot tell oxygenated from deoxygenated');
    expect(run({ wavelengths: '2' }).sentence).toContain('no third absorber');
    expect(run({ wavelengths: '3' }).sentence).toContain('a further absorber or movement');
    for (const wavelengths of ['1', '2', '3']) {
      expect(run({ wavelengths }).sentence).toContain('no medical advice');
    }
  });

  test('judges the pulse against what else varies', () => {
    expect(run({}).values.pulseOverNoise.value).toBeCloseTo(20 * Math.log10(20), 9);
    expect(run({}).verdict).toBe('supports');
    expect(run({ noiseShare: '0.2 %' }).verdict).toBe('neutral');
    expect(run({ noiseShare: '0.9 %' }).verdict).toBe('speaks-against');
  });

  test('asks for what is missing', () => expectToAskForEachInput(opticalPulse, inputs(wrist)));
});
