// Arguments outside a function's domain are the caller's mistake and raise a RangeError that shows the offending value.
// Valid data that cannot answer the question are not errors: see no-data.ts.

/** @throws RangeError unless `value` is a whole number >= 0 */
export function requireCount(value: number, name: string): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) {
    throw new RangeError(`${name} must be a whole number, 0 or more; it is ${value}`);
  }
}

/** @throws RangeError unless 0 <= value <= 1 */
export function requireProbability(value: number, name: string): void {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`${name} must be from 0 to 1; it is ${value}`);
}

/** @throws RangeError naming the first of the values that is not in [0, 1] */
export function requireProbabilities(values: ArrayLike<number>, name: string): void {
  for (let at = 0; at < values.length; at++) {
    // The name is built only for the refused value: these lists can be long.
    if (!(values[at] >= 0 && values[at] <= 1)) requireProbability(values[at], `${name}[${at}]`);
  }
}

/** @throws RangeError unless 0 < level < 1 */
export function requireLevel(level: number): void {
  if (!(level > 0 && level < 1)) {
    throw new RangeError(
      `the level of an interval must lie between 0 and 1, such as 0.95 for 95 %; it is ${level}`,
    );
  }
}

/** @throws RangeError naming the first value that is NaN or infinite */
export function requireFinite(values: ArrayLike<number>, name: string): void {
  for (let at = 0; at < values.length; at++) {
    if (!Number.isFinite(values[at])) {
      throw new RangeError(
        `${name}[${at}] is ${values[at]}; leave out what is missing (missing.ts) before computing`,
      );
    }
  }
}

/** @throws RangeError unless both lists are equally long */
export function requireSameLength(
  a: ArrayLike<unknown>,
  nameA: string,
  b: ArrayLike<unknown>,
  nameB: string,
): void {
  if (a.length !== b.length) {
    throw new RangeError(`${nameA} and ${nameB} must be equally long; there are ${a.length} and ${b.length}`);
  }
}

/** @throws RangeError unless the probabilities are in [0, 1] and sum to 1 within 1e-9 */
export function requireDistribution(probabilities: ArrayLike<number>, name: string): void {
  requireProbabilities(probabilities, name);
  let sum = 0;
  for (let at = 0; at < probabilities.length; at++) sum += probabilities[at];
  if (!(Math.abs(sum - 1) <= 1e-9)) throw new RangeError(`${name} must sum to 1; it sums to ${sum}`);
}
