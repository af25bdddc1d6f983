import type { CheckedValue } from './check.ts';

/** UCUM codes as people write them. */
const WRITTEN: ReadonlyMap<string, string> = new Map([
  ['1', ''],
  ['mA.h', 'mAh'],
  ['uA', 'µA'],
  ['um', 'µm'],
  ['cm2', 'cm²'],
  ['mm2', 'mm²'],
  ['m/s2', 'm/s²'],
  ['kOhm', 'kΩ'],
  ['Ohm', 'Ω'],
  ['Cel', '°C'],
  ['1/cm2', 'per cm²'],
  // The trade writes a charge of its own capacity in an hour as 1 C.
  ['1/h', 'C'],
  ['W.h', 'Wh'],
  ['W.h/L', 'Wh/l'],
  ['cm3', 'cm³'],
  ['g/cm3', 'g/cm³'],
  ['uV', 'µV'],
  ['uW', 'µW'],
]);

/** `40.5 mA`, or with uncertain inputs `40.5 mA (38.1 to 43.2)`: three significant digits, for a sentence. */
export function spoken({ value, unit, low, high }: CheckedValue): string {
  const written = WRITTEN.get(unit) ?? unit;
  const gap = written === '' ? '' : ' ';
  const range = low === high ? '' : ` (${short(low)} to ${short(high)})`;
  return `${short(value)}${gap}${written}${range}`;
}

/** Three significant digits, without needless zeros; counts and other whole numbers below a million in full. */
export function short(value: number): string {
  if (Number.isInteger(value) && Math.abs(value) < 1e6) return String(value);
  return String(Number(value.toPrecision(3)));
}
