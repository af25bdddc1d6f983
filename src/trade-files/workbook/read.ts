import { nearNames } from '../../text/near.ts';
import { Findings, quoted, type TradeFile, type TradeReading } from '../board-design.ts';
import { plain } from '../table/headings.ts';
import { isDesignatorHeading, knownBy, readTable, tellUnmapped } from '../table/read.ts';
import {
  type CellFact,
  HEAD_LINES,
  MIN_SCORE,
  plainCell,
  type RawSheet,
  type SheetRow,
  scoreOf,
  unitIn,
} from '../table/sheet.ts';
import { columnOfDesignators, headingOfDesignators } from '../table/suggest.ts';
import { WorkbookFault } from './fault.ts';
import { openWorkbook } from './open-workbook.ts';
import { cellName, type OpenWorkbook, type WorkbookSheet } from './workbook.ts';

// A list in a workbook: which sheet, where its headings are, and what of it is hidden.

/** Rows in which headings are sought, of sheets that nobody named. */
const LOOKED_AT = 80;
/** Hidden rows and columns that a caution names. */
const NAMED = 8;

/** Reads the list in a workbook. It never throws what the workbook has to answer for. */
export async function readWorkbookList(
  bytes: Uint8Array,
  file: string,
  reading: TradeReading,
): Promise<TradeFile> {
  const findings = new Findings(file);
  try {
    const workbook = await openWorkbook(bytes);
    const at = await chosen(workbook, reading, findings);
    const sheet = at === undefined ? undefined : await workbook.read(at);
    if (!sheet) return findings.result('bill-of-materials', []);
    return readSheetList(sheet, reading, findings);
  } catch (error) {
    if (!(error instanceof WorkbookFault)) throw error;
    findings.placing = undefined;
    findings.problem(undefined, error.message, error.fix, error.place);
    return findings.result('bill-of-materials', []);
  }
}

/** Index of the sheet that is meant; undefined with a problem where that is not clear. */
async function chosen(
  workbook: OpenWorkbook,
  reading: TradeReading,
  findings: Findings,
): Promise<number | undefined> {
  const { sheets } = workbook;
  const list = sheets
    .map(({ name, isHidden }, at) => `${at + 1} ${quoted(name)}${isHidden ? ' (hidden)' : ''}`)
    .join(', ');
  const { sheet: said } = reading;
  if (said !== undefined) {
    const at = sheetNamed(said, workbook);
    if (at === undefined) {
      const near = nearNames(
        said,
        sheets.map(({ name }) => name),
      );
      findings.problem(
        undefined,
        `has no sheet ${quoted(said)}; it has ${list}`,
        near.length > 0
          ? `did you mean --sheet ${quoted(near[0] as string)}?`
          : 'say one of these: --sheet NAME, or its number',
      );
      return undefined;
    }
    if (sheets[at]?.isHidden)
      findings.caution(
        undefined,
        `the sheet ${quoted(sheets[at].name)} is hidden`,
        'look whether it is the one meant',
      );
    return at;
  }
  const visible = sheets.flatMap(({ isHidden }, at) => (isHidden ? [] : [at]));
  const hidden = sheets.filter(({ isHidden }) => isHidden).map(({ name }) => quoted(name));
  if (hidden.length > 0)
    findings.caution(
      undefined,
      `has hidden sheets, which are left aside: ${hidden.slice(0, NAMED).join(', ')}`,
      'nothing, unless the list is there: --sheet NAME',
    );
  if (visible.length === 1) return visible[0];
  const lists: number[] = [];
  for (const at of visible) {
    const beginning = await workbook.read(at, LOOKED_AT);
    if (isListOfComponents(rowsOf(beginning), reading)) lists.push(at);
  }
  if (lists.length === 1) {
    const [only] = lists as [number];
    findings.understood.push(
      `sheet ${quoted(sheets[only]?.name ?? '')}, the only one of ${visible.length} with a list of components`,
    );
    return only;
  }
  findings.problem(
    undefined,
    `has ${visible.length === 0 ? 'no visible sheet' : `${visible.length} sheets`}, and lists of components in ${lists.length === 0 ? 'none' : `${lists.length}`} of them: ${list}`,
    'say which is meant: --sheet NAME, or its number',
  );
  return undefined;
}

/** Whether there are headings known here, and designators under them. */
function isListOfComponents(rows: readonly SheetRow[], reading: TradeReading): boolean {
  const at = headingsIn(rows, reading);
  if (at === undefined) return false;
  const given = [...(reading.mapping?.columns ?? []), ...(reading.columns ?? [])];
  const said = new Set(given.flatMap(([heading, field]) => (field === 'designator' ? [plain(heading)] : [])));
  const isNamed = rows[at]?.cells.some((one) => isDesignatorHeading(one) || said.has(plain(one)));
  return isNamed || columnOfDesignators(rows.slice(at + 1)) !== undefined;
}

/** By name, in any case, or by number from 1. */
function sheetNamed(said: string, { sheets }: OpenWorkbook): number | undefined {
  const exact = sheets.findIndex(({ name }) => name === said);
  if (exact >= 0) return exact;
  const lower = said.trim().toLowerCase();
  const like = sheets.flatMap(({ name }, at) => (name.trim().toLowerCase() === lower ? [at] : []));
  if (like.length === 1) return like[0];
  const number = /^\d{1,4}$/u.test(lower) ? Number(lower) : 0;
  return number >= 1 && number <= sheets.length ? number - 1 : undefined;
}

