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

/** Beyond it, doubles have no decimals worth rounding. */
const LARGE = 1e12;

/** A number with its decimal point moved, by its shortest decimal: multiplying would add an error of its own. */
function shifted(value: number, by: number): number {
  const [digits, exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + by}`);
}
