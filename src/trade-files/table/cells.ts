import { type Findings, LENGTH_UNITS, type LengthUnit, quoted } from '../board-design.ts';
import { saysNotFitted, unitNamed } from './headings.ts';
import { type DecimalSign, type NumberText, numberText } from './number-text.ts';
import type { CellFact } from './sheet.ts';

/** Where a cell is, how its column writes numbers, and what it is in a workbook. */
export interface NumberPlace {
  readonly line: number;
  readonly column: string;
  /** Left out where each number of the column tells by itself. */
  readonly decimal: DecimalSign | undefined;
  readonly fact: CellFact | undefined;
}

/** The number of a cell and the unit behind it: `12.7`, `12.7mm`, `500 mil`, `0.5"`, `1 234,5`. */
export function numberIn(
  cell: string,
  { decimal, fact }: Pick<NumberPlace, 'decimal' | 'fact'>,
): { readonly value: number; readonly unit?: string } | undefined {
  const read = numberText(cell);
  const value = fact?.number ?? (read && readAs(read, decimal));
  if (value === undefined || !Number.isFinite(value)) return undefined;
  // A unit in the number format of a cell is a unit.
  return { value, ...(read?.unit === undefined || read.unit === '%' ? {} : { unit: read.unit }) };
}

function readAs(read: NumberText, decimal: DecimalSign | undefined): number {
  return read.value(read.certain ?? decimal ?? read.unclear ?? 'point');
}

/** A length in mm, or a problem. @param unit of the column, where its cells carry none; with `isStated`, another in a cell is a problem */
export function lengthIn(
  cell: string,
  place: NumberPlace,
  unit: { readonly of: LengthUnit | undefined; readonly isStated: boolean },
  findings: Findings,
): { readonly value: number; readonly unit?: LengthUnit } | undefined {
  const read = numberIn(cell, place);
  const own =
    read?.unit === undefined ? undefined : /^["″]$/u.test(read.unit) ? 'inch' : unitNamed(read.unit);
  if (!read || (read.unit !== undefined && own === undefined)) {
    findings.problem(
      place.line,
      `${quoted(cell)} is not a length`,
      'write a number, such as 12.7 or 12.7mm',
      place.column,
    );
    return undefined;
  }
  if (own !== undefined && unit.isStated && unit.of !== undefined && own !== unit.of) {
    findings.problem(
      place.line,
      `${quoted(cell)} has another unit than its column, which is in ${unit.of}`,
      'write it in the unit of the column, or take the unit out of the heading',
      place.column,
    );
    return undefined;
  }
  const counts = own ?? unit.of;
  return { value: read.value, ...(counts ? { unit: counts } : {}) };
}

/** Degrees of a cell, or a problem. */
export function angleIn(cell: string, place: NumberPlace, findings: Findings): number | undefined {
  const read = numberIn(cell, place);
  if (read && (read.unit === undefined || /^(?:°|deg|degrees?)$/iu.test(read.unit))) return read.value;
  findings.problem(place.line, `${quoted(cell)} is not an angle`, 'write degrees, such as 90', place.column);
  return undefined;
}

/** A value with the unit of its column where it is a bare number; a problem where it says another. */
export function valueWithUnit(
  cell: string,
  unit: string | undefined,
  place: NumberPlace,
  findings: Findings,
): string {
  if (unit === undefined) return cell;
  const read = numberText(cell);
  if (!read) return cell;
  if (read.unit === undefined) return `${cell} ${unit}`;
  const plainUnit = (text: string) =>
    text
      .normalize('NFKC')
      .replace(/[uμ]/u, 'µ')
      .replace(/ohms?$/iu, 'Ω')
      .replace(/^r$/iu, 'Ω');
  const [own, of] = [plainUnit(read.unit), plainUnit(unit)];
  if (own !== of && !(own !== '' && of.startsWith(own)))
    findings.problem(
      place.line,
      `${quoted(cell)} has another unit than its column, which is in ${unit}`,
      'write it in the unit of the column, or take the unit out of the heading',
      place.column,
    );
  return cell;
}

/**
 * A value without the words that say the place is left empty: `10k DNP` is 10k, not fitted.
 * @returns value left out when nothing else stands there
 */
export function valueAndFitted(cell: string): { readonly value?: string; readonly fitted?: false } {
  if (saysNotFitted(cell)) return { fitted: false };
  const words = cell.split(/[\s/,;()[\]_]+/u).filter((word) => word !== '');
  const kept = words.filter((word) => !(/^[A-Z]{3}$/iu.test(word) && saysNotFitted(word)));
  if (words.length < 2 || kept.length === words.length) return cell === '' ? {} : { value: cell };
  return { value: kept.join(' '), fitted: false };
}

/** Factor from the unit of a length to mm. */
export function inMillimetres(value: number, unit: LengthUnit): number {
  return value * LENGTH_UNITS[unit];
}
