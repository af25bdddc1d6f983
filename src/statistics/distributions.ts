import cephes from 'cephes';

// The distributions behind the intervals and tests, through the Cephes library (Moshier, Methods and Programs for
// Mathematical Functions, 1989), the code that numerical Python used for two decades, compiled to WebAssembly.
// Arguments are checked by the callers; the tests hold these functions to SciPy's over a grid.
await cephes.compiled;

/** The z that a standard normal value stays under with probability `p`; 0 < p < 1. */
export function normalQuantile(p: number): number {
  return cephes.ndtri(p);
}

/** Probability that a standard normal value lies at least as far from 0 as `z`, either way. */
export function normalTwoSided(z: number): number {
  return orZero(() => cephes.erfc(Math.abs(z) / Math.SQRT2));
}

/** Probability that a chi-square value with one degree of freedom is at least `x`; x >= 0. */
export function chiSquareTail1(x: number): number {
  return normalTwoSided(Math.sqrt(x));
}

/** Probability that a chi-square value is at least `x`; x >= 0, freedom > 0. */
export function chiSquareTail(x: number, freedom: number): number {
  return gammaAtLeast(x / 2, freedom / 2);
}

/** The x in [0, 1] that a beta value stays under with probability `p`; shapes a, b > 0. */
export function betaQuantile(p: number, a: number, b: number): number {
  return cephes.incbi(a, b, p);
}

/**
 * The x that a gamma value of the given shape and scale 1 exceeds with probability `tail`; shape > 0, 0 < tail < 1.
 * Found by halving a bracket: Cephes' own inverse (igami) runs out of its range for one in twenty shapes from 7,485 on.
 */
export function gammaUpperQuantile(tail: number, shape: number): number {
  // Wilson & Hilferty, PNAS 17, 1931, 684-688: close enough for a start.
  const cube = 1 - 1 / (9 * shape) - normalQuantile(tail) / (3 * Math.sqrt(shape));
  const start = cube > 0 ? shape * cube ** 3 : shape;
  let low = start;
  let high = start;
  while (low > 0 && gammaAtLeast(low, shape) < tail) low *= 0.9;
  while (gammaAtLeast(high, shape) > tail) high *= 1.1;
  for (;;) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) return middle;
    if (gammaAtLeast(middle, shape) > tail) low = middle;
    else high = middle;
  }
}

/** Probability that a gamma value of the given shape and scale 1 is at least `x`. */
function gammaAtLeast(x: number, shape: number): number {
  try {
    return cephes.igamc(shape, x);
  } catch (error) {
    if (isUnderflow(error)) return x > shape ? 0 : 1;
    throw error;
  }
}

/**
 * Probability that a value of Student's t with `freedom` degrees lies at least as far from 0 as `t`, either way.
 * @param freedom need not be whole; > 0
 */
export function studentTwoSided(t: number, freedom: number): number {
  if (!Number.isFinite(t)) return 0;
  return orZero(() => cephes.incbet(freedom / 2, 0.5, freedom / (freedom + t * t)));
}

/** The t that a value of Student's t with `freedom` degrees stays under with probability `p`; 0.5 <= p < 1. */
export function studentQuantile(p: number, freedom: number): number {
  const x = cephes.incbi(freedom / 2, 0.5, 2 * (1 - p));
  return Math.sqrt((freedom * (1 - x)) / x);
}

/** Probability of exactly `k` successes in `n` trials; 0 <= k <= n, 0 <= p <= 1. */
export function binomialProbability(k: number, n: number, p: number): number {
  if (p === 0 || p === 1) return k === n * p ? 1 : 0;
  const ways = cephes.lgam(n + 1) - cephes.lgam(k + 1) - cephes.lgam(n - k + 1);
  return Math.exp(ways + k * Math.log(p) + (n - k) * Math.log1p(-p));
}

/** Probability of at most `k` successes in `n` trials; whole k below 0 and above n are answered too. */
export function binomialAtMost(k: number, n: number, p: number): number {
  if (k < 0) return 0;
  return k >= n ? 1 : orZero(() => cephes.bdtr(k, n, p));
}

/** Probability of at least `k` successes in `n` trials; whole k below 0 and above n are answered too. */
export function binomialAtLeast(k: number, n: number, p: number): number {
  if (k <= 0) return 1;
  return k > n ? 0 : orZero(() => cephes.bdtrc(k - 1, n, p));
}

/** Cephes throws when a tail is smaller than a double can hold (about 1e-308); such a tail is 0. */
function orZero(tail: () => number): number {
  try {
    return tail();
  } catch (error) {
    if (isUnderflow(error)) return 0;
    throw error;
  }
}

function isUnderflow(error: unknown): boolean {
  return error instanceof Error && error.message.includes('underflow');
}
