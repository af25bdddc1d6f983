import { mersenne } from 'pure-rand/generator/mersenne';
import { expect, test } from 'vitest';
import { seededRandom } from '../../src/statistics/random.ts';
import { binomialTest } from './binomial-test.ts';

test('the generator is MT19937: its 10,000th number from seed 5489 is 4123659995 (ISO/IEC 14882, rand.predef; from memory)', () => {
  const generator = mersenne(5489);
  for (let draw = 1; draw < 10_000; draw++) generator.next();
  expect(generator.next() >>> 0).toBe(4_123_659_995);
});

test('a seed repeats itself exactly; another differs; a named stream does not depend on what was drawn', () => {
  const draw = (seed: number | string) => Array.from({ length: 5 }, seededRandom(seed).uniform);
  expect(draw(1)).toEqual(draw(1));
  expect(draw('archive')).toEqual(draw('archive'));
  expect(draw(1)).not.toEqual(draw(2));
  const parent = seededRandom(1);
  const before = parent.stream('misreadings').uniform();
  parent.uniform();
  expect(parent.stream('misreadings').uniform()).toBe(before);
  expect(parent.stream('parts').uniform()).not.toBe(before);
});

test('uniform, chance, weighted and picked draws come as often as they should (exact binomial test, 0.1 %)', () => {
  const random = seededRandom('frequencies');
  const times = 20_000;
  const count = (draw: () => boolean) => Array.from({ length: times }, draw).filter(Boolean).length;
  const often = (draw: () => boolean, p: number) =>
    expect(binomialTest(count(draw), times, p)).toBeGreaterThan(0.001);
  often(() => random.uniform() < 0.25, 0.25);
  often(() => random.chance(0.07), 0.07);
  often(() => random.weighted([1, 0, 3]) === 2, 0.75);
  often(() => random.pick(['a', 'b', 'c']) === 'b', 1 / 3);
  often(() => random.integer(-1, 2) === -1, 0.25);
  often(() => random.shuffled([1, 2, 3]).join('') === '312', 1 / 6);
  // 95 % of a normal distribution lies within 1.96 deviations.
  often(() => Math.abs(random.normal(10, 2) - 10) < 2 * 1.959964, 0.95);
});

test('certainties, a weight of 0 and shuffling keep what they must', () => {
  const random = seededRandom(7);
  for (let draw = 0; draw < 200; draw++) {
    expect(random.chance(0)).toBe(false);
    expect(random.chance(1)).toBe(true);
    expect(random.weighted([0, 1, 0])).toBe(1);
    expect(random.integer(4, 4)).toBe(4);
  }
  const items = [1, 2, 3, 4, 5];
  expect(random.shuffled(items).sort()).toEqual(items);
  expect(items).toEqual([1, 2, 3, 4, 5]);
});

test('nothing to draw from is refused', () => {
  const random = seededRandom(7);
  expect(() => random.pick([])).toThrow('no item');
  expect(() => random.weighted([0, 0])).toThrow('no weight');
  expect(() => random.weighted([1, Number.NaN])).toThrow('weights[1]');
  expect(() => random.integer(2, 1)).toThrow('2 to 1');
  expect(() => random.chance(2)).toThrow('it is 2');
  expect(() => seededRandom(-1)).toThrow('it is -1');
});
