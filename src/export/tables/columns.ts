import { isFormula, neutralised } from '../csv.ts';
import type { Loss } from '../graph/things.ts';

/** What the cells of a column hold. `id`, `term` and closed words never look like a formula; `text` may. */
export type CellKind = 'id' | 'word' | 'text' | 'number' | 'count' | 'boolean' | 'date' | 'json';

/** A column of an exported table. */
export interface Column<R> {
  readonly name: string;
  readonly kind: CellKind;
  readonly says: string;
  /** Unit of its numbers: mm, deg. */
  readonly unit?: 'mm' | 'deg';
  readonly isRequired?: true;
  /** Where a cell holds several: what stands between them. */
  readonly separator?: string;
  /** Closed list of its words. */
  readonly words?: readonly string[];
  readonly of: (row: R) => Cell;
}

/** Empty where nothing is on record. */
export type Cell = string | number | boolean | object | readonly string[] | undefined;

/** A table of an export. */
export interface ExportTable<R = never> {
  /** File name, `nodes.csv`. */
  readonly file: string;
  readonly title: string;
  readonly says: string;
  readonly columns: readonly Column<R>[];
  readonly primaryKey: readonly string[];
  /** Columns whose ids are those of nodes. */
  readonly namesNodes: readonly string[];
}

/**
 * A row as a line of RFC 4180, with CRLF. Texts that spreadsheets would take for a formula get an apostrophe; ids, words and numbers
 * are never changed.
 * @param lose told of every text that is not as on record
 */
export function lineOf<R>(
  columns: readonly Column<R>[],
  row: R,
  record: string,
  lose: (loss: Loss) => void,
): string {
  const cells = columns.map((column) => {
    const value = column.of(row);
    if (value === undefined || value === null) return '';
    const text = written(column, value);
    const parted = listOf(column, value).find((one) => one.includes(column.separator as string));
    if (parted)
      lose({ record, field: column.name, why: `${parted} has in it what stands between two of the list` });
    if (column.kind !== 'text') return quoted(text);
    const safe = neutralised(text);
    if (safe !== text) lose({ record, field: column.name, why: whyChanged(text) });
    return quoted(safe);
  });
  return `${cells.join(',')}\r\n`;
}

/** The heading line. */
export function headingOf(columns: readonly Column<never>[]): string {
  return `${columns.map(({ name }) => name).join(',')}\r\n`;
}

function written<R>({ kind, separator }: Column<R>, value: Exclude<Cell, undefined>): string {
  if (kind === 'json') return json(value);
  if (Array.isArray(value)) return value.join(separator);
  return String(value);
}

function listOf<R>({ separator }: Column<R>, value: Exclude<Cell, undefined>): readonly string[] {
  return separator !== undefined && Array.isArray(value) ? (value as readonly string[]) : [];
}

/** JSON on one line in which no spreadsheet finds a formula or a new cell, and no character steers a terminal; it reads back as it was. */
function json(value: unknown): string {
  return JSON.stringify(value).replaceAll(
    // A semicolon stands inside of strings alone. The rest are the characters that `plainText` writes out.
    /[;\u007F-\u009F\u202A-\u202E\u2066-\u2069]/gu,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** RFC 4180, section 2, rules 5 to 7. */
function quoted(cell: string): string {
  return /[",\r\n]/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

function whyChanged(text: string): string {
  return isFormula(text)
    ? 'a spreadsheet would take it for a formula; an apostrophe stands ahead of it'
    : 'it has characters that steer a terminal; they are written out';
}
