import type { PairOrder } from './pair-order.ts';

/**
 * Variance of Kendall's S over all orders of the same values, ties in either variable or both allowed for (Kendall,
 * Rank Correlation Methods, 4th ed. 1975, equation 4.4).
 */
export function varianceOfS({ n, groupsX, groupsY }: Pick<PairOrder, 'n' | 'groupsX' | 'groupsY'>): number {
  // Where a variable does not vary, S is 0 in every order; the sums below would leave a rounding error of either sign.
  if (n < 2 || groupsX[0] === n || groupsY[0] === n) return 0;
  const over = (groups: readonly number[], of: (size: number) => number) =>
    groups.reduce((sum, size) => sum + of(size), 0);
  const cubic = (size: number) => size * (size - 1) * (2 * size + 5);
  const triples = (size: number) => size * (size - 1) * (size - 2);
  const twice = (size: number) => size * (size - 1);
  const main = (cubic(n) - over(groupsX, cubic) - over(groupsY, cubic)) / 18;
  // With fewer than three values there is no triple to be tied.
  const tripled = n < 3 ? 0 : (over(groupsX, triples) * over(groupsY, triples)) / (9 * triples(n));
  return main + tripled + (over(groupsX, twice) * over(groupsY, twice)) / (2 * twice(n));
}
