import { type Findings, LENGTH_UNITS, type LengthUnit, quoted } from '../board-design.ts';
import { saysNotFitted, unitNamed } from './headings.ts';

const NUMBER = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d{1,2})?)\s*([\p{L}µ"″°]*)$/iu;

/**
 * The number of a cell and the unit behind it: `12.7`, `12.7mm`, `500 mil`, `0.5"`; with a decimal comma where commas do not
 * separate cells.
 */
export function numberIn(
  cell: string,
  decimalComma: boolean,
): { readonly value: number; readonly unit?: string } | undefined {
  const tidied = cell.trim().replace(/^\((.*)\)$/u, '$1');
  const pointed = decimalComma ? tidied.replace(/^([+-]?\d+),(\d+)/u, '$1.$2') : tidied;
  const match = pointed.length <= 40 ? NUMBER.exec(pointed) : null;
  if (!match) return undefined;
  const value = Number(match[1]);
  return Number.isFinite(value) ? { value, ...(match[2] ? { unit: match[2] } : {}) } : undefined;
}

/** A length in mm, or a problem. @param unit of the column, where its cells carry none */
export function lengthIn(
  cell: string,
  place: { readonly line: number; readonly column: string; readonly decimalComma: boolean },
  unit: LengthUnit | undefined,
  findings: Findings,
): { readonly value: number; readonly unit?: LengthUnit } | undefined {
  const read = numberIn(cell, place.decimalComma);
  const own = read?.unit === undefined ? unit : /^["″]$/u.test(read.unit) ? 'inch' : unitNamed(read.unit);
  if (!read || (read.unit !== undefined && own === undefined)) {
    findings.problem(
      place.line,
      `${quoted(cell)} is not a length`,
      'write a number, such as 12.7 or 12.7mm',
      place.column,
    );
    return undefined;
  }
  return { value: read.value, ...(own ? { unit: own } : {}) };
}

/** Degrees of a cell, or a problem. */
export function angleIn(
  cell: string,
  place: { readonly line: number; readonly column: string; readonly decimalComma: boolean },
  findings: Findings,
): number | undefined {
  const read = numberIn(cell, place.decimalComma);
  if (read && (read.unit === undefined || /^(?:°|deg|degrees?)$/iu.test(read.unit))) return read.value;
  findings.problem(place.line, `${quoted(cell)} is not an angle`, 'write degrees, such as 90', place.column);
  return undefined;
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
