import { CsvError, parse } from 'csv-parse/sync';
import { type Findings, type LengthUnit, quoted } from '../board-design.ts';
import type { CellKind, Merge } from '../workbook/workbook.ts';
import { headingMeaning, unitNamed } from './headings.ts';

// A list as a sheet of cells: where its headings are, what separates cells, what stands above.

/** What a cell of a workbook is, where it is no text. */
export interface CellFact {
  readonly kind: CellKind;
  readonly number?: number;
}

/** A row of cells and its line in the file, from 1. */
export interface SheetRow {
  readonly line: number;
  readonly cells: readonly string[];
  /** By column. */
  readonly facts?: ReadonlyMap<number, CellFact>;
}

/** A list before its headings are understood. */
export interface RawSheet {
  readonly headings: readonly string[];
  /** Line of the headings. */
  readonly line: number;
  /** The row above the headings, where it may go with them. */
  readonly above?: SheetRow;
  readonly rows: readonly SheetRow[];
  readonly separator?: Separator;
  /** Unit that the lines above the headings name. */
  readonly unit?: LengthUnit;
  /** Name of the sheet in a workbook. */
  readonly name?: string;
  readonly merges?: readonly Merge[];
}

export type Separator = ',' | ';' | '\t' | '|' | ' ';

/** A list: one heading for each column, and rows of cells. */
export interface Sheet extends RawSheet {
  /** Units that a row under the headings names, by column, with the line of that row. */
  readonly units: ReadonlyMap<number, { readonly written: string; readonly line: number }>;
  /** Rows under the headings that belong to them. */
  readonly ofHeadings: readonly { readonly line: number; readonly why: string }[];
}

/** Lines among which the headings are sought, and characters of each that are looked at. */
export const HEAD_LINES = 60;
const HEAD_CHARACTERS = 4_000;
/** A known heading counts 2 and an ambiguous one 1; so much makes a line of headings. Between blanks, where prose is too, half are known. */
export const MIN_SCORE = 3;
const MAX_COLUMNS = 300;

/**
 * The sheet in a text: comma, semicolon or tab between cells after RFC 4180, or blanks as in reports for people. Headings are
 * the line among the first {@link HEAD_LINES} with most known headings, and may begin with `#`.
 * @param known whether a heading counts as known beyond the synonyms
 * @param headings line of the headings, where somebody said it
 */
export function readSheet(
  text: string,
  known: (heading: string) => boolean,
  findings: Findings,
  headings?: number,
): RawSheet | undefined {
  const head = headIn(text, known, headings);
  if (!head) return undefined;
  const { separator, line } = head;
  const unit = unitAbove(text, line);
  const rows = separator === ' ' ? blankSeparated(text, head, findings) : separated(text, head, findings);
  if (!rows) return undefined;
  const above = separator === ' ' ? undefined : rowAbove(text, head);
  return {
    headings: head.headings,
    line,
    rows,
    separator,
    ...(above ? { above } : {}),
    ...(unit ? { unit } : {}),
  };
}

/** The line just above the headings, in cells. */
function rowAbove(text: string, { offset, line, separator }: Head): SheetRow | undefined {
  const end = offset - (text[offset - 2] === '\r' ? 2 : 1);
  if (end <= 0) return undefined;
  const start = Math.max(text.lastIndexOf('\n', end - 1), text.lastIndexOf('\r', end - 1)) + 1;
  const content = text.slice(start, Math.min(end, start + HEAD_CHARACTERS));
  return { line: line - 1, cells: splitQuoted(content, separator).map((piece) => piece.text) };
}

interface Head {
  readonly separator: Separator;
  readonly line: number;
  readonly headings: readonly string[];
  /** Where headings start in their line, for blank-separated reports. */
  readonly starts: readonly number[];
  readonly offset: number;
}

