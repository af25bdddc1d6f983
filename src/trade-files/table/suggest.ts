import { readComponentValue } from '../../model/component-value.ts';
import { nearNames } from '../../text/near.ts';
import { isDesignatorList } from './designators.ts';
import { type Field, headingMeaning, knownHeadings, sideNamed } from './headings.ts';
import { numberText } from './number-text.ts';
import type { RawSheet } from './sheet.ts';

// What a column may hold whose heading is not known, by near headings and by its cells. It is only ever suggested.

export interface Suggestion {
  readonly field: Field;
  /** Without a subject, such as `12 of 12 cells look like designators`. */
  readonly why: string;
}

const SAMPLE = 300;
/** Of so many cells at least, and so large a share of them. */
const LEAST = 2;
const MOST_OF = 0.7;

const PACKAGE =
  /^(?:[A-Z]{1,4}[_-]?)?(?:01005|0?201|0?402|0?603|0?805|1206|1210|1812|2010|2512)(?:_|\b)|^(?:SOT|SOIC|SOP|SSOP|TSSOP|MSOP|QFN|DFN|QFP|LQFP|BGA|LGA|WLCSP|SOD|SC-?\d\d|SON|CSP)\b/iu;

const LOOKS: readonly (readonly [field: Field, what: string, looks: (cell: string) => boolean])[] = [
  ['designator', 'designators', isDesignatorList],
  ['side', 'sides of a board', (cell) => sideNamed(cell) !== undefined],
  ['footprint', 'packages', (cell) => PACKAGE.test(cell)],
  ['value', 'values', isValue],
  ['rotation', 'right angles', isRightAngle],
];

/** @param taken fields that other columns fill */
export function suggestedField(
  sheet: Pick<RawSheet, 'headings' | 'rows'>,
  at: number,
  taken: ReadonlyMap<Field, unknown>,
): Suggestion | undefined {
  const cells = sheet.rows.slice(0, SAMPLE).flatMap((row) => row.cells[at] || []);
  const heading = sheet.headings[at] ?? '';
  const [near] = nearNames(heading, knownHeadings());
  const meaning = near === undefined ? undefined : headingMeaning(near);
  if (
    meaning?.kind === 'field' &&
    !taken.has(meaning.field) &&
    (meaning.field !== 'designator' || looks(cells, isDesignatorList))
  )
    return { field: meaning.field, why: `its heading is nearly "${near}"` };
  if (cells.length < LEAST) return undefined;
  for (const [field, what, test] of LOOKS) {
    if (taken.has(field) || !looks(cells, test)) continue;
    if (field === 'rotation' && new Set(cells).size < 2) continue;
    const like = cells.filter(test).length;
    return { field, why: `${like} of ${cells.length} cells look like ${what}` };
  }
  return undefined;
}

/** The column that looks most like designators, where none is known; headings cannot be told without one. */
export function columnOfDesignators(
  rows: readonly { readonly cells: readonly string[] }[],
): number | undefined {
  const width = rows.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  for (let at = 0; at < width; at++) {
    const cells = rows.slice(0, SAMPLE).flatMap((row) => row.cells[at] || []);
    if (cells.length >= LEAST && looks(cells, isDesignatorList)) return at;
  }
  return undefined;
}

/** What stands over the column that looks like designators, in rows of which the first may be titles. */
export function headingOfDesignators(
  rows: readonly { readonly cells: readonly string[] }[],
): string | undefined {
  // Each cell is looked at once, whichever row the headings may be.
  const looked = rows
    .slice(0, SAMPLE)
    .map(({ cells }) =>
      cells.slice(0, MOST_COLUMNS).map((cell) => (cell === '' ? undefined : isDesignatorList(cell))),
    );
  const width = looked.reduce((most, row) => Math.max(most, row.length), 0);
  for (let from = 1; from <= Math.min(MOST_TITLES, rows.length - LEAST); from++) {
    for (let at = 0; at < width; at++) {
      let [filled, like] = [0, 0];
      for (let row = from; row < looked.length; row++) {
        const is = looked[row]?.[at];
        if (is !== undefined) filled++;
        if (is) like++;
      }
      const heading = rows[from - 1]?.cells[at] ?? '';
      if (filled >= LEAST && like >= MOST_OF * filled) {
        if (heading !== '') return heading;
        break;
      }
    }
  }
  return undefined;
}
/** Columns in which designators are sought. */
const MOST_COLUMNS = 300;
/** Rows that may stand above a list. */
const MOST_TITLES = 20;

function looks(cells: readonly string[], test: (cell: string) => boolean): boolean {
  return cells.length > 0 && cells.filter(test).length >= MOST_OF * cells.length;
}

function isValue(cell: string): boolean {
  if (!/\d/u.test(cell) || !/[A-Za-zµΩ]/u.test(cell)) return false;
  const read = readComponentValue(cell);
  return read?.resistance !== undefined || read?.capacitance !== undefined || read?.inductance !== undefined;
}

function isRightAngle(cell: string): boolean {
  const read = numberText(cell);
  if (!read) return false;
  const degrees = Math.abs(read.value(read.certain ?? read.unclear ?? 'point'));
  return degrees <= 360 && degrees % 90 === 0;
}
