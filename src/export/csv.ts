import { stringify } from 'csv-stringify/sync';
import { plainText } from '../text/plain-text.ts';
import { columnsOf, type Row } from './rows.ts';

/**
 * Rows as comma-separated values (RFC 4180): heading line, CRLF, quotation marks where needed. Where a spreadsheet would
 * begin to read a formula stands an apostrophe, a number aside; control characters, which steer a terminal, are written out.
 * @param heading columns of a table without rows, which has none to name them
 */
export function toCsv(rows: readonly Row[], heading: readonly string[] = []): string {
  const columns = rows.length === 0 ? heading : columnsOf(rows);
  if (columns.length === 0) return '';
  const lines = rows.map((row) => columns.map((column) => neutralised(row[column] ?? '')));
  // A cell with a line feed alone would end the record for most readers.
  return stringify([columns.map(neutralised), ...lines], {
    record_delimiter: '\r\n',
    quoted_match: /[\r\n]/u,
  });
}

/** How a formula begins, blanks apart. Signs of full width are taken for the usual ones. */
const FORMULA = /^[=+@\-＝＋－＠]/u;
/** What begins with a sign and is no formula: the sign alone, or a number, alone or with a unit of letters. */
const NUMBER = /^[+-](?:(?:\d+(?:[.,]\d+)*|\.\d+)(?:[eE][+-]?\d+)?(?:[ \u00A0]?[\p{L}°%µ]+)?)?$/u;
/** Where spreadsheets of countries with decimal commas begin a new cell, quotation marks or not. */
const NEW_CELL = /([;\t\n])/u;
const HIDDEN_BLANKS = /[\u200B-\u200D\u2060\uFEFF]/gu;

/** Whether a spreadsheet would begin to read a formula somewhere in a cell. */
export function isFormula(cell: string): boolean {
  const text = plainText(cell);
  return neutralised(text) !== text;
}

/** A cell in which no spreadsheet reads a formula and nothing steers a terminal. */
export function neutralised(cell: string): string {
  const text = plainText(cell);
  if (!/[=+@\-＝＋－＠\t]/u.test(text)) return text;
  return text
    .split(NEW_CELL)
    .map((piece) => {
      const seen = piece.replaceAll(HIDDEN_BLANKS, '').trim();
      return FORMULA.test(seen) && !NUMBER.test(seen) ? `'${piece}` : piece;
    })
    .join('')
    .replace(/^(?=\t)/u, "'");
}
