import { stringify } from 'csv-stringify/sync';
import { columnsOf, type Row } from './rows.ts';

/**
 * Rows as comma-separated values (RFC 4180): heading line, CRLF, quotation marks where needed. A cell that a
 * spreadsheet would read as a formula gets an apostrophe in front.
 */
export function toCsv(rows: readonly Row[]): string {
  const columns = columnsOf(rows);
  const lines = rows.map((row) => columns.map((column) => guarded(row[column] ?? '')));
  return stringify([columns.map(guarded), ...lines], { record_delimiter: '\r\n' });
}

/** The library's own guard against formulas would take numbers below 0 for one. */
function guarded(cell: string): string {
  return /^[=+@\t\r]|^-(?![\d.]|$)/u.test(cell) ? `'${cell}` : cell;
}
