import type { Cell } from '../../compare/table/cell.ts';
import { fixed, significant } from '../../text/rounding.ts';

/** `1 file`, `3 files`, `no files`. */
export function counted(count: number, singular: string, plural = `${singular}s`): string {
  return `${count === 0 ? 'no' : count.toLocaleString('en')} ${count === 1 ? singular : plural}`;
}

/** A figure to four significant digits, without trailing zeros; whole numbers in full. */
export function rounded(value: number): string {
  return Number.isInteger(value) ? String(value) : String(significant(value, 4));
}

/** A cell of a comparison: certain and, where it differs, expected in brackets; `-` absent, `?` not observed. */
export function figureCell({ certain, expected, missing }: Cell, unit = ''): string {
  if (missing !== null) return missing === 'absent' ? '-' : '?';
  const written = (value: number | null) => (value === null ? '?' : inUnit(value, unit));
  const [sure, likely] = [written(certain), written(expected)];
  return expected === null || sure === likely ? sure : `${sure} (${likely})`;
}

function inUnit(value: number, unit: string): string {
  if (unit === '%') return fixed(value, 1);
  return unit === MEMORY ? memory(value) : rounded(value);
}

/** Unit of memory sizes, which span so much that each has a unit of its own. */
export const MEMORY = 'KiBy';

function memory(kibibytes: number): string {
  if (kibibytes >= 1024 ** 2) return `${rounded(kibibytes / 1024 ** 2)} GiB`;
  return kibibytes >= 1024 ? `${rounded(kibibytes / 1024)} MiB` : `${rounded(kibibytes)} KiB`;
}
