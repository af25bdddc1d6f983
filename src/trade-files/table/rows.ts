import { type Findings, quoted, type SkippedRow } from '../board-design.ts';
import type { Columns } from './columns.ts';
import { readDesignators } from './designators.ts';
import { headingMeaning, isTotal, plain } from './headings.ts';
import type { CellFact, Sheet, SheetRow } from './sheet.ts';

// Which rows of a list are components: no totals, no headings again on the next page, no titles between; and what a merged cell says
// of the rows that it covers.

/** Rows that are read, and those left aside with the reason. */
export interface ListRows {
  readonly rows: readonly SheetRow[];
  readonly skipped: SkippedRow[];
}

export function rowsOf(sheet: Sheet, columns: Columns, findings: Findings): ListRows {
  const skipped: SkippedRow[] = [...sheet.ofHeadings];
  const at = columns.byField.get('designator')?.at as number;
  const covered = coveredRows(sheet, at);
  const rows: SheetRow[] = [];
  const headings = sheet.headings.map(plain).join('|');
  for (const row of withMergedCells(sheet, columns)) {
    const by = covered.get(row.line);
    if (by !== undefined) {
      skipped.push({ line: row.line, why: `belongs to the merged cell of ${findings.placeOf(by)}` });
      continue;
    }
    const why = reasonToSkip(row, at, headings);
    if (why === undefined) rows.push(row);
    else skipped.push({ line: row.line, why });
  }
  tellCovered(sheet, covered, findings);
  return { rows, skipped };
}

function reasonToSkip({ cells }: SheetRow, at: number, headings: string): string | undefined {
  const filled = cells.filter((cell) => cell !== '');
  if (cells.map(plain).join('|') === headings) return 'headings again';
  const cell = cells[at] ?? '';
  const isNamed = cell !== '' && readDesignators(cell).designators.some((one) => /\d/u.test(one));
  if (isNamed) return undefined;
  if (filled.some(isTotal)) return 'total';
  if (filled.length === 1 && cell !== '' && /\s/u.test(cell)) return `a title between rows: ${quoted(cell)}`;
  if (filled.length === 1 && cell !== '' && headingMeaning(cell).kind !== 'unknown') return 'headings again';
  return undefined;
}

/** Rows below the first of a merged cell of designators, with that first row: alternatives of one component. */
function coveredRows(sheet: Sheet, at: number): ReadonlyMap<number, number> {
  const covered = new Map<number, number>();
  for (const { top, bottom, left, right } of sheet.merges ?? []) {
    if (top <= sheet.line || left > at || right < at) continue;
    for (let line = top + 1; line <= Math.min(bottom, top + MOST_MERGED); line++) covered.set(line, top);
  }
  return covered;
}
/** Rows that one merged cell may stand for. */
const MOST_MERGED = 10_000;

function tellCovered(sheet: Sheet, covered: ReadonlyMap<number, number>, findings: Findings): void {
  const lines = sheet.rows.flatMap(({ line }) => (covered.has(line) ? [line] : []));
  const [first] = lines;
  if (first === undefined) return;
  findings.caution(
    covered.get(first),
    lines.length === 1
      ? 'has a designator merged with the row below, which is left aside: it may be an alternative'
      : `has a designator merged with rows below, as others may have: ${lines.length} rows are left aside, which may be alternatives`,
    'give what is fitted the first row, or unmerge the cells and write the designator into each row',
  );
}

/** Rows with what merged cells say in each of the rows that they cover; quantities are of all together and stay where they are. */
function withMergedCells(sheet: Sheet, { byField }: Columns): readonly SheetRow[] {
  const keep = new Set([byField.get('designator')?.at, byField.get('quantity')?.at]);
  const taken = new Set([...byField.values()].map((column) => column.at));
  const merges = (sheet.merges ?? []).filter(
    ({ top, bottom, left }) => top > sheet.line && bottom > top && !keep.has(left) && taken.has(left),
  );
  if (merges.length === 0) return sheet.rows;
  const rows = new Map(sheet.rows.map((row, i) => [row.line, i] as const));
  const filled: { line: number; cells: string[]; facts?: Map<number, CellFact> }[] = sheet.rows.map(
    (row) => ({
      line: row.line,
      cells: [...row.cells],
      ...(row.facts ? { facts: new Map(row.facts) } : {}),
    }),
  );
  for (const { top, bottom, left } of merges) {
    const from = filled[rows.get(top) ?? -1];
    const text = from?.cells[left];
    if (!from || !text) continue;
    const fact = from.facts?.get(left);
    for (let line = top + 1; line <= Math.min(bottom, top + MOST_MERGED); line++) {
      const row = filled[rows.get(line) ?? -1];
      if (!row) continue;
      while (row.cells.length <= left) row.cells.push('');
      row.cells[left] = text;
      if (fact) {
        row.facts ??= new Map();
        row.facts.set(left, fact);
      }
    }
  }
  return filled;
}
