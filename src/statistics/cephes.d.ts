// The few calls of cephes that we use; its own types are not found through its "exports" map.
declare module 'cephes' {
  const cephes: {
    /** Resolves when the WebAssembly module is ready; no call works before. */
    readonly compiled: Promise<void>;
    /** Inverse of the standard normal distribution function. */
    ndtri(p: number): number;
    /** Complementary error function. */
    erfc(x: number): number;
    /** Logarithm of the gamma function. */
    lgam(x: number): number;
    /** Inverse of the regularised incomplete beta integral. */
    incbi(a: number, b: number, p: number): number;
    /** Regularised incomplete beta integral from 0 to x. */
    incbet(a: number, b: number, x: number): number;
    /** Complemented regularised incomplete gamma integral. */
    igamc(a: number, x: number): number;
    /** Sum of binomial terms 0 to k. */
    bdtr(k: number, n: number, p: number): number;
    /** Sum of binomial terms k + 1 to n. */
    bdtrc(k: number, n: number, p: number): number;
  };
  export default cephes;
}
