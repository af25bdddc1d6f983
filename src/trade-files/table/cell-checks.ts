import { type Findings, quoted } from '../board-design.ts';
import type { Column } from './columns.ts';
import { type Field, LENGTHS } from './headings.ts';
import type { SheetRow } from './sheet.ts';

// What spreadsheets do to cells: they keep errors and formulas without a result, and take the zeros off 0402, make a number of 1E5 and a
// date of MAR1. What was typed then cannot be told from what is there, so it is said and never guessed.

/** Columns of texts that look like numbers and are none. */
const NAMES: ReadonlySet<Field> = new Set(['marking', 'footprint', 'partNumber']);
const NUMBERS: ReadonlySet<Field> = new Set(['quantity', 'rotation', 'pins', ...LENGTHS]);
/** Sizes of chips without the zero that they begin with; as EIA names them. Common practice, no source. */
const SHORT_SIZES = /^(?:201|402|603|805|1005)$/u;
/** A large number as spreadsheets show it. */
const SCIENTIFIC = /^\d(?:[.,]\d+)?E\+\d{1,3}$/u;
/** Cells that a caution names. */
const NAMED = 5;

interface Doubt {
  readonly line: number;
  readonly cell: string;
}

/** Looks at cells of the columns of a list as they are read. */
export class CellChecks {
  readonly #columns: ReadonlyMap<Field, Column>;
  readonly #findings: Findings;
  readonly #told = new Set<string>();
  readonly #doubts = new Map<Field, Map<string, Doubt[]>>();

  constructor(columns: ReadonlyMap<Field, Column>, findings: Findings) {
    this.#columns = columns;
    this.#findings = findings;
  }

  /** The text of a cell; undefined for an empty one, and for one that a spreadsheet could not fill. */
  cell(row: SheetRow, field: Field): string | undefined {
    const column = this.#columns.get(field);
    if (!column) return undefined;
    const cell = row.cells[column.at] ?? '';
    const fact = row.facts?.get(column.at);
    const wrong =
      fact?.kind === 'error'
        ? ([
            `is the error ${cell}`,
            'correct the formula, or delete it where nothing is to stand there',
          ] as const)
        : fact?.kind === 'no value'
          ? ([
              'is a formula whose result the workbook does not have',
              'open it in a spreadsheet program and save it, or write the value itself',
            ] as const)
          : fact?.kind === 'date' && (NUMBERS.has(field) || field === 'designator' || field === 'side')
            ? ([
                `is the date ${quoted(cell)}, as spreadsheets make of what looks like one`,
                'format the cell as text and type again what was meant',
              ] as const)
            : undefined;
    if (wrong) {
      const key = `${row.line} ${column.at}`;
      if (!this.#told.has(key)) this.#findings.problem(row.line, wrong[0], wrong[1], column.heading);
      this.#told.add(key);
      return undefined;
    }
    if (cell === '') return undefined;
    this.#doubt(row, field, cell);
    return cell;
  }

  /** Tells what may not be what was typed, once a column and kind. */
  tell(): void {
    const place = (field: Field) => this.#columns.get(field)?.at ?? 0;
    const doubted = [...this.#doubts].toSorted(([a], [b]) => place(a) - place(b));
    for (const [field, kinds] of doubted) {
      const heading = this.#columns.get(field)?.heading;
      for (const [what, doubts] of kinds) {
        const some = doubts
          .slice(0, NAMED)
          .map(({ line, cell }) => `${quoted(cell)} in ${this.#findings.placeOf(line, heading)}`);
        const more = doubts.length > NAMED ? ` and ${doubts.length - NAMED} more` : '';
        this.#findings.caution(
          doubts[0]?.line,
          `${some.join(', ')}${more} ${doubts.length === 1 ? 'is' : 'are'} ${what}`,
          'compare with the original; format the column as text before typing or opening the list',
          heading,
        );
      }
    }
  }

  #doubt(row: SheetRow, field: Field, cell: string): void {
    const column = this.#columns.get(field) as Column;
    const fact = row.facts?.get(column.at);
    const what =
      fact?.kind === 'date'
        ? 'a date for the spreadsheet, which what was typed may not have been'
        : (NAMES.has(field) || field === 'value') && SCIENTIFIC.test(cell)
          ? 'a large number as spreadsheets write it, where a name such as 1E5 may have been typed'
          : NAMES.has(field) && fact?.kind === 'number'
            ? 'a number for the spreadsheet; zeros before it may be gone, as in 402 for 0402'
            : field === 'footprint' && SHORT_SIZES.test(cell) && cell.length === 3
              ? 'a size without its first zero, as spreadsheets take it off: 402 for 0402'
              : undefined;
    if (what === undefined) return;
    const kinds = this.#doubts.get(field) ?? new Map<string, Doubt[]>();
    this.#doubts.set(field, kinds);
    const doubts = kinds.get(what) ?? [];
    kinds.set(what, doubts);
    if (doubts.at(-1)?.line !== row.line) doubts.push({ line: row.line, cell });
  }
}
