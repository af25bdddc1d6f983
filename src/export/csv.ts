import { columnsOf, type Row } from './rows.ts';

/**
 * Rows as comma-separated values (RFC 4180): heading line, CRLF, quotation marks where needed. A cell that a
 * spreadsheet would take for a formula gets an apostrophe in front.
 */
export function toCsv(rows: readonly Row[]): string {
  const columns = columnsOf(rows);
  const lines = [columns, ...rows.map((row) => columns.map((column) => row[column] ?? ''))];
  return lines.map((line) => `${line.map(quoted).join(',')}\r\n`).join('');
}

function quoted(cell: string): string {
  const safe = /^[=+@\t\r]|^-(?![\d.]|$)/u.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/u.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
