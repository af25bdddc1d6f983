import { expect, test } from 'vitest';
import { clopperPearson } from '../../src/statistics/proportion.ts';
import { brierScore, logLoss, reliability, reliabilityFrom } from '../../src/statistics/scores.ts';
import { differing, libraries, published } from './reference.ts';

function forecasts({ probability, outcome }: { probability: number[]; outcome: number[] }) {
  return probability.map((p, at) => ({ probability: p, cameTrue: outcome[at] === 1 }));
}

const worked = forecasts(published.brier_log_loss);

test('Brier score and log loss as computed from their formulas (Brier 1950)', () => {
  expect(brierScore(worked)).toBeCloseTo(published.brier_log_loss.brier, 9);
  expect(logLoss(worked)).toBeCloseTo(published.brier_log_loss.log_loss_nats, 6);
});

test('both agree with scikit-learn', () => {
  const found = differing(
    libraries.scores,
    (one) => [
      [brierScore(forecasts(one)), one.brier],
      [logLoss(forecasts(one)), one.log_loss],
    ],
    1e-12,
  );
  expect(found).toEqual([]);
});

test('always forecasting one half scores a quarter; a bold mistake costs much but not infinitely', () => {
  const half = [true, false, true].map((cameTrue) => ({ probability: 0.5, cameTrue }));
  expect(brierScore(half)).toBe(0.25);
  expect(logLoss([{ probability: 1, cameTrue: false }])).toBeCloseTo(-Math.log(1e-6), 6);
});

test('reliability bins: every forecast is in one bin, a certain forecast in the last', () => {
  const bins = reliability([
    ...worked,
    { probability: 1, cameTrue: true },
    { probability: 0, cameTrue: false },
  ]);
  expect(bins.map(({ count }) => count)).toEqual([1, 1, 0, 1, 0, 0, 1, 0, 1, 2]);
  expect(bins[9].observed).toBe(1);
  expect(bins[2]).toEqual({ ...bins[2], stated: null, observed: null, interval: null, calibrated: null });
});

test('each bin has the exact 95 % interval of what happened; a mean outside it is not calibrated', () => {
  const bold = Array.from({ length: 40 }, (_, i) => ({ probability: 0.95, cameTrue: i % 2 === 0 }));
  expect(reliability(bold)[9]).toMatchObject({
    count: 40,
    observed: 0.5,
    interval: clopperPearson(20, 40),
    calibrated: false,
  });
  const honest = Array.from({ length: 40 }, (_, i) => ({ probability: 0.95, cameTrue: i > 1 }));
  expect(reliability(honest)[9].calibrated).toBe(true);
});

test('no forecasts and invalid probabilities are refused', () => {
  expect(() => brierScore([])).toThrow('no forecasts');
  expect(() => logLoss([{ probability: 1.5, cameTrue: true }])).toThrow('it is 1.5');
  expect(() => reliability([{ probability: Number.NaN, cameTrue: true }])).toThrow('it is NaN');
  expect(() => reliability([], 0)).toThrow('bins');
});

test('forecasts from a threshold on are one bin, with the interval of all of them', () => {
  const forecasts = [0.98, 0.99, 0.995, 1].map((probability, at) => ({ probability, cameTrue: at !== 2 }));
  const { count, stated, observed, interval } = reliabilityFrom(forecasts, 0.99);
  expect({ count, observed, interval }).toEqual({
    count: 3,
    observed: 2 / 3,
    interval: clopperPearson(2, 3),
  });
  expect(stated).toBeCloseTo(0.995, 12);
  expect(reliabilityFrom(forecasts.slice(0, 1), 0.99)).toMatchObject({ count: 0, stated: null });
});
