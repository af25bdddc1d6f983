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

/** The x in [0, 1] that a beta value stays under with probability `p`; shapes a, b > 0. */
export function betaQuantile(p: number, a: number, b: number): number {
  return cephes.incbi(a, b, p);
}

/** The x that a gamma value of the given shape and scale 1 exceeds with probability `tail`; shape > 0. */
export function gammaUpperQuantile(tail: number, shape: number): number {
  return cephes.igami(shape, tail);
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
    if (error instanceof Error && error.message.includes('underflow')) return 0;
    throw error;
  }
}