function readSheetList(sheet: WorkbookSheet, reading: TradeReading, findings: Findings): TradeFile {
  const rows = rowsOf(sheet);
  const at = headingsIn(rows, reading);
  if (at === undefined) return withoutHeadings(sheet, rows, reading, findings);
  const head = rows[at] as SheetRow;
  const headings = head.cells;
  const columns = new Map(headings.map((heading, column) => [plain(heading), column] as const).toReversed());
  findings.placing = (line, path) => {
    if (line === undefined) return path === undefined ? sheet.name : `${sheet.name} ${path}`;
    const column = path === undefined ? undefined : (columns.get(plain(path)) ?? columnOfLast(path, columns));
    const cell = column === undefined ? `row ${line}` : cellName(column, line);
    return column === undefined ? `${sheet.name} ${cell}` : `${sheet.name}!${cell}${path ? ` ${path}` : ''}`;
  };
  tellHidden(sheet, head.line, findings);
  const above = rows[at - 1];
  const unit = rows
    .slice(0, at)
    .map(({ cells }) => unitIn(cells.filter((cell) => cell !== '').join(' ')))
    .find((one) => one !== undefined);
  const raw: RawSheet = {
    headings,
    line: head.line,
    rows: rows.slice(at + 1),
    name: sheet.name,
    merges: sheet.merges,
    ...(above && above.line === head.line - 1 ? { above } : {}),
    ...(unit ? { unit } : {}),
  };
  return readTable(raw, reading, findings);
}

/** The column of a heading that was joined of two: `Position X`, by its last words. */
function columnOfLast(path: string, columns: ReadonlyMap<string, number>): number | undefined {
  const words = path.split(' ');
  for (let from = 1; from < words.length; from++) {
    const at = columns.get(plain(words.slice(from).join(' ')));
    if (at !== undefined) return at;
  }
  return undefined;
}

function withoutHeadings(
  sheet: WorkbookSheet,
  rows: readonly SheetRow[],
  reading: TradeReading,
  findings: Findings,
): TradeFile {
  if (reading.headings !== undefined) {
    findings.problem(
      undefined,
      `has nothing in row ${reading.headings}`,
      'say the row of the headings',
      sheet.name,
    );
  } else if (rows.length === 0) {
    findings.problem(undefined, 'is empty', 'say which sheet is meant: --sheet NAME', sheet.name);
  } else if (reading.mapping) tellUnmapped(reading.mapping, sheet.name, findings);
  else {
    const heading = headingOfDesignators(rows);
    findings.problem(
      undefined,
      'has no row of headings known here',
      heading === undefined
        ? 'begin with a row such as Designator, Value, Footprint, or say what yours mean: --column "HEADING=FIELD"'
        : `${quoted(heading)} looks like a column of designators; say what the columns hold: --column "${heading}=designator"`,
      sheet.name,
    );
  }
  return findings.result('bill-of-materials', []);
}

/** Index of the row of headings: the one said, else the one with most known headings. */
function headingsIn(rows: readonly SheetRow[], reading: TradeReading): number | undefined {
  if (reading.headings !== undefined) {
    const at = rows.findIndex(({ line }) => line === reading.headings);
    return at < 0 ? undefined : at;
  }
  const known = knownBy(reading);
  let [best, most] = [-1, MIN_SCORE - 1];
  rows.slice(0, HEAD_LINES).forEach(({ cells }, at) => {
    const score = scoreOf(cells, known);
    if (score > most) [best, most] = [at, score];
  });
  if (best >= 0) return best;
  // One heading is enough where what stands under it agrees.
  const heading = headingOfDesignators(rows);
  return heading !== undefined && (isDesignatorHeading(heading) || reading.mapping)
    ? rows.findIndex(({ cells }) => cells.includes(heading))
    : undefined;
}

function rowsOf(sheet: WorkbookSheet): readonly SheetRow[] {
  return sheet.rows.flatMap(({ line, cells }): SheetRow[] => {
    const texts: string[] = [];
    const facts = new Map<number, CellFact>();
    for (const { column, text, kind, number } of cells) {
      while (texts.length < column) texts.push('');
      texts[column] = kind === undefined ? plainCell(text.trim()) : text.trim();
      if (kind) facts.set(column, { kind, ...(number === undefined ? {} : { number }) });
    }
    if (!texts.some((text) => text !== '') && facts.size === 0) return [];
    return [{ line, cells: texts, ...(facts.size > 0 ? { facts } : {}) }];
  });
}

function tellHidden(sheet: WorkbookSheet, headings: number, findings: Findings): void {
  const rows = sheet.hiddenRows.filter((line) => line > headings);
  if (rows.length > 0)
    findings.caution(
      rows[0],
      `${rows.length === 1 ? 'is hidden in the sheet and read' : `and ${rows.length - 1} more are hidden in the sheet and read`} like the others`,
      'show all rows, and delete those that are not to count',
    );
  const filled = new Set(sheet.rows.flatMap(({ cells }) => cells.map(({ column }) => column)));
  const columns = sheet.hiddenColumns.filter((column) => filled.has(column));
  if (columns.length > 0)
    findings.caution(
      undefined,
      `has hidden columns, which are read like the others: ${columns
        .slice(0, NAMED)
        .map((column) => cellName(column, headings))
        .join(', ')}`,
      'show all columns, and delete those that are not to count',
    );
}