function headIn(text: string, known: (heading: string) => boolean, only?: number): Head | undefined {
  let best: (Head & { readonly score: number }) | undefined;
  let offset = 0;
  for (let line = 1; line <= Math.max(HEAD_LINES, only ?? 0) && offset < text.length; line++) {
    if (only !== undefined && line !== only) {
      offset = nextLine(text, endOfLine(text, offset));
      continue;
    }
    const end = endOfLine(text, offset);
    const content = text
      .slice(offset, Math.min(end, offset + HEAD_CHARACTERS))
      .replace(/^\s*#+\s*/u, (mark) => ' '.repeat(mark.length));
    for (const separator of [',', ';', '\t', '|', ' '] as const) {
      const cells = separator === ' ' ? headingsByBlanks(content, known) : splitQuoted(content, separator);
      const headings = cells.map(({ text: one }) => one);
      const score =
        scoreOf(headings, known) + (only === undefined || separator === ' ' ? 0 : headings.length);
      if (
        headings.length > MAX_COLUMNS ||
        score < (only === undefined ? MIN_SCORE : 1) ||
        (separator === ' ' && score < headings.length) ||
        score <= (best?.score ?? 0)
      )
        continue;
      best = { separator, line, headings, starts: cells.map(({ start }) => start), offset, score };
    }
    offset = nextLine(text, end);
  }
  return best;
}

/** How much a row looks like headings; {@link MIN_SCORE} at least where it is one. */
export function scoreOf(headings: readonly string[], known: (heading: string) => boolean): number {
  return headings.reduce((sum, one) => sum + worth(one, known), 0);
}

function worth(heading: string, known: (heading: string) => boolean): number {
  const { kind } = headingMeaning(heading);
  return known(heading) || kind === 'field' ? 2 : kind === 'ambiguous' ? 1 : 0;
}

interface Piece {
  readonly text: string;
  readonly start: number;
}

/** Cells of one line; quotation marks keep separators inside. */
export function splitQuoted(line: string, separator: string): readonly Piece[] {
  const pieces: Piece[] = [];
  let start = 0;
  let isQuoted = false;
  for (let i = 0; i <= line.length; i++) {
    if (line[i] === '"') isQuoted = !isQuoted;
    if (i < line.length && (isQuoted || line[i] !== separator)) continue;
    pieces.push({ text: unquoted(line.slice(start, i)), start });
    start = i + 1;
  }
  while (pieces.length > 1 && pieces.at(-1)?.text === '') pieces.pop();
  return pieces;
}

function unquoted(cell: string): string {
  const trimmed = cell.trim();
  return /^".*"$/su.test(trimmed) ? trimmed.slice(1, -1).replaceAll('""', '"').trim() : trimmed;
}

const WORD = /"(?:[^"]|"")*"|\S+/gu;

/** Headings between blanks, of up to three words where those together are a known heading. */
function headingsByBlanks(line: string, known: (heading: string) => boolean): readonly Piece[] {
  const words = [...line.matchAll(WORD)]
    .slice(0, MAX_COLUMNS)
    .map((word) => ({ text: unquoted(word[0]), start: word.index }));
  const pieces: Piece[] = [];
  for (let i = 0; i < words.length; ) {
    const { start } = words[i] as Piece;
    const length = [3, 2].find((count) => {
      const together = words.slice(i, i + count).map(({ text }) => text);
      const joined = together.join(' ');
      return together.length === count && (known(joined) || headingMeaning(joined).kind === 'field');
    });
    pieces.push({
      text: words
        .slice(i, i + (length ?? 1))
        .map(({ text }) => text)
        .join(' '),
      start,
    });
    i += length ?? 1;
  }
  return pieces;
}

/** `Unit = mm`, `Units used: mil`, `X,Y in mil` in the lines above the headings. */
function unitAbove(text: string, line: number): LengthUnit | undefined {
  let offset = 0;
  for (let at = 1; at < line; at++) {
    const end = endOfLine(text, offset);
    const unit = unitIn(text.slice(offset, Math.min(end, offset + HEAD_CHARACTERS)));
    if (unit) return unit;
    offset = nextLine(text, end);
  }
  return undefined;
}

