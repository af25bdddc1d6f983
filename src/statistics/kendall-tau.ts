import { type NoData, noData } from './no-data.ts';
import { type PairOrder, pairOrder } from './pair-order.ts';

/** A rank correlation from -1 (always against each other) to 1 (always alike). */
export interface RankCorrelation {
  readonly kind: 'rank-correlation';
  readonly n: number;
  readonly tau: number;
}

/**
 * Kendall's tau-b, which allows for ties (Kendall, Rank Correlation Methods, 4th ed. 1975, section 3.4).
 * @throws RangeError unless x and y are equally long and finite
 */
export function kendallTau(x: readonly number[], y: readonly number[]): RankCorrelation | NoData {
  const order = pairOrder(x, y);
  if (order.pairs === 0) return noData('a rank correlation takes two pairs of values or more');
  const tau = tauB(order);
  if (tau === undefined) return noData('all values of one variable are equal');
  return { kind: 'rank-correlation', n: order.n, tau };
}

/** Tau-b of counted pairs; undefined when one variable does not vary. */
export function tauB({ s, pairs, tiedX, tiedY }: PairOrder): number | undefined {
  if (pairs === tiedX || pairs === tiedY) return undefined;
  return s / Math.sqrt(pairs - tiedX) / Math.sqrt(pairs - tiedY);
}
