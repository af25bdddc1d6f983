import { requireFinite, requireSameLength } from './domain.ts';

/** Ranks from 1 on, equal values sharing the mean of theirs. @throws RangeError with a value that is not finite */
export function midRanks(values: readonly number[]): readonly number[] {
  requireFinite(values, 'values');
  return rankRange(values, values).low;
}

/**
 * The lowest and highest rank that each value may have when every value may be anywhere in its range.
 * @param lows lower end of each range, −∞ where there is none; @param highs upper end, +∞ where there is none
 */
export function rankRange(
  lows: readonly number[],
  highs: readonly number[],
): { readonly low: readonly number[]; readonly high: readonly number[] } {
  requireSameLength(lows, 'lows', highs, 'highs');
  const byLow = Float64Array.from(lows).sort();
  const byHigh = Float64Array.from(highs).sort();
  // A value at its lower end lies above those whose upper end is lower; one that can only be equal takes half a rank.
  // The value itself is among those compared with: where its range is a point it counted as equal, which is taken off.
  const low = lows.map((value, at) => {
    const self = highs[at] === value ? 0.5 : 0;
    return 1 + (below(byHigh, value) + upTo(byHigh, value)) / 2 - self;
  });
  const high = highs.map((value, at) => {
    const self = lows[at] === value ? 0.5 : 1;
    return 1 + (below(byLow, value) + upTo(byLow, value)) / 2 - self;
  });
  return { low, high };
}

/** How many of some rising values are below another. */
function below(values: Float64Array, value: number): number {
  let [from, to] = [0, values.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (values[middle] < value) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** How many of some rising values are not above another. */
function upTo(values: Float64Array, value: number): number {
  let [from, to] = [0, values.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (values[middle] <= value) from = middle + 1;
    else to = middle;
  }
  return from;
}
