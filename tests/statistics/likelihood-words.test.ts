import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  LIKELIHOOD_SCALE,
  likelihoodPhrase,
  likelihoodRange,
  phraseAsShown,
  phrasesCovering,
} from '../../src/statistics/likelihood-words.ts';

test('the ranges of Mastrandrea et al. 2010, table 1, and the three added terms (from memory of the note)', () => {
  const percent = Object.fromEntries(
    LIKELIHOOD_SCALE.map(({ phrase, low, high }) => [phrase, [100 * low, 100 * high]]),
  );
  expect(percent).toEqual({
    'virtually certain': [99, 100],
    'extremely likely': [95, 100],
    'very likely': [90, 100],
    likely: [66, 100],
    'more likely than not': [50, 100],
    'about as likely as not': [33, 66],
    unlikely: [0, 33],
    'very unlikely': [0, 10],
    'extremely unlikely': [0, 5],
    'exceptionally unlikely': [0, 1],
  });
});

test.each([
  [1, 'virtually certain'],
  [0.99, 'virtually certain'],
  [0.989, 'extremely likely'],
  [0.95, 'extremely likely'],
  [0.9, 'very likely'],
  [0.66, 'likely'],
  [0.65, 'about as likely as not'],
  [0.5, 'about as likely as not'],
  [0.34, 'about as likely as not'],
  [0.33, 'unlikely'],
  [0.1, 'very unlikely'],
  [0.05, 'extremely unlikely'],
  [0.01, 'exceptionally unlikely'],
  [0, 'exceptionally unlikely'],
] as const)('%s is proposed as "%s"', (p, phrase) => {
  expect(likelihoodPhrase(p)).toBe(phrase);
});

test('properties: the phrase proposed may be said, and every phrase said holds the probability', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (p) => {
      const holding = phrasesCovering(p);
      expect(holding).toContain(likelihoodPhrase(p));
      for (const phrase of holding) {
        const range = likelihoodRange(phrase);
        expect(range && p >= range.low && p <= range.high).toBe(true);
      }
    }),
    { numRuns: 500 },
  );
  expect(phrasesCovering(0.97)).toEqual([
    'extremely likely',
    'very likely',
    'likely',
    'more likely than not',
  ]);
  expect(phrasesCovering(0.5)).toEqual(['about as likely as not']);
});

test('words are found in any case and spacing; words off the scale are not', () => {
  expect(likelihoodRange(' Very  Likely ')).toEqual({ phrase: 'very likely', low: 0.9, high: 1 });
  expect(likelihoodRange('probably')).toBeUndefined();
  expect(() => likelihoodPhrase(1.01)).toThrow('it is 1.01');
});

test.each([
  [0.8996, 'very likely'],
  [0.9, 'very likely'],
  [0.8994, 'likely'],
  [0.9995, 'virtually certain'],
] as const)('%d as shown with three digits is %s', (p, phrase) => {
  expect(phraseAsShown(p)).toBe(phrase);
  expect(phraseAsShown(Number(p.toFixed(3)))).toBe(phrase);
});
