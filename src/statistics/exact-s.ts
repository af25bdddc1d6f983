import type { PairOrder } from './pair-order.ts';

/** Beyond this many values the normal approximation is good to three digits and nothing exact is calculated. */
export const EXACT_UP_TO = 50;
/** Additions that the exact distribution with ties in both variables may take: some 30 ms at most. */
const BUDGET = 150_000;

/**
 * P(|S| >= |s|) of Kendall's S over all n! equally likely orders of one variable against the other, ties in either or both
 * allowed for. Null beyond {@link EXACT_UP_TO} values, and where ties in both variables leave too many tables to sum over.
 *
 * Without ties in one variable S is the untied pairs less twice the inversions of a multiset, whose number is distributed
 * as a sum of Mann–Whitney's U of each group against all before it (Kendall, Rank Correlation Methods, 4th ed. 1975,
 * chapter 5, for the untied case). With ties in both, the tables of group against group are summed group by group, as
 * network algorithms do (Mehta & Patel, JASA 78, 1983, 427-434): all that matters of the groups before is how many of each
 * value they took.
 */
export function exactTwoSidedS(
  x: readonly number[],
  y: readonly number[],
  { n, s, pairs, tiedX, tiedY }: PairOrder,
): number | null {
  if (n > EXACT_UP_TO) return null;
  if (s === 0) return 1;
  const [a, b] = [sizesOf(x), sizesOf(y)];
  if (tiedX === 0 || tiedY === 0) return untiedInOne(Math.abs(s), pairs - tiedX - tiedY, tiedX === 0 ? b : a);
  // The variable whose groups leave fewer states is the one that is kept track of.
  const states = (sizes: readonly number[]) => sizes.reduce((product, size) => product * (size + 1), 1);
  return states(a) < states(b) ? tiedInBoth(b, a, Math.abs(s)) : tiedInBoth(a, b, Math.abs(s));
}

/** How often each value occurs, by rising value. */
function sizesOf(values: readonly number[]): readonly number[] {
  const sizes = new Map<number, number>();
  for (const value of values.toSorted((a, b) => a - b)) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()];
}

/** @param untied pairs that are tied in neither variable; @param sizes of the groups of the one that has ties, if any */
function untiedInOne(s: number, untied: number, sizes: readonly number[]): number {
  let chance: Float64Array = new Float64Array([1]);
  let before = 0;
  for (const size of sizes) {
    chance = sumOf(chance, mannWhitney(before, size));
    before += size;
  }
  const inversions = (untied - s) / 2;
  return Math.min(1, 2 * chance.subarray(0, inversions + 1).reduce((sum, term) => sum + term, 0));
}

/**
 * Distribution of Mann–Whitney's U of `a` values against `b`: the largest of all is one of the `a`, and above all `b`, with
 * probability a / (a + b) (Mann & Whitney, Annals of Mathematical Statistics 18, 1947, 50-60).
 */
function mannWhitney(a: number, b: number): Float64Array {
  let rows: Float64Array[] = Array.from({ length: b + 1 }, () => new Float64Array([1]));
  for (let i = 1; i <= a; i++) {
    const next: Float64Array[] = [new Float64Array([1])];
    for (let j = 1; j <= b; j++) {
      const chance = new Float64Array(i * j + 1);
      const [above, below] = [rows[j], next[j - 1]];
      for (let u = 0; u < above.length; u++) chance[u + j] += (above[u] * i) / (i + j);
      for (let u = 0; u < below.length; u++) chance[u] += (below[u] * j) / (i + j);
      next.push(chance);
    }
    rows = next;
  }
  return rows[b];
}

/** Distribution of the sum of two independent numbers. */
function sumOf(a: Float64Array, b: Float64Array): Float64Array {
  const sum = new Float64Array(a.length + b.length - 1);
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) sum[i + j] += a[i] * b[j];
  return sum;
}

/** What groups so far may have taken of each value, with the distribution of S among them. */
interface Taken {
  readonly counts: readonly number[];
  readonly chance: Map<number, number>;
}

/**
 * Group by group of one variable, each taking from what is left of the values of the other.
 * @returns null when it takes more than the budget
 */
function tiedInBoth(rows: readonly number[], columns: readonly number[], s: number): number | null {
  let states = new Map<string, Taken>([['', { counts: columns.map(() => 0), chance: new Map([[0, 1]]) }]]);
  let left = rows.reduce((sum, size) => sum + size, 0);
  let work = 0;
  for (const size of rows) {
    const next = new Map<string, Taken>();
    for (const { counts, chance } of states.values()) {
      for (const row of rowsOf(size, counts, columns, left)) {
        work += chance.size + columns.length;
        if (work > BUDGET) return null;
        const taken = counts.map((count, at) => count + row.counts[at]);
        const key = taken.join();
        const state = next.get(key) ?? { counts: taken, chance: new Map<number, number>() };
        next.set(key, state);
        for (const [sum, probability] of chance) {
          const now = sum + row.gain;
          state.chance.set(now, (state.chance.get(now) ?? 0) + probability * row.probability);
        }
      }
    }
    states = next;
    left -= size;
  }
  const [{ chance }] = states.values();
  let p = 0;
  for (const [sum, probability] of chance) if (Math.abs(sum) >= s) p += probability;
  return Math.min(1, p);
}

/** Every way in which a group of `size` may take what is left of each value, its probability, and what it adds to S. */
function* rowsOf(
  size: number,
  counts: readonly number[],
  columns: readonly number[],
  left: number,
): Generator<{ readonly counts: readonly number[]; readonly gain: number; readonly probability: number }> {
  const ways = choose(left, size);
  const taken = columns.map(() => 0);
  // A value counts for each smaller one that was taken before, and against each larger one.
  const order = columns.map((_, at) =>
    counts.reduce((sum, count, other) => sum + Math.sign(at - other) * count, 0),
  );
  function* from(at: number, rest: number, gain: number, found: number): ReturnType<typeof rowsOf> {
    const free = columns[at] - counts[at];
    if (at === columns.length - 1) {
      if (rest > free) return;
      taken[at] = rest;
      yield {
        counts: [...taken],
        gain: gain + rest * order[at],
        probability: (found * choose(free, rest)) / ways,
      };
      return;
    }
    for (let count = 0; count <= Math.min(rest, free); count++) {
      taken[at] = count;
      yield* from(at + 1, rest - count, gain + count * order[at], found * choose(free, count));
    }
  }
  yield* from(0, size, 0, 1);
}

function choose(n: number, k: number): number {
  let ways = 1;
  for (let at = 1; at <= k; at++) ways = (ways * (n - k + at)) / at;
  return ways;
}
