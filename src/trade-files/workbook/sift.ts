import type { Readable } from 'node:stream';
import { WorkbookFault } from './fault.ts';
import { Enough, escaped, readPart } from './parts.ts';
import { cellName, type Merge } from './workbook.ts';

// A sheet as it is unpacked, sifted: what a list is made of goes on, and formats, pictures, empty cells and empty rows do not, so
// that what a library then reads is as small as the list. SpreadsheetML: ECMA-376, Part 1, 18.3.

/** Rows and cells with something in them, and columns, that are read of a sheet. */
const MOST_ROWS = 100_000;
const MOST_CELLS = 300_000;
const MOST_COLUMNS = 300;
/** Rows of a sheet (ECMA-376 sets no bound; programs do). */
const LAST_ROW = 1_048_576;
const LAST_COLUMN = 16_384;
const MOST_MERGES = 20_000;
/** Characters of all texts together. */
const MOST_TEXT = 32 * 1024 * 1024;
/** Characters that a cell may have in the programs that write workbooks. */
export const MOST_IN_CELL = 32_767;

/** A sheet that was sifted. */
export interface Sifted {
  /** A worksheet of the rows with something in them, numbered from 1 without gaps. */
  readonly xml: string;
  /** Numbers that these rows have in the sheet. */
  readonly lines: readonly number[];
  readonly merges: readonly Merge[];
  readonly hiddenRows: readonly number[];
  /** From 0. */
  readonly hiddenColumns: readonly number[];
}

interface Cell {
  readonly column: number;
  readonly type: string;
  readonly style: string | undefined;
  value?: string;
  formula?: boolean;
  text?: string;
}

/**
 * @param texts number of shared texts in the workbook
 * @param most rows with something in them after which it stops
 * @throws WorkbookFault
 */
