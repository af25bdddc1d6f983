/** Sums and products of decimal probabilities without the dust of binary fractions: nine digits, enough for any use. */
export function tidy(value: number): number {
  return Number(value.toFixed(9));
}
