import { requireCount, requireProbability } from './domain.ts';
import { type NoData, noData } from './no-data.ts';
import { countInterval, poissonBinomial } from './poisson-binomial.ts';
import { type Interval, wilson } from './proportion.ts';

/** A share with uncertain members: from the certain to the possible. */
export interface ShareBand {
  readonly kind: 'share';
  /** Number observed. */
  readonly n: number;
  /** Number not observed: they may be members or not. */
  readonly notObserved: number;
  /** Members with probability `certainFrom` or more. */
  readonly certain: number;
  /** Sum of the probabilities over the observed. */
  readonly expected: number;
  /** Those that may be members: probability `possibleFrom` or more (above 0 at least), or not observed. */
  readonly possible: number;
  /** `certain` and `possible` divided by all, observed or not. */
  readonly band: Interval;
  /** `expected` divided by the observed: the best single number, if being observed is independent of membership. */
  readonly share: number;
  /** Wilson interval of `share` over the observed: doubt of the sample alone. */
  readonly sampling: Interval;
  /** Range of the share over the observed, from doubtful membership alone (independent; Poisson-binomial). */
  readonly doubt: Interval;
  /** Wilson's lower limit of the certain and upper limit of the possible share: both doubts at once, the widest. */
  readonly outer: Interval;
}

/**
 * Share of members among things whose membership is known with a probability. Always certain <= possible; `share`
 * lies in `band` when `certainFrom` is 1, `possibleFrom` 0 and all were observed; with other thresholds what counts as
 * certain may exceed the expectation, and what counts as possible fall short of it, by the doubt that they ignore.
 * @param probabilities of membership, one for each observed thing
 * @throws RangeError when a probability is outside [0, 1] or `notObserved` is not a count
 */
export function shareBand(
  probabilities: readonly number[],
  {
    notObserved = 0,
    certainFrom = 0.95,
    possibleFrom = 0,
    level = 0.95,
  }: {
    readonly notObserved?: number;
    readonly certainFrom?: number;
    readonly possibleFrom?: number;
    readonly level?: number;
  } = {},
): ShareBand | NoData {
  requireCount(notObserved, 'the number not observed');
  requireProbability(certainFrom, 'certainFrom');
  requireProbability(possibleFrom, 'possibleFrom');
  const n = probabilities.length;
  if (n === 0)
    return noData(notObserved === 0 ? 'there is nothing to take a share of' : 'nothing was observed');
  const members = poissonBinomial(probabilities);
  const doubt = countInterval(members, level);
  // Summing many probabilities can overshoot the total by rounding.
  const expected = Math.min(n, members.expectation);
  const certain = probabilities.filter((p) => p >= certainFrom).length;
  const possible = probabilities.filter((p) => p > 0 && p >= possibleFrom).length + notObserved;
  const all = n + notObserved;
  return {
    kind: 'share',
    n,
    notObserved,
    certain,
    expected,
    possible,
    band: { low: certain / all, high: possible / all },
    share: expected / n,
    sampling: wilson(expected, n, level),
    doubt: { low: doubt.low / n, high: doubt.high / n },
    outer: { low: wilson(certain, all, level).low, high: wilson(possible, all, level).high },
  };
}
