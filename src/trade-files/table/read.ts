import { didYouMean } from '../../text/near.ts';
import { Findings, quoted, type TradeFile, type TradeFormat, type TradeReading } from '../board-design.ts';
import { checkGivenColumns, settleColumns } from './columns.ts';
import { decimalSignsOf } from './decimals.ts';
import { headingMeaning, PLACES, plain } from './headings.ts';
import { checkUnits, understoodHeadings } from './headings-rows.ts';
import { ListReader } from './list-reader.ts';
import { rowsOf } from './rows.ts';
import { type RawSheet, readSheet, type Separator, splitQuoted } from './sheet.ts';
import { columnOfDesignators, headingOfDesignators } from './suggest.ts';

// Bills of materials and placement lists. Both are lists of components by designator; one with coordinates is a placement
// list, whatever else it says.

/** Rows that a report shows, and characters of a cell in it. */
const FIRST_ROWS = 5;
const SHOWN = 60;

/** Whether a text is a list with headings known here. */
export function isList(text: string, reading: TradeReading = {}): boolean {
  return (
    readSheet(text.slice(0, 100_000), knownBy(reading), new Findings(''), reading.headings) !== undefined
  );
}

/** Reads a bill of materials or a placement list. @param encoding how its bytes became text, with the reason */
export function readList(
  text: string,
  file: string,
  reading: TradeReading = {},
  findings = new Findings(file),
  encoding?: string,
): TradeFile {
  const raw = readSheet(text, knownBy(reading), findings, reading.headings);
  if (raw) return readTable(raw, reading, findings, encoding);
  if (findings.problems.length === 0) {
    findings.problem(
      reading.headings,
      'has no line of headings known here',
      'start with a line such as "Designator,Value,Footprint", or say what yours mean with --column "HEADING=FIELD"',
    );
  }
  return findings.result('bill-of-materials', []);
}

/**
 * A list that has a column of designators and no other heading known here, or none; undefined for all other texts.
 * @param findings of the text so far
 */
export function listByDesignators(
  text: string,
  reading: TradeReading,
  findings: Findings,
  encoding: string,
): TradeFile | undefined {
  const lines = text.slice(0, LOOKED_AT).split(/\r\n?|\n/u);
  for (const separator of [',', ';', '\t', '|'] as const) {
    const rows = lines.map((line) => ({ cells: splitQuoted(line, separator).map((piece) => piece.text) }));
    const wide = rows.filter(({ cells }) => cells.length > 1);
    const heading = wide.length > 2 ? headingOfDesignators(wide) : undefined;
    if (heading === undefined) continue;
    const at = rows.findIndex(({ cells }) => cells.includes(heading));
    if (isDesignatorHeading(heading) || reading.mapping) {
      const raw = readSheet(text, knownBy(reading), findings, at + 1);
      if (raw) return readTable(raw, reading, findings, encoding);
    }
    findings.problem(
      at + 1,
      'has no line of headings known here',
      `${quoted(heading)} looks like the heading of designators; say what the columns hold: --column "${heading}=designator"`,
      heading,
    );
    return findings.result('bill-of-materials', []);
  }
  if (!reading.mapping) return undefined;
  tellUnmapped(reading.mapping, undefined, findings);
  return findings.result('bill-of-materials', []);
}

/** Whether a heading means designators whatever else the list has. */
export function isDesignatorHeading(heading: string): boolean {
  const meaning = headingMeaning(heading);
  return meaning.kind === 'field' && meaning.field === 'designator';
}

/** Tells that nothing in a list is a heading of the list mapping that it was to be read by. */
export function tellUnmapped(
  { id, columns }: NonNullable<TradeReading['mapping']>,
  place: string | undefined,
  findings: Findings,
): void {
  const headings = [...columns.keys()].map(quoted);
  findings.problem(
    undefined,
    `has no row with the headings of the list mapping ${id}: ${headings.slice(0, 5).join(', ')}${headings.length > 5 ? ' …' : ''}`,
    'look whether it is a list of that kind, or read it without the mapping',
    place,
  );
}

/** Characters in which a column of designators is sought. */
const LOOKED_AT = 20_000;

/** Reads the list in a table of cells. */
export function readTable(
  raw: RawSheet,
  reading: TradeReading,
  findings: Findings,
  encoding?: string,
): TradeFile {
  const sheet = understoodHeadings(raw, knownBy(reading), findings);
  const { mapping, columns: own = new Map<string, string>() } = reading;
  const given = new Map([...(mapping?.columns ?? []), ...own]);
  checkGivenColumns(sheet, given, findings, mapping);
  checkUnits(sheet, findings);
  const columns = settleColumns(sheet, given, findings);
  const place = PLACES.find(([x, y]) => columns.byField.has(x) && columns.byField.has(y));
  const format: TradeFormat = place ? 'placement' : 'bill-of-materials';
  if (sheet.rows.length === 0) findings.problem(sheet.line, 'has headings and no rows', 'export it again');
  if (!columns.byField.has('designator')) {
    const at = columnOfDesignators(sheet.rows);
    const heading = sheet.headings[at ?? 0] || sheet.headings.find((one) => one !== '') || 'HEADING';
    findings.problem(
      sheet.line,
      'has no column of designators',
      at === undefined
        ? (didYouMean('designator', sheet.headings) ?? `say which it is: --column "${heading}=designator"`)
        : `"${heading}" looks like one; say so: --column "${heading}=designator"`,
    );
    return findings.result(format, [], columns.readings);
  }
  const decimals = decimalSignsOf(sheet, columns, reading.decimal, findings);
  const rows = rowsOf(sheet, columns, findings);
  const reader = new ListReader(sheet, columns, reading, findings, place, { rows, decimals });
  const boards = reader.boards();
  const left = new Set(rows.skipped.map(({ line }) => line));
  const taken = rows.rows.filter(({ line }) => !left.has(line));
  const signs = new Set(decimals.values());
  const [sign] = signs;
  return findings.result(format, boards, columns.readings, {
    ...(sheet.name === undefined ? {} : { sheet: sheet.name }),
    headings: sheet.line,
    ...(sheet.separator ? { separator: SEPARATORS[sheet.separator] } : {}),
    ...(encoding === undefined ? {} : { encoding }),
    ...(signs.size === 1 && sign ? { decimalSign: sign } : {}),
    rows: taken.length,
    firstRows: taken.slice(0, FIRST_ROWS).map(({ line, cells }) => ({
      line,
      cells: sheet.headings.map((_, at) => shownCell(cells[at] ?? '')),
    })),
    skipped: rows.skipped.toSorted((a, b) => a.line - b.line),
  });
}

const SEPARATORS = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'bar',
  ' ': 'blanks',
} as const satisfies Record<Separator, string>;

function shownCell(cell: string): string {
  const line = cell.replace(/\s+/gu, ' ');
  return line.length > SHOWN ? `${line.slice(0, SHOWN - 1)}…` : line;
}

/** Whether a heading is one that the caller told of. */
export function knownBy({ columns, mapping }: TradeReading): (heading: string) => boolean {
  const given = new Set([...(columns?.keys() ?? []), ...(mapping?.columns.keys() ?? [])].map(plain));
  return (heading) => given.has(plain(heading));
}
