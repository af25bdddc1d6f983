import { requireFinite, requireSameLength } from './domain.ts';

/** How the pairs of a sample are ordered in two variables. */
export interface PairOrder {
  readonly n: number;
  /** Pairs in all: n (n - 1) / 2. */
  readonly pairs: number;
  /** Pairs ordered alike less pairs ordered against each other: Kendall's S. */
  readonly s: number;
  /** Pairs equal in x, whether or not in y; and the sizes of the groups of equal x of two or more. */
  readonly tiedX: number;
  readonly groupsX: readonly number[];
  readonly tiedY: number;
  readonly groupsY: readonly number[];
}

/**
 * Counts the order of all pairs in n log n steps (Knight, JASA 61, 1966, 436-439): sorted by x, the pairs ordered
 * against each other are the exchanges that a merge sort by y makes.
 * @throws RangeError unless x and y are equally long and finite
 */
export function pairOrder(x: readonly number[], y: readonly number[]): PairOrder {
  requireSameLength(x, 'x', y, 'y');
  requireFinite(x, 'x');
  requireFinite(y, 'y');
  const n = x.length;
  const order = Array.from(x.keys()).sort((a, b) => x[a] - x[b] || y[a] - y[b]);
  const byX = order.map((at) => x[at]);
  const inXOrder = Float64Array.from(order, (at) => y[at]);
  const groupsX = runs(n, (a, b) => byX[a] === byX[b]);
  const groupsBoth = runs(n, (a, b) => byX[a] === byX[b] && inXOrder[a] === inXOrder[b]);
  const exchanges = sortCountingExchanges(inXOrder);
  const groupsY = runs(n, (a, b) => inXOrder[a] === inXOrder[b]);
  const pairs = pairsIn(n);
  const [tiedX, tiedY, tiedBoth] = [groupsX, groupsY, groupsBoth].map((groups) =>
    groups.reduce((sum, size) => sum + pairsIn(size), 0),
  );
  return { n, pairs, s: pairs - tiedX - tiedY + tiedBoth - 2 * exchanges, tiedX, groupsX, tiedY, groupsY };
}

function pairsIn(size: number): number {
  return (size * (size - 1)) / 2;
}

/** Sizes, two or more, of the runs of neighbours that are equal. */
function runs(n: number, equal: (a: number, b: number) => boolean): readonly number[] {
  const sizes: number[] = [];
  let start = 0;
  for (let at = 1; at <= n; at++) {
    if (at < n && equal(start, at)) continue;
    if (at - start > 1) sizes.push(at - start);
    start = at;
  }
  return sizes;
}

/** Sorts in place, bottom-up merge; returns how many pairs stood in strictly falling order. */
function sortCountingExchanges(values: Float64Array): number {
  const n = values.length;
  let from: Float64Array = values;
  let to: Float64Array = new Float64Array(n);
  let exchanges = 0;
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let left = start;
      let right = middle;
      for (let at = start; at < end; at++) {
        if (left < middle && (right >= end || from[left] <= from[right])) {
          to[at] = from[left++];
        } else {
          to[at] = from[right++];
          exchanges += middle - left;
        }
      }
    }
    [from, to] = [to, from];
  }
  if (from !== values) values.set(from);
  return exchanges;
}
