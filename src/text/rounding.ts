/**
 * Rounding of numbers that are printed: halves away from zero, on the number as it reads. `0.9215` is not stored exactly but a little
 * below, and `toFixed(3)` makes 0.921 of it, while whoever has the full number before them rounds to 0.922.
 */

/** A number with so many decimals, as `toFixed` writes it but for halves. */
export function fixed(value: number, digits = 0): string {
  const size = Math.abs(value);
  if (!(size < LARGE)) return value.toFixed(digits);
  const written = shifted(Math.round(shifted(size, digits)), -digits).toFixed(digits);
  return value < 0 && Number(written) > 0 ? `-${written}` : written;
}

/** A number to so many significant digits. */
export function significant(value: number, digits: number): number {
  if (value === 0 || !Number.isFinite(value)) return value;
  const places = digits - 1 - Number(value.toExponential().split('e')[1]);
  return Math.sign(value) * shifted(Math.round(shifted(Math.abs(value), places)), -places);
}

/** A share in percent, without a sign: 0.145 with no decimals is 15. */
export function inPercent(share: number, digits = 0): string {
  return fixed(shifted(share, 2), digits);
}

/** A share as it is printed, with its sign: never 0 or 100 % for what is neither none nor all. `<1 %`, `35 %`, `>99 %`, `100 %`. */
export function percentText(share: number, digits = 0): string {
  const percent = inPercent(share, digits);
  const least = 10 ** -digits;
  if (Number(percent) === 0 && share > EXACT) return `<${fixed(least, digits)} %`;
  if (Number(percent) === 100 && share < 1 - EXACT) return `>${fixed(100 - least, digits)} %`;
  return `${percent} %`;
}

/** Shares nearer than this to 0 or 1 are these, but for the way they were added up. */
const EXACT = 1e-9;

/** Beyond it, doubles have no decimals worth rounding. */
const LARGE = 1e12;

/** A number with its decimal point moved, by its shortest decimal: multiplying would add an error of its own. */
function shifted(value: number, by: number): number {
  const [digits, exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + by}`);
}