/** The unit of lengths that a line names. */
export function unitIn(line: string): LengthUnit | undefined {
  const named: RegExpExecArray | null =
    /\bunits?\b(?:\s+used)?\s*[:=]?\s*["']?([\p{L}µ]+)/iu.exec(line) ??
    /\bin\s+(mils?|mm|inch(?:es)?)\b/iu.exec(line);
  return named?.[1] === undefined ? undefined : unitNamed(named[1]);
}

function separated(
  text: string,
  { separator, offset, line }: Head,
  findings: Findings,
): readonly SheetRow[] | undefined {
  try {
    // The types of csv-parse do not know that `info` wraps each record.
    const records = parse(text.slice(offset), {
      delimiter: separator,
      info: true,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      trim: true,
    }) as unknown as readonly { record: string[]; info: { lines: number } }[];
    return records
      .slice(1)
      .map(({ record, info }) => ({ line: info.lines + line - 1, cells: record.map(plainCell) }))
      .filter(({ cells }) => !cells[0]?.startsWith('#') && cells.some((cell) => cell !== ''));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const at = Number(error.lines);
    findings.problem(
      Number.isFinite(at) ? at + line - 1 : undefined,
      `is not a valid CSV: ${error.message}`,
      'close every quotation mark, or save the sheet as CSV again',
    );
    return undefined;
  }
}

/** A cell that is marked as text for spreadsheets, ="0402" or '0402, without the mark. */
export function plainCell(cell: string): string {
  const formula = /^="([^"]*)"$/u.exec(cell);
  if (formula) return formula[1] as string;
  return /^'[\p{L}\d=+@-]/u.test(cell) && !cell.endsWith("'") ? cell.slice(1) : cell;
}

/** Rows between blanks: by words where each heading has one, else by the places where the headings start. */
function blankSeparated(text: string, head: Head, findings: Findings): readonly SheetRow[] {
  const rows: SheetRow[] = [];
  const count = head.headings.length;
  let line = head.line;
  let offset = nextLine(text, endOfLine(text, head.offset));
  while (offset < text.length) {
    line++;
    const end = endOfLine(text, offset);
    const content = text.slice(offset, end);
    offset = nextLine(text, end);
    const trimmed = content.trim();
    // Remarks, blank lines, and rulings such as ---- ---- are no rows.
    if (trimmed.startsWith('#') || /^[-=+_|\s]*$/u.test(trimmed)) continue;
    const words =
      content.length > HEAD_CHARACTERS ? [] : [...content.matchAll(WORD)].map(([word]) => unquoted(word));
    const cells = words.length === count ? words : slicedAt(content, head.starts);
    if (cells) rows.push({ line, cells });
    else {
      findings.problem(
        line,
        `has ${words.length} words under ${count} headings: ${quoted(content)}`,
        'export the list as CSV, where blanks in a cell do no harm',
      );
    }
  }
  return rows;
}

/** Cells by the columns in which headings start; undefined when a cell runs over such a place. */
function slicedAt(line: string, starts: readonly number[]): readonly string[] | undefined {
  if (starts.some((start) => start > 0 && start < line.length && !/\s/u.test(line[start - 1] as string)))
    return undefined;
  return starts.map((start, i) => unquoted(line.slice(start, starts[i + 1] ?? line.length)));
}

function endOfLine(text: string, offset: number): number {
  const lf = text.indexOf('\n', offset);
  const end = lf === -1 ? text.length : lf;
  const cr = text.lastIndexOf('\r', end);
  if (lf !== -1) return cr === lf - 1 && cr >= offset ? cr : end;
  return end;
}

function nextLine(text: string, end: number): number {
  if (text[end] === '\r' && text[end + 1] === '\n') return end + 2;
  return end + 1;
}