export async function siftSheet(
  stream: Readable,
  sheet: string,
  texts: number,
  most: number = MOST_ROWS + 1,
): Promise<Sifted> {
  const pieces: string[] = [];
  const lines: number[] = [];
  const merges: Merge[] = [];
  const hiddenRows: number[] = [];
  const hiddenColumns: number[] = [];
  let [cells, characters, line, isHidden] = [0, 0, 0, false];
  let row: Cell[] = [];
  let cell: Cell | undefined;
  let taking: 'value' | 'text' | undefined;
  /** Inside the reading aid of a text, which is no part of it. */
  let aside = 0;
  const at = (column: number) => `${sheet}!${cellName(column, line)}`;

  const endCell = (done: Cell) => {
    if (done.value === undefined && done.text === undefined && !done.formula) return;
    if (done.type !== 'inlineStr' && !done.formula && (done.value ?? '') === '') return;
    if (done.type === 'inlineStr' && (done.text ?? '') === '') return;
    if (done.column >= MOST_COLUMNS)
      throw new WorkbookFault(
        `has something right of its ${MOST_COLUMNS} columns that are read`,
        'delete what stands there, or move the list to the left',
        at(done.column),
      );
    if (done.type === 's' && !(Number(done.value) < texts))
      throw new WorkbookFault(
        'names a shared text that the workbook does not have',
        'type the cell again and save',
        at(done.column),
      );
    const last = row.at(-1);
    if (last && last.column >= done.column)
      throw new WorkbookFault('is there twice, or out of order', 'save it again', at(done.column));
    row.push(done);
  };
  const endRow = () => {
    if (row.length === 0) return;
    cells += row.length;
    lines.push(line);
    if (lines.length > MOST_ROWS || cells > MOST_CELLS)
      throw new WorkbookFault(
        `has more than ${lines.length > MOST_ROWS ? `${MOST_ROWS.toLocaleString('en')} rows` : `${MOST_CELLS.toLocaleString('en')} cells`} with something in them`,
        'save the list of one device in a workbook of its own',
        sheet,
      );
    if (isHidden) hiddenRows.push(line);
    const written = row.map((one) => {
      const name = cellName(one.column, lines.length);
      const type = one.formula && one.value === undefined ? 'n' : one.type;
      const style = one.style === undefined ? '' : ` s="${escaped(one.style)}"`;
      const formula = one.formula ? '<f>1</f>' : '';
      const text = one.text ?? '';
      characters += text.length;
      return one.type === 'inlineStr'
        ? `<c r="${name}" t="inlineStr"${style}><is><t xml:space="preserve">${escaped(text)}</t></is></c>`
        : `<c r="${name}" t="${escaped(type)}"${style}>${formula}${one.value === undefined ? '' : `<v>${escaped(one.value)}</v>`}</c>`;
    });
    if (characters > MOST_TEXT)
      throw new WorkbookFault(
        `has more than ${MOST_TEXT / 1024 ** 2} million characters of text`,
        'save the list alone in a workbook of its own',
        sheet,
      );
    pieces.push(`<row r="${lines.length}">${written.join('')}</row>`);
    if (lines.length >= most) throw new Enough();
  };

  await readPart(stream, sheet, {
    open(name, attributes, within) {
      switch (name) {
        case 'col':
          if (within === 'cols' && isTrue(attributes.hidden))
            hiddenColumns.push(...columnsOf(attributes.min, attributes.max));
          return;
        case 'row':
          if (within !== 'sheetData') return;
          line = rowOf(attributes.r, line, sheet);
          isHidden = isTrue(attributes.hidden);
          row = [];
          return;
        case 'c': {
          if (within !== 'row') return;
          const next = (row.at(-1)?.column ?? -1) + 1;
          const column =
            attributes.r === undefined ? (cell?.column ?? next - 1) + 1 : columnOf(attributes.r, line, sheet);
          cell = { column, type: attributes.t ?? 'n', style: attributes.s };
          return;
        }
        case 'v':
          if (cell && within === 'c') {
            taking = 'value';
            cell.value = '';
          }
          return;
        case 'f':
          if (cell && within === 'c') cell.formula = true;
          return;
        case 'rPh':
          aside++;
          return;
        case 't':
          if (cell && aside === 0 && (within === 'is' || within === 'r')) {
            taking = 'text';
            cell.text ??= '';
          }
          return;
        case 'mergeCell': {
          const merge = mergeOf(attributes.ref);
          if (merge) merges.push(merge);
          if (merges.length > MOST_MERGES)
            throw new WorkbookFault(
              `has more than ${MOST_MERGES.toLocaleString('en')} merged cells`,
              'save the list alone, without merged cells',
              sheet,
            );
        }
      }
    },
    text(text) {
      if (!cell || !taking) return;
      // What is longer than a cell can be is cut just beyond, so that it is still seen to be.
      if (taking === 'value') cell.value = `${cell.value}${text}`.slice(0, MOST_IN_CELL + 1);
      else cell.text = `${cell.text}${text}`.slice(0, MOST_IN_CELL + 1);
    },
    close(name, within) {
      if (name === 'v' || name === 't') taking = undefined;
      else if (name === 'rPh') aside--;
      else if (name === 'c' && cell && within === 'row') endCell(cell);
      else if (name === 'row' && within === 'sheetData') {
        endRow();
        cell = undefined;
      }
    },
  });
  const xml = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${pieces.join('')}</sheetData></worksheet>`;
  return { xml, lines, merges, hiddenRows, hiddenColumns };
}

function isTrue(text: string | undefined): boolean {
  return text === '1' || text === 'true';
}

function rowOf(written: string | undefined, before: number, sheet: string): number {
  const line = written === undefined ? before + 1 : Number(written);
  if (Number.isInteger(line) && line > before && line <= LAST_ROW) return line;
  throw new WorkbookFault(
    `has a row ${JSON.stringify(String(written).slice(0, 20))} behind row ${before}`,
    'save it again in a spreadsheet program',
    sheet,
  );
}

const REFERENCE = /^([A-Za-z]{1,3})(\d{1,7})$/u;

/** From 0. */
function columnOf(reference: string, line: number, sheet: string): number {
  const match = REFERENCE.exec(reference);
  const column = match ? columnNumber(match[1] as string) : LAST_COLUMN;
  if (match && Number(match[2]) === line && column < LAST_COLUMN) return column;
  throw new WorkbookFault(
    `has a cell ${JSON.stringify(reference.slice(0, 20))} in row ${line}`,
    'save it again in a spreadsheet program',
    sheet,
  );
}

function columnNumber(letters: string): number {
  let column = 0;
  for (const letter of letters.toUpperCase()) column = column * 26 + letter.charCodeAt(0) - 64;
  return column - 1;
}

function columnsOf(min: string | undefined, max: string | undefined): readonly number[] {
  const [from, to] = [Number(min), Math.min(Number(max), MOST_COLUMNS)];
  if (!Number.isInteger(from) || !Number.isInteger(to) || from < 1) return [];
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from - 1 + i);
}

function mergeOf(reference: string | undefined): Merge | undefined {
  const [first, last] = (reference ?? '').split(':').map((one) => REFERENCE.exec(one));
  if (!first || !last) return undefined;
  return {
    left: columnNumber(first[1] as string),
    top: Number(first[2]),
    right: columnNumber(last[1] as string),
    bottom: Number(last[2]),
  };
}
