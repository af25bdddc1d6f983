import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { quarterWave } from '../../src/design-checks/quarter-wave.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// λ/4 = c/(4 f), c exact (SI).
const cases: { MHz: number; mm: number }[] = reference('signal').quarter_wave.cases;
const band = { frequency: '2440 MHz', room: '35 mm' };
const run = (given: Record<string, string>) => quarterWave.run(inputs({ ...band, ...given }));

describe('quarter wave', () => {
  test.each(cases)('at $MHz MHz is $mm mm', ({ MHz, mm }) => {
    expect(run({ frequency: `${MHz} MHz` }).values.quarter.value).toBeCloseTo(mm, 4);
  });

  test('gives the same answer in MHz or GHz, and is shorter the higher the frequency', () => {
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 10000 }), (megahertz) => {
        const quarter = (value: number, unit: string) =>
          quarterWave.run({ ...inputs(band), frequency: { value, unit } }).values.quarter.value;
        expect(quarter(megahertz / 1000, 'GHz')).toBeCloseTo(quarter(megahertz, 'MHz'), 9);
        expect(quarter(megahertz + 1, 'MHz')).toBeLessThan(quarter(megahertz, 'MHz'));
      }),
      { numRuns: 50 },
    );
  });

  test('is half as long in a material of permittivity 4', () => {
    const { values } = run({ effectivePermittivity: '4' });
    expect(values.shortened.value).toBeCloseTo(values.quarter.value / 2, 12);
    expect(values.roomOverQuarter.value).toBeCloseTo(35 / values.shortened.value, 12);
  });

  test('judges the room, and cautions about detuning', () => {
    expect(run({})).toMatchObject({ verdict: 'supports', sentence: expect.stringContaining('detune') });
    expect(run({ room: '20 mm' }).verdict).toBe('neutral');
    expect(run({ room: '5 mm' }).verdict).toBe('speaks-against');
    expect(run({ room: '31 ± 3 mm' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(quarterWave, inputs(band)));
});
