// A workbook as the readers of lists take it, whatever library reads it.

/** What stands in a cell, beside text. */
export type CellKind = 'number' | 'date' | 'boolean' | 'error' | 'no value';

/** A cell with something in it. */
export interface WorkbookCell {
  /** From 0. */
  readonly column: number;
  /** As the sheet shows it. */
  readonly text: string;
  /** Left out for text. */
  readonly kind?: CellKind;
  /** The number behind what is shown. */
  readonly number?: number;
}

export interface WorkbookRow {
  /** Number of the row in the sheet, from 1. */
  readonly line: number;
  /** From left to right. */
  readonly cells: readonly WorkbookCell[];
}

/** Cells merged into one; rows from 1, columns from 0, both ends included. */
export interface Merge {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

/** A sheet: its rows with something in them. */
export interface WorkbookSheet {
  readonly name: string;
  readonly rows: readonly WorkbookRow[];
  readonly merges: readonly Merge[];
  /** Numbers of hidden rows with something in them. */
  readonly hiddenRows: readonly number[];
  /** Hidden columns, from 0. */
  readonly hiddenColumns: readonly number[];
}

export interface SheetInfo {
  readonly name: string;
  readonly isHidden: boolean;
}

/** A workbook whose sheets are known and not read yet. */
export interface OpenWorkbook {
  readonly sheets: readonly SheetInfo[];
  /**
   * Reads a sheet.
   * @param rows rows with something in them after which no more is read
   * @throws WorkbookFault
   */
  read(sheet: number, rows?: number): Promise<WorkbookSheet>;
}

/** Name of a column: `A` for 0, `AB` for 27. */
export function columnName(column: number): string {
  let name = '';
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26))
    name = String.fromCharCode(65 + ((rest - 1) % 26)) + name;
  return name;
}

/** Name of a cell: `B12`. */
export function cellName(column: number, line: number): string {
  return `${columnName(column)}${line}`;
}
