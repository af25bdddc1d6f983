/** A sum of decimal probabilities without the dust of binary fractions: nine digits, as patterns have. */
export function tidy(sum: number): number {
  return Number(sum.toFixed(9));
}
