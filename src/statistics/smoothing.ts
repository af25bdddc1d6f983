import { requireDistribution, requireSameLength } from './domain.ts';

/**
 * Relative frequencies smoothed by a Dirichlet prior: (count + strength × prior) / (total + strength). The strength is
 * a number of pseudo-observations shared out as the prior says; it fades as real ones come in. With the defaults each
 * category gets one (Laplace's rule of succession, 1774); half as many is Jeffreys' rule (Gelman et al., Bayesian Data
 * Analysis, section 3.4). Without any observation the answer is the prior, never NaN.
 * @param counts >= 0, need not be whole (weights of uncertain identifications)
 * @returns same order, sums to 1, none is 0 where strength and prior are above 0
 * @throws RangeError without categories, for a negative or infinite count, a strength below 0, a prior that is no
 * distribution, or no observation and strength 0
 */
export function smoothed(
  counts: readonly number[],
  {
    strength = counts.length,
    prior = counts.map(() => 1 / counts.length),
  }: { readonly strength?: number; readonly prior?: readonly number[] } = {},
): readonly number[] {
  if (counts.length === 0) throw new RangeError('there is no category to spread probability over');
  requireSameLength(counts, 'counts', prior, 'prior');
  requireDistribution(prior, 'prior');
  counts.forEach((count, at) => requireWeight(count, `counts[${at}]`));
  requireWeight(strength, 'strength');
  const total = counts.reduce((sum, count) => sum + count, strength);
  if (total === 0) throw new RangeError('without an observation the strength must be above 0');
  return counts.map((count, at) => (count + strength * prior[at]) / total);
}

/**
 * A table of conditional frequencies, each row drawn towards what holds for all rows together (the m-estimate of
 * Cestnik, Proceedings of ECAI 1990, 147-149): rows with few observations follow the overall distribution, rows with
 * many follow their own.
 * @param counts a row for each condition, a column for each outcome
 * @param strength pseudo-observations a row is given of the overall distribution, which is itself smoothed after
 * Laplace; 2 by default (common practice)
 * @returns rows that each sum to 1
 * @throws RangeError as {@link smoothed}, or when rows differ in length
 */
export function smoothedTable(
  counts: readonly (readonly number[])[],
  strength = 2,
): readonly (readonly number[])[] {
  if (counts.length === 0) return [];
  for (const row of counts) requireSameLength(counts[0], 'row 1', row, 'another row');
  const overall = smoothed(counts[0].map((_, column) => counts.reduce((sum, row) => sum + row[column], 0)));
  return counts.map((row) => smoothed(row, { strength, prior: overall }));
}

function requireWeight(value: number, name: string): void {
  if (!(value >= 0 && Number.isFinite(value))) {
    throw new RangeError(`${name} must be finite and 0 or more; it is ${value}`);
  }
}
