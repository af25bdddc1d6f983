import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  entropyBits,
  expectedInformationBits,
  informationGainBits,
  mutualInformationBits,
} from '../../src/statistics/entropy.ts';
import { differing, libraries, published } from './reference.ts';

test('the weather table of Quinlan 1986: entropy 0.940 bits, gain of outlook 0.246 bits', () => {
  const { entropy_bits, gain_outlook_bits } = published.information_gain;
  expect(entropyBits([9 / 14, 5 / 14])).toBeCloseTo(entropy_bits, 6);
  const outlook = [
    [2, 3],
    [4, 0],
    [3, 2],
  ];
  expect(informationGainBits(outlook)).toBeCloseTo(gain_outlook_bits, 5);
});

test('entropy agrees with SciPy, mutual information with scikit-learn', () => {
  expect(differing(libraries.entropy, ({ p, bits }) => [[entropyBits(p), bits]], 1e-12)).toEqual([]);
  const found = differing(
    libraries.mutual_information,
    ({ counts, bits }) => [[informationGainBits(counts), bits]],
    1e-10,
  );
  expect(found).toEqual([]);
});

test('an observation that settles the question is worth all the entropy, an unrelated observation nothing', () => {
  const priors = [0.5, 0.25, 0.25];
  const settles = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  expect(expectedInformationBits(priors, settles)).toBeCloseTo(1.5, 12);
  expect(
    expectedInformationBits(
      priors,
      priors.map(() => [0.3, 0.7]),
    ),
  ).toBeCloseTo(0, 12);
});

test('properties: between nothing and the smaller entropy, rows and columns are alike, prior less posterior entropy', () => {
  const table = fc
    .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 5 }))
    .chain(([rows, columns]) =>
      fc.array(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
    )
    .filter((counts) => counts.flat().some((count) => count > 0));
  fc.assert(
    fc.property(table, (counts) => {
      const total = counts.flat().reduce((sum, count) => sum + count, 0);
      const joint = counts.map((row) => row.map((count) => count / total));
      const bits = mutualInformationBits(joint);
      // Shares from whole counts: sums of decimal shares may exceed 1 in the last bit, and are refused.
      const rows = counts.map((row) => row.reduce((sum, count) => sum + count, 0) / total);
      const columnCounts = counts[0].map((_, at) => counts.reduce((sum, row) => sum + row[at], 0));
      expect(bits).toBeGreaterThanOrEqual(0);
      expect(bits).toBeLessThanOrEqual(
        Math.min(entropyBits(rows), entropyBits(columnCounts.map((all) => all / total))) + 1e-12,
      );
      expect(mutualInformationBits(joint[0].map((_, at) => joint.map((row) => row[at])))).toBeCloseTo(
        bits,
        12,
      );
      const left = columnCounts.reduce(
        (sum, all, at) =>
          all === 0 ? sum : sum + (all / total) * entropyBits(counts.map((row) => row[at] / all)),
        0,
      );
      expect(entropyBits(rows) - left).toBeCloseTo(bits, 10);
    }),
    { numRuns: 200 },
  );
});

test('what is not a distribution is refused', () => {
  expect(() => entropyBits([])).toThrow('sum to 1');
  expect(() => entropyBits([0.5, 0.6])).toThrow('1.1');
  expect(() => informationGainBits([[0, 0]])).toThrow('no case');
  expect(() => mutualInformationBits([])).toThrow('sum to 1');
});
