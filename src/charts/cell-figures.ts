import type { Cell } from '../compare/table/cell.ts';
import type { Row } from '../export/rows.ts';
import { amounts, type Numbers } from './numbers.ts';

// What a chart of cells shows, as bars, as a table and in words: three readings of one list.

/** One figure over all rows of a chart: what stands under one heading. */
export interface CellColumn {
  readonly heading: string;
  /** UCUM code, `1` for counts, or an ISO 4217 currency. */
  readonly unit: string;
  /** Columns of one name have one scale; others have one of their own. */
  readonly scale: string;
  /** One cell a row. */
  readonly cells: readonly Cell[];
}

/** What one row is about. */
export interface CellRow {
  readonly name: string;
  /** What stands under the name, such as a date: on one line where that has room, else on a line each. */
  readonly beside?: readonly string[];
}

/** Rows and columns with the words for what either is. */
export interface CellFigures {
  readonly rowsAre: string;
  readonly columnsAre: string;
  readonly rows: readonly CellRow[];
  readonly columns: readonly CellColumn[];
}

/** A cell with a number. */
export interface KnownCell {
  readonly certain: number | null;
  readonly expected: number;
  readonly possible: number | null;
}

/** The numbers of a cell; undefined where it is missing. A count of none is missing, too: it is written, not drawn. */
export function knownOf({ certain, expected, possible, missing }: Cell): KnownCell | undefined {
  const likely = expected ?? certain;
  return missing !== null || likely === null ? undefined : { certain, expected: likely, possible };
}

/** Whether doubt leaves more than one number, in what is written of them. */
export function isDoubtful({ certain, expected, possible }: KnownCell, { value }: Numbers): boolean {
  return [certain, possible].some((one) => one !== null && value(one) !== value(expected));
}

/** Why a cell has no number, in words. */
export function missingWords({ missing }: Cell): string {
  return missing === 'absent' ? 'absent' : 'not observed';
}

/** The heading of a column with its unit. */
export function headed({ heading, unit }: CellColumn): string {
  const { heading: written } = amounts(unit);
  return unit === '1' || heading.endsWith(`, ${written}`) ? heading : `${heading}, ${written}`;
}

/** The figures as a table, a row a cell. */
export function cellRows({ rowsAre, columnsAre, rows, columns }: CellFigures): readonly Row[] {
  return columns.flatMap((column) => {
    const { value } = amounts(column.unit);
    return rows.map(({ name }, at) => {
      const known = knownOf(column.cells[at]);
      const missing = missingWords(column.cells[at]);
      return {
        [columnsAre]: headed(column),
        [rowsAre]: name,
        certain: known ? value(known.certain) : missing,
        expected: known ? value(known.expected) : missing,
        possible: known ? value(known.possible) : missing,
      };
    });
  });
}

/** The figures in words. */
export function cellsSpoken({ rows, columns }: CellFigures): string {
  return columns
    .map((column) => {
      const said = rows.map(({ name }, at) => `${name} ${spokenCell(column.cells[at], column.unit)}`);
      return `${headed(column)}: ${said.join('; ')}.`;
    })
    .join(' ');
}

function spokenCell(cell: Cell, unit: string): string {
  const known = knownOf(cell);
  if (!known) return missingWords(cell);
  const numbers = amounts(unit);
  const { value } = numbers;
  if (!isDoubtful(known, numbers)) return value(known.expected);
  const ends = [
    ...(known.certain === null ? [] : [`certain ${value(known.certain)}`]),
    ...(known.possible === null ? [] : [`possible ${value(known.possible)}`]),
  ];
  return `${value(known.expected)} expected (${ends.join(', ')})`;
}
