import { expect, test } from 'vitest';
import {
  type CategoryForecast,
  categoryBrier,
  categoryLogLoss,
} from '../../src/statistics/category-scores.ts';
import { brierScore } from '../../src/statistics/scores.ts';
import { rankOf, topAccuracy } from '../../src/statistics/top-accuracy.ts';
import { answered, libraries, near, published } from './reference.ts';

interface Case {
  readonly probabilities: number[][];
  readonly truth: number[];
  readonly brier: number;
  readonly log_loss: number;
  readonly top: number[];
}

const cases: readonly Case[] = libraries.category_scores;

function forecasts({ probabilities, truth }: Case): CategoryForecast[] {
  return probabilities.map((row, at) => ({ probabilities: row, truth: truth[at] }));
}

test('Brier score of several categories, log loss and top-k accuracy agree with scikit-learn', () => {
  for (const one of cases) {
    expect(near(categoryBrier(forecasts(one)), one.brier, 1e-12)).toBe(true);
    expect(near(categoryLogLoss(forecasts(one)), one.log_loss, 1e-10)).toBe(true);
    const ranks = one.probabilities.map((row, at) => rankOf(row, one.truth[at]));
    one.top.forEach((expected, at) =>
      expect(answered(topAccuracy(ranks, at + 1)).share).toBeCloseTo(expected, 12),
    );
  }
});

test('with two categories it is twice the score of one event (Brier 1950)', () => {
  const { probability, outcome, brier } = published.brier_log_loss;
  const two = (probability as number[]).map((p, at) => ({ probabilities: [1 - p, p], truth: outcome[at] }));
  expect(categoryBrier(two)).toBeCloseTo(2 * brier, 12);
  expect(brierScore([{ probability: 0.3, cameTrue: false }])).toBeCloseTo(0.09, 12);
});

test('an answer called impossible that came true: a large score, infinite only when asked for', () => {
  const wrong = [{ probabilities: [1, 0], truth: 1 }];
  expect(categoryLogLoss(wrong)).toBeCloseTo(6 * Math.LN10, 12);
  expect(categoryLogLoss(wrong, 0)).toBe(Number.POSITIVE_INFINITY);
});

test('an answer not ranked at all counts as a miss, ties count against the answer', () => {
  expect(answered(topAccuracy([1, 3, null, 2], 2))).toMatchObject({ n: 4, right: 2, share: 0.5 });
  expect(rankOf([0.4, 0.4, 0.2], 0)).toBe(2);
  expect(topAccuracy([], 1)).toEqual({ kind: 'no-data', reason: 'no case to score' });
});

test('nonsense is refused', () => {
  expect(() => categoryBrier([])).toThrow('no forecasts');
  expect(() => categoryBrier([{ probabilities: [0.5, 0.4], truth: 0 }])).toThrow(
    'forecasts[0] must sum to 1',
  );
  expect(() => categoryBrier([{ probabilities: [0.5, 0.5], truth: 2 }])).toThrow('no answer 2');
  expect(() => topAccuracy([0], 1)).toThrow('ranks[0]');
  expect(() => rankOf([1], 3)).toThrow('no answer 3');
});
