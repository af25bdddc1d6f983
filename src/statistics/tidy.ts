/** Rounds to nine digits, so that sums and products of decimal probabilities show no binary rounding error. */
export function tidy(value: number): number {
  return Number(value.toFixed(9));
}
