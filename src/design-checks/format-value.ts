import { writtenUnit } from '../model/written-unit.ts';
import type { CheckedValue } from './box.ts';

/** `40.5 mA`, or with uncertain inputs `40.5 mA (38.1 to 43.2)`: three significant digits, for a sentence. */
export function formatValue({ value, unit, low, high }: CheckedValue): string {
  // The trade writes a charge of its own capacity in an hour as 1 C.
  const written = unit === '1/h' ? 'C' : writtenUnit(unit);
  const gap = written === '' ? '' : ' ';
  const range = low === high ? '' : ` (${shortNumber(low)} to ${shortNumber(high)})`;
  return `${shortNumber(value)}${gap}${written}${range}`;
}

/** Three significant digits, without needless zeros; counts and other whole numbers below a million in full. */
export function shortNumber(value: number): string {
  if (Number.isInteger(value) && Math.abs(value) < 1e6) return String(value);
  return String(Number(value.toPrecision(3)));
}
