import { expect, test } from 'vitest';
import { noisyOr } from '../../src/statistics/noisy-or.ts';
import { chanceOf, poissonBinomial } from '../../src/statistics/poisson-binomial.ts';
import { published } from './reference.ts';

test('0.6, 0.5 and 0.2 give 0.84 (Pearl 1988, from the formula)', () => {
  expect(noisyOr(published.noisy_or.p)).toBeCloseTo(published.noisy_or.at_least_one, 12);
});

test('is 1 minus the chance of none, with a leak as a further cause', () => {
  const causes = [0.1, 0.35, 0.02, 0.6];
  expect(noisyOr(causes)).toBeCloseTo(1 - chanceOf(poissonBinomial(causes), 0), 12);
  expect(noisyOr(causes, 0.05)).toBeCloseTo(noisyOr([...causes, 0.05]), 12);
});

test('no cause, certain causes and a million tiny ones', () => {
  expect(noisyOr([])).toBe(0);
  expect(noisyOr([], 0.1)).toBeCloseTo(0.1, 15);
  expect(noisyOr([0.2, 1])).toBe(1);
  expect(noisyOr(new Array(1000).fill(1e-20))).toBeCloseTo(1e-17, 25);
  expect(() => noisyOr([0.2, 1.2])).toThrow('causes[1]');
});
