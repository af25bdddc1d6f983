import type { HabitsWithout } from './habits.ts';
import type { PartTable } from './part-table.ts';

/** Probability, before anything was seen of it, that a chip is in no catalogue (common practice, no source). */
export const PRIOR_NONE = 0.1;
/** What each catalogue part counts for before it was ever seen. */
const UNSEEN_PART = 0.5;

/**
 * Natural logarithm of each part's prior odds against "none in the catalogue". A part's share of what the catalogue
 * explains follows its use in the rest of the archive, each part counted half a use ahead.
 */
export function priorsOf(table: PartTable, habits: HabitsWithout): Float64Array {
  const whole = Math.log(wholeOf(table, habits));
  const priors = new Float64Array(table.parts.length).fill(logOf(0) - whole);
  for (const part of habits.values('part').keys()) {
    const number = table.numberOf(part);
    if (number !== undefined) priors[number] = logOf(habits.count('part', part)) - whole;
  }
  return priors;
}

/**
 * The same with some uses left out, from the priors with none left out: costs little where few parts are concerned.
 * @param all habits with nothing left out, which `priors` are of
 * @param parts ids of the parts whose uses are fewer now
 */
export function priorsWithout(
  table: PartTable,
  priors: Float64Array,
  all: HabitsWithout,
  habits: HabitsWithout,
  parts: Iterable<string>,
): Float64Array {
  const whole = Math.log(wholeOf(table, habits));
  const shift = Math.log(wholeOf(table, all)) - whole;
  const without = new Float64Array(priors.length);
  for (let i = 0; i < priors.length; i++) without[i] = priors[i] + shift;
  for (const part of parts) {
    const number = table.numberOf(part);
    if (number !== undefined) without[number] = logOf(habits.count('part', part)) - whole;
  }
  return without;
}

function logOf(count: number): number {
  return Math.log(((1 - PRIOR_NONE) / PRIOR_NONE) * (count + UNSEEN_PART));
}

function wholeOf(table: PartTable, habits: HabitsWithout): number {
  return habits.total('part') + UNSEEN_PART * table.parts.length;
}

/** Share of each kind of part, by number of the category facet: from the priors of its parts. */
export function kindsOf(table: PartTable, priors: Float64Array): Float64Array {
  const { of, examples } = table.facet('category');
  const shares = new Float64Array(examples.length);
  for (let i = 0; i < priors.length; i++) shares[of[i]] += Math.exp(priors[i]);
  const sum = shares.reduce((total, one) => total + one, 0);
  return shares.map((one) => one / sum);
}
