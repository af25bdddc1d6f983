import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sampling } from '../../src/design-checks/sampling.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Shannon 1949; the band edges are common practice, no source.
const cases: { band_Hz: number[]; minimum_rate_Hz: number; what: string }[] =
  reference('signal').sampling.cases;
const motion = {
  highestFrequency: '20 Hz',
  sampleRate: '100 Hz',
  channels: '3',
  resolutionBits: '16 bits',
  dataRateMax: '400 kbps',
};

describe('sampling', () => {
  test.each(cases)('$what: more than $minimum_rate_Hz Hz', ({ band_Hz, minimum_rate_Hz }) => {
    const { values } = sampling.run({
      ...inputs(motion),
      highestFrequency: { value: band_Hz[1], unit: 'Hz' },
    });
    expect(values.minimumRate.value).toBe(minimum_rate_Hz);
  });

  test('three axes of 16 bits at 100 Hz make 4800 bit/s, 1.2 % of 400 kbit/s', () => {
    const { values, verdict } = sampling.run(inputs({ ...motion, memory: '2.16 MB' }));
    expect(values.dataRate.value).toBe(4800);
    expect(values.share.value).toBeCloseTo(1.2, 12);
    // 2.16 megabytes are 17.28 megabits: 3600 s at 4800 bit/s.
    expect(values.memoryLasts).toMatchObject({ unit: 'h', value: expect.closeTo(1, 12) });
    expect(verdict).toBe('supports');
  });

  test('speaks against a rate at or below the minimum, and against data beyond the capacity', () => {
    const verdict = (given: Record<string, string>) => sampling.run(inputs({ ...motion, ...given })).verdict;
    expect(verdict({ sampleRate: '40 Hz' })).toBe('speaks-against');
    expect(verdict({ dataRateMax: '4 kbps' })).toBe('speaks-against');
    expect(verdict({ dataRateMax: '5 kbps' })).toBe('neutral');
    expect(verdict({ sampleRate: '41 ± 2 Hz' })).toBe('neutral');
  });

  test('holds the data against the radio as well as the bus', () => {
    const both = (radio: string) => sampling.run(inputs({ ...motion, radioDataRateMax: radio }));
    expect(both('96 kbps').values.radioShare.value).toBeCloseTo(5, 12);
    expect(both('96 kbps')).toMatchObject({
      verdict: 'supports',
      sentence: expect.stringContaining('5 % of that of the radio'),
    });
    expect(both('5 kbps').verdict).toBe('neutral');
    expect(both('4 kbps').verdict).toBe('speaks-against');
  });

  test('does not mind the unit of rates, and the share grows with the rate', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), (rate) => {
        const share = (value: number, unit: string) =>
          sampling.run({ ...inputs(motion), sampleRate: { value, unit } }).values.share.value;
        expect(share(rate / 1000, 'kHz')).toBeCloseTo(share(rate, 'Hz'), 9);
        expect(share(rate + 1, 'Hz')).toBeGreaterThan(share(rate, 'Hz'));
      }),
      { numRuns: 50 },
    );
  });

  test('asks for what is missing', () => expectToAskForEachInput(sampling, inputs(motion)));
});
