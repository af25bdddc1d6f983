import { requireFinite, requireProbability } from './domain.ts';

/**
 * The value under which a share `p` of the data lies, by linear interpolation between order statistics (definition 7
 * of Hyndman & Fan, The American Statistician 50, 1996, 361-365; the default of R and NumPy). Unit of the values.
 * @throws RangeError without values, with a value that is not finite, or p outside [0, 1]
 */
export function quantile(values: readonly number[], p: number): number {
  requireProbability(p, 'the share of a quantile');
  return quantileOfSorted(sorted(values), p);
}

/** The middle value, or the mean of the two middle ones. @throws RangeError as {@link quantile} */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** Minimum, quarter, middle, three-quarter and maximum (Tukey 1977, with {@link quantile}'s quarters). */
export interface FiveNumbers {
  readonly minimum: number;
  readonly lowerQuartile: number;
  readonly median: number;
  readonly upperQuartile: number;
  readonly maximum: number;
}

/** Five numbers that sketch a distribution. @throws RangeError as {@link quantile} */
export function fiveNumbers(values: readonly number[]): FiveNumbers {
  const ordered = sorted(values);
  const [minimum, lowerQuartile, middle, upperQuartile, maximum] = [0, 0.25, 0.5, 0.75, 1].map((p) =>
    quantileOfSorted(ordered, p),
  );
  return { minimum, lowerQuartile, median: middle, upperQuartile, maximum };
}

/** Quantile of values already in rising order, at least one. */
export function quantileOfSorted(ordered: ArrayLike<number>, p: number): number {
  const place = (ordered.length - 1) * p;
  const below = Math.floor(place);
  const above = Math.min(below + 1, ordered.length - 1);
  return ordered[below] + (place - below) * (ordered[above] - ordered[below]);
}

/** A copy in rising order. @throws RangeError without values or with one that is not finite */
export function sorted(values: readonly number[]): Float64Array {
  if (values.length === 0) throw new RangeError('there is no value to take a quantile of');
  requireFinite(values, 'values');
  return Float64Array.from(values).sort();
}
