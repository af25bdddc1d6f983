import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { brierScore, logLoss, reliability } from '../../src/statistics/scores.ts';

const { brier_log_loss: REFERENCE } = JSON.parse(readFileSync('tests/reference/statistics.json', 'utf8'));
const forecasts = (REFERENCE.probability as number[]).map((probability, i) => ({
  probability,
  came: REFERENCE.outcome[i] === 1,
}));

test('Brier score and log loss as computed from their formulas (Brier 1950)', () => {
  expect(brierScore(forecasts)).toBeCloseTo(REFERENCE.brier, 9);
  expect(logLoss(forecasts)).toBeCloseTo(REFERENCE.log_loss_nats, 6);
});

test('reliability bins: every forecast stands in one bin, a certain one in the last', () => {
  const bins = reliability([...forecasts, { probability: 1, came: true }, { probability: 0, came: false }]);
  expect(bins.map(({ count }) => count)).toEqual([1, 1, 0, 1, 0, 0, 1, 0, 1, 2]);
  expect(bins[9].observed).toBe(1);
  expect(bins[2].observed).toBeNull();
});

test('a bin whose mean lies outside the interval of what happened is not calibrated', () => {
  const bold = Array.from({ length: 40 }, (_, i) => ({ probability: 0.95, came: i % 2 === 0 }));
  expect(reliability(bold)[9].calibrated).toBe(false);
});
