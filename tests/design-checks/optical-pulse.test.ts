import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type ExtinctionTable,
  GRATZER_KOLLIAS,
  opticalPulse,
  ratioOfRatios,
  SCHMITT_MOAVENI,
  saturationByLine,
  saturationOf,
} from '../../src/design-checks/optical-pulse.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

const { haemoglobin } = reference('signal');
const cases: { saturation: number; ratio: number }[] = haemoglobin.ratio_of_ratios;

/**
 * Light through a finger whose artery beats, sample by sample: transmitted intensity at both wavelengths, its alternating part
 * over its mean, and the ratio of the two. It knows the extinction, and nothing of the formula under test.
 */
function ratioSeen({ red660, infrared940 }: ExtinctionTable, saturation: number): number {
  const perfusion = (colour: { oxygenated: number; deoxygenated: number }) => {
    const seen = Array.from({ length: 1000 }, (_, at) => {
      // 2.3 mmol/l of haemoglobin over 0.1 cm of artery, which the beat widens by a thousandth; tissue takes nine tenths.
      const path = 0.1 * (1 + 0.0005 * Math.sin((2 * Math.PI * at) / 1000));
      const absorbance =
        0.0023 * path * (saturation * colour.oxygenated + (1 - saturation) * colour.deoxygenated);
      return 0.1 * 10 ** -absorbance;
    });
    const mean = seen.reduce((sum, one) => sum + one, 0) / seen.length;
    return (Math.max(...seen) - Math.min(...seen)) / mean;
  };
  return perfusion(red660) / perfusion(infrared940);
}

const wrist = { wavelengths: '2', pulseShare: '1 %', noiseShare: '0.05 %' };
const run = (given: Record<string, string>) => opticalPulse.run(inputs({ ...wrist, ...given }));

describe('optical pulse', () => {
  test.each(cases)('saturation $saturation is the ratio $ratio, both ways', ({ saturation, ratio }) => {
    expect(ratioOfRatios(saturation)).toBeCloseTo(ratio, 5);
    expect(saturationOf(ratio)).toBeCloseTo(saturation, 4);
  });

  // Rows of 660 and 940 nm as printed at omlc.org/spectra/hemoglobin/summary.html and moaveni.html, oxygenated first.
  test('the tables are those published', () => {
    const rows = ({ red660, infrared940 }: ExtinctionTable) =>
      [red660, infrared940].map(({ oxygenated, deoxygenated }) => [oxygenated, deoxygenated]);
    expect(rows(GRATZER_KOLLIAS)).toEqual([
      [319.6, 3226.56],
      [1214, 693.44],
    ]);
    expect(rows(SCHMITT_MOAVENI)).toEqual([
      [320, 3200],
      [1200, 800],
    ]);
  });

  // By hand from the round figures of the second table: 320/1200, 1040/1100, 1760/1000, 3200/800.
  test.each([
    [1, 4 / 15],
    [0.75, 1040 / 1100],
    [0.5, 1.76],
    [0, 4],
  ])('with the other table a saturation of %d is the ratio %d', (saturation, ratio) => {
    expect(ratioOfRatios(saturation, SCHMITT_MOAVENI)).toBeCloseTo(ratio, 12);
    expect(saturationOf(ratio, SCHMITT_MOAVENI)).toBeCloseTo(saturation, 12);
  });

  test.each([0.6, 0.75, 0.9, 0.99])(
    'light through a beating artery shows a saturation of %d in the ratio',
    (saturation) => {
      for (const table of [GRATZER_KOLLIAS, SCHMITT_MOAVENI])
        expect(saturationOf(ratioSeen(table, saturation), table)).toBeCloseTo(saturation, 3);
    },
  );

  // Worked apart from this code: tests/reference/signal.json, `other_table` and `empirical`.
  test('says what the other table and the usual line make of the ratio', () => {
    const { values, sentence } = run({ ratioOfRatios: '1' });
    expect(values.saturation.value).toBeCloseTo(73.9, 1);
    expect(values.saturationByLine.value).toBe(85);
    expect(values.saturation.value - values.saturationByOtherTable.value).toBeCloseTo(0.7, 1);
    expect(sentence).toContain('73.9 % by Beer–Lambert alone with the table of Gratzer and Kollias');
    expect(sentence).toContain('110 - 25 R (common practice, no source) gives 85 %, 11.1 points more');
    expect(saturationOf(0.5) - saturationOf(0.5, SCHMITT_MOAVENI)).toBeCloseTo(0.0002, 4);
    // What stands in the limits of the check.
    const low = (ratio: number) => 100 * (saturationByLine(ratio) - saturationOf(ratio));
    expect(opticalPulse.limits).toContain(
      `${low(0.4).toFixed(0)} points low at R = 0.4 and ${low(1).toFixed(0)} points low at R = 1`,
    );
    expect(run({ ratioOfRatios: '0.3' }).values.saturationByLine.value).toBe(100);
  });

  test('names tables, years and pages, and cautions for eyes', () => {
    expect(opticalPulse.source).toMatch(/Gratzer.*summary\.html.*Moaveni.*1970.*moaveni\.html/u);
    expect(opticalPulse.cautions.join(' ')).toMatch(/Never look into emitters/u);
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
