import { createHash } from 'node:crypto';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';
import { normalQuantile } from './distributions.ts';
import { requireProbability } from './domain.ts';

/** Random numbers that a seed repeats exactly, on every machine. Not for secrets. */
export interface Random {
  /** At least 0, below 1, 53 random bits. */
  uniform(): number;
  /** A whole number from `low` to `high`, both possible. @throws RangeError unless low <= high, both whole */
  integer(low: number, high: number): number;
  /** True with probability `p`. @throws RangeError unless 0 <= p <= 1 */
  chance(p: number): boolean;
  /** A normal value; one uniform number each, so that a change elsewhere does not shift the sequence. */
  normal(mean?: number, deviation?: number): number;
  /** One of the items, all equally likely. @throws RangeError without items */
  pick<T>(items: readonly T[]): T;
  /**
   * An index, with probability in proportion to its weight.
   * @throws RangeError unless weights are finite, >= 0, not all 0
   */
  weighted(weights: readonly number[]): number;
  /** A copy in random order, all orders equally likely (Fisher & Yates; Durstenfeld, CACM 7, 1964). */
  shuffled<T>(items: readonly T[]): T[];
  /** A separate generator that depends on the seed and the name only, not on what was drawn before. */
  stream(name: string): Random;
}

/**
 * A generator from a seed: the Mersenne Twister MT19937 (Matsumoto & Nishimura, ACM TOMACS 8, 1998, 3-30), from
 * pure-rand.
 * @param seed a whole number from 0 to 2³² - 1 seeds the twister itself; text seeds it by its SHA-256
 * @throws RangeError for any other number
 */
export function seededRandom(seed: number | string): Random {
  if (typeof seed === 'number' && !(Number.isInteger(seed) && seed >= 0 && seed < 2 ** 32)) {
    throw new RangeError(`a seed is a whole number from 0 to 4294967295, or a text; it is ${seed}`);
  }
  const generator = mersenne(
    typeof seed === 'number' ? seed : createHash('sha256').update(seed).digest().readUInt32BE(0),
  );
  const uniform = () => uniformFloat64(generator);
  const integer = (low: number, high: number) => {
    if (!(Number.isSafeInteger(low) && Number.isSafeInteger(high) && low <= high)) {
      throw new RangeError(`no whole number to draw from ${low} to ${high}`);
    }
    return uniformInt(generator, low, high);
  };
  return {
    uniform,
    integer,
    chance(p) {
      requireProbability(p, 'the chance');
      return uniform() < p;
    },
    // Half a step up, so that 0 is never asked for.
    normal: (mean = 0, deviation = 1) => mean + deviation * normalQuantile(uniform() + 2 ** -54),
    pick(items) {
      if (items.length === 0) throw new RangeError('there is no item to pick');
      return items[integer(0, items.length - 1)];
    },
    weighted: (weights) => indexAt(weights, uniform()),
    shuffled(items) {
      const copy = [...items];
      for (let at = copy.length - 1; at > 0; at--) {
        const other = integer(0, at);
        [copy[at], copy[other]] = [copy[other], copy[at]];
      }
      return copy;
    },
    stream: (name) => seededRandom(`${seed}/${name}`),
  };
}

/** The index under a share `at` of the way along weights laid end to end. */
function indexAt(weights: readonly number[], at: number): number {
  let total = 0;
  weights.forEach((weight, index) => {
    if (!(weight >= 0 && Number.isFinite(weight))) {
      throw new RangeError(`weights[${index}] must be finite and 0 or more; it is ${weight}`);
    }
    total += weight;
  });
  if (total === 0) throw new RangeError('there is no weight to draw by');
  let left = at * total;
  let last = 0;
  for (const [index, weight] of weights.entries()) {
    if (weight === 0) continue;
    last = index;
    if (left < weight) return index;
    left -= weight;
  }
  return last;
}
