import { requireProbabilities } from './domain.ts';

/**
 * Adjusted p-values of several tests looked at together, in the order given (Benjamini & Hochberg, JRSS B 57, 1995,
 * 289-300). Calling those at or under q findings keeps the expected share of false findings at or under q when the
 * tests are independent or positively dependent (Benjamini & Yekutieli, Annals of Statistics 29, 2001).
 * @param p one p-value a test; an empty list gives an empty list
 * @throws RangeError when a p-value is not in [0, 1]
 */
export function benjaminiHochberg(p: readonly number[]): readonly number[] {
  requireProbabilities(p, 'p');
  const falling = Array.from(p.keys()).sort((a, b) => p[b] - p[a]);
  const adjusted = new Array<number>(p.length);
  let least = 1;
  falling.forEach((at, place) => {
    least = Math.min(least, p[at] * (p.length / (p.length - place)));
    adjusted[at] = least;
  });
  return adjusted;
}
