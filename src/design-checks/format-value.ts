import { writtenUnit } from '../model/written-unit.ts';
import { significant } from '../text/rounding.ts';
import type { CheckedValue } from './box.ts';

/** Digits that a sentence bears. */
const FEWEST_DIGITS = 3;
const MOST_DIGITS = 6;

/**
 * `40.5 mA`, or with uncertain inputs `40.5 mA (38.1 to 43.2)`: three significant digits, more where the interval would not show
 * in them. An interval that six digits do not show is left out.
 */
export function formatValue({ value, unit, low, high }: CheckedValue): string {
  // The trade writes a charge of its own capacity in an hour as 1 C.
  const written = unit === '1/h' ? 'C' : writtenUnit(unit);
  const gap = written === '' ? '' : ' ';
  const digits = low === high ? FEWEST_DIGITS : digitsToShow(low, high);
  const shown = low !== high && digits <= MOST_DIGITS;
  const number = (one: number) => shortNumber(one, shown ? digits : FEWEST_DIGITS);
  const range = shown ? ` (${number(low)} to ${number(high)})` : '';
  return `${number(value)}${gap}${written}${range}`;
}

/** Significant digits in which an interval is at least two units of the last place wide. */
function digitsToShow(low: number, high: number): number {
  const places = Math.floor(Math.log10(Math.max(Math.abs(low), Math.abs(high)))) + 1;
  return Math.max(FEWEST_DIGITS, places - Math.floor(Math.log10((high - low) / 2)));
}

/** Three significant digits or as many as asked for, without needless zeros; whole numbers below a million in full. */
export function shortNumber(value: number, digits = FEWEST_DIGITS): string {
  if (Number.isInteger(value) && Math.abs(value) < 1e6) return String(value);
  return String(significant(value, digits));
}
