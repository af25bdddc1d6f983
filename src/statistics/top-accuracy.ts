import { requireCount } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import { type Interval, wilson } from './proportion.ts';

/** Share of cases whose right answer stood among the first k. */
export interface TopAccuracy {
  readonly kind: 'top-accuracy';
  readonly n: number;
  readonly right: number;
  readonly share: number;
  readonly interval: Interval;
}

/**
 * Top-k accuracy with its Wilson interval (common practice of ranked classification).
 * @param ranks rank of the right answer in each case, 1 for first; null where it was not ranked at all
 * @throws RangeError unless k and the ranks are whole and >= 1
 */
export function topAccuracy(
  ranks: readonly (number | null)[],
  k: number,
  level = 0.95,
): TopAccuracy | NoData {
  requireRank(k, 'k');
  ranks.forEach((rank, at) => {
    if (rank !== null) requireRank(rank, `ranks[${at}]`);
  });
  const n = ranks.length;
  if (n === 0) return noData('no case to score');
  const right = ranks.filter((rank) => rank !== null && rank <= k).length;
  return { kind: 'top-accuracy', n, right, share: right / n, interval: wilson(right, n, level) };
}

/** Rank of one answer by its probability, 1 for first. Ties count against it, so that no luck is credited. */
export function rankOf(probabilities: readonly number[], answer: number): number {
  if (!(answer in probabilities)) throw new RangeError(`there is no answer ${answer} to rank`);
  return probabilities.filter((p) => p >= probabilities[answer]).length;
}

function requireRank(value: number, name: string): void {
  requireCount(value, name);
  if (value === 0) throw new RangeError(`${name} must be 1 or more; it is 0`);
}
