import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  oddsOf,
  posterior,
  probabilityOf,
  updated,
  weightOfEvidence,
} from '../../src/statistics/evidence.ts';
import { answered, published } from './reference.ts';

test('the diagnostic example of Eddy 1982 (Gigerenzer & Hoffrage 1995): 7.8 %', () => {
  const {
    prior,
    p_e_given_h,
    p_e_given_not_h,
    posterior: expected,
    weight_of_evidence_decibans,
  } = published.bayes_odds;
  const weight = weightOfEvidence(p_e_given_h, p_e_given_not_h);
  expect(weight).toBeCloseTo(weight_of_evidence_decibans, 4);
  expect(updated(prior, weight)).toBeCloseTo(expected, 5);
  const found = answered(posterior([prior, 1 - prior], [p_e_given_h, p_e_given_not_h]));
  expect(found.probabilities[0]).toBeCloseTo(expected, 5);
  expect(found.decibans[0]).toBeCloseTo(weight_of_evidence_decibans, 4);
});

test('ten decibans multiply the odds by ten (Good 1950)', () => {
  expect(oddsOf(updated(0.5, 10))).toBeCloseTo(10, 12);
  expect(weightOfEvidence(0.5, 0.5)).toBe(0);
  expect(probabilityOf(3)).toBe(0.75);
});

test('certainty and impossibility are limits, not NaN', () => {
  expect(oddsOf(1)).toBe(Number.POSITIVE_INFINITY);
  expect(probabilityOf(Number.POSITIVE_INFINITY)).toBe(1);
  expect(weightOfEvidence(0, 0.3)).toBe(Number.NEGATIVE_INFINITY);
  expect(updated(0.4, Number.NEGATIVE_INFINITY)).toBe(0);
  expect(updated(0.4, Number.POSITIVE_INFINITY)).toBe(1);
  expect(updated(1, Number.NEGATIVE_INFINITY)).toBe(1);
  expect(posterior([1, 0], [0.2, 0.9])).toMatchObject({ probabilities: [1, 0], decibans: [null, null] });
});

test('evidence that no hypothesis allows is said in words; nonsense is refused', () => {
  expect(posterior([0.5, 0.5, 0], [0, 0, 0.9])).toEqual({
    kind: 'no-data',
    reason: 'the evidence is impossible under every hypothesis',
  });
  expect(() => posterior([0.5, 0.4], [1, 1])).toThrow('sum to 1');
  expect(() => posterior([], [])).toThrow('sum to 1');
  expect(() => posterior([0.5, 0.5], [1, -1])).toThrow('likelihoods[1]');
  expect(() => weightOfEvidence(0, 0)).toThrow('not both 0');
  expect(() => probabilityOf(-1)).toThrow('-1');
});

const weights = fc.integer({ min: 1, max: 1000 });
const rivals = fc.array(fc.tuple(weights, weights, weights), { minLength: 2, maxLength: 12 }).map((rows) => {
  const total = rows.reduce((sum, [prior]) => sum + prior, 0);
  return {
    priors: rows.map(([prior]) => prior / total),
    first: rows.map(([, likelihood]) => likelihood / 1000),
    second: rows.map(([, , likelihood]) => likelihood / 1000),
  };
});

test('properties: sums to one, any order of evidence gives the same, decibans lead from prior to posterior', () => {
  fc.assert(
    fc.property(rivals, ({ priors, first, second }) => {
      const one = answered(posterior(priors, first));
      expect(one.probabilities.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
      const there = answered(posterior(one.probabilities, second)).probabilities;
      const back = answered(
        posterior(answered(posterior(priors, second)).probabilities, first),
      ).probabilities;
      there.forEach((p, at) => expect(back[at]).toBeCloseTo(p, 12));
      priors.forEach((prior, at) => {
        expect(updated(prior, one.decibans[at] ?? Number.NaN)).toBeCloseTo(one.probabilities[at], 10);
      });
      const scaled = answered(
        posterior(
          priors,
          first.map((likelihood) => likelihood * 1e-200),
        ),
      );
      scaled.probabilities.forEach((p, at) => expect(p).toBeCloseTo(one.probabilities[at], 10));
    }),
    { numRuns: 200 },
  );
});

test('a hundred thousand rival parts are weighed in one pass', () => {
  const n = 100_000;
  const found = answered(posterior(new Array(n).fill(1 / n), new Array(n).fill(0.5).with(7, 1)));
  expect(found.probabilities[7]).toBeCloseTo(2 / (n + 1), 12);
  expect(found.decibans[7]).toBeCloseTo(10 * Math.log10(2), 9);
});
