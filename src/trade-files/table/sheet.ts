import { CsvError, parse } from 'csv-parse/sync';
import { type Findings, type LengthUnit, quoted } from '../board-design.ts';
import { headingMeaning, unitNamed } from './headings.ts';

// A list as a sheet of cells: where its headings are, what separates cells, what stands above.

/** A row of cells and its line in the file, from 1. */
export interface SheetRow {
  readonly line: number;
  readonly cells: readonly string[];
}

export interface Sheet {
  readonly headings: readonly string[];
  /** Line of the headings. */
  readonly line: number;
  readonly rows: readonly SheetRow[];
  readonly separator: ',' | ';' | '\t' | ' ';
  /** Unit that the lines above the headings name. */
  readonly unit?: LengthUnit;
}

/** Lines among which the headings are sought, and characters of each that are looked at. */
const HEAD_LINES = 60;
const HEAD_CHARACTERS = 4_000;
/** A known heading counts 2 and an ambiguous one 1; so much makes a line of headings. Between blanks, where prose is too, half are known. */
const MIN_SCORE = 3;
const MAX_COLUMNS = 300;

/**
 * The sheet in a text: comma, semicolon or tab between cells after RFC 4180, or blanks as in reports for people. Headings are
 * the line among the first {@link HEAD_LINES} with most known headings, and may begin with `#`.
 * @param known whether a heading counts as known beyond the synonyms
 */
export function readSheet(
  text: string,
  known: (heading: string) => boolean,
  findings: Findings,
): Sheet | undefined {
  const head = headIn(text, known);
  if (!head) return undefined;
  const { separator, line } = head;
  const unit = unitAbove(text, line);
  const rows = separator === ' ' ? blankSeparated(text, head, findings) : separated(text, head, findings);
  if (!rows) return undefined;
  return { headings: head.headings, line, rows, separator, ...(unit ? { unit } : {}) };
}

interface Head {
  readonly separator: Sheet['separator'];
  readonly line: number;
  readonly headings: readonly string[];
  /** Where headings start in their line, for blank-separated reports. */
  readonly starts: readonly number[];
  readonly offset: number;
}

function headIn(text: string, known: (heading: string) => boolean): Head | undefined {
  let best: (Head & { readonly score: number }) | undefined;
  let offset = 0;
  for (let line = 1; line <= HEAD_LINES && offset < text.length; line++) {
    const end = endOfLine(text, offset);
    const content = text
      .slice(offset, Math.min(end, offset + HEAD_CHARACTERS))
      .replace(/^\s*#+\s*/u, (mark) => ' '.repeat(mark.length));
    for (const separator of [',', ';', '\t', ' '] as const) {
      const cells = separator === ' ' ? headingsByBlanks(content, known) : splitQuoted(content, separator);
      const headings = cells.map(({ text: one }) => one);
      const score = headings.reduce((sum, one) => sum + worth(one, known), 0);
      if (
        headings.length > MAX_COLUMNS ||
        score < MIN_SCORE ||
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

function worth(heading: string, known: (heading: string) => boolean): number {
  const { kind } = headingMeaning(heading);
  return known(heading) || kind === 'field' ? 2 : kind === 'ambiguous' ? 1 : 0;
}

interface Piece {
  readonly text: string;
  readonly start: number;
}

/** Cells of one line; quotation marks keep separators inside. */
function splitQuoted(line: string, separator: string): readonly Piece[] {
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
    const content = text.slice(offset, Math.min(end, offset + HEAD_CHARACTERS));
    const named =
      /\bunits?\b(?:\s+used)?\s*[:=]?\s*["']?([\p{L}µ]+)/iu.exec(content) ??
      /\bin\s+(mils?|mm|inch(?:es)?)\b/iu.exec(content);
    const unit = named && unitNamed(named[1] as string);
    if (unit) return unit;
    offset = nextLine(text, end);
  }
  return undefined;
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
      .map(({ record, info }) => ({ line: info.lines + line - 1, cells: record }))
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
