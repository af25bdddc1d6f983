import { tidy } from '../../statistics/tidy.ts';
/** Why a cell has no number: nobody looked or it could not be read, or someone looked and there is none. */
export type Missing = 'not-observed' | 'absent';

/**
 * One figure of one device. A count of something looked for and not found is 0 and says `absent`; a quantity of
 * something that is not there is null and says `absent`; what nobody could see is null and `not-observed`.
 */
export interface Cell {
  /** Counting only what is at least 0.95 certain; null where that gives no number. */
  readonly certain: number | null;
  /** Weighted by probability. */
  readonly expected: number | null;
  /** Counting everything that may be at all; null for quantities. */
  readonly possible: number | null;
  readonly missing: Missing | null;
  /** What to know of the figure, in words. */
  readonly note?: string;
}

/** A cell with its row label. */
export interface RowCell {
  /** Stable name, such as `sensors.Accelerometer`. */
  readonly key: string;
  readonly label: string;
  /** UCUM code, `1` for counts, or an ISO 4217 currency. */
  readonly unit: string;
  /** What the figure is, in one sentence. */
  readonly is: string;
  /** The term of the taxonomy or the maker that is counted: where a column lacks the row, its presence says why. */
  readonly of?: string;
  readonly cell: Cell;
}

export const NOT_OBSERVED_CELL: Cell = {
  certain: null,
  expected: null,
  possible: null,
  missing: 'not-observed',
};
export const ABSENT_CELL: Cell = { ...NOT_OBSERVED_CELL, missing: 'absent' };
export const NONE_CELL: Cell = { certain: 0, expected: 0, possible: 0, missing: 'absent' };

/** A measured or stated figure about which there is no doubt. */
export function figure(value: number, note?: string): Cell {
  return withNote({ certain: tidy(value), expected: tidy(value), possible: null, missing: null }, note);
}

/** A count with its doubt. */
export function count(certain: number, expected: number, possible: number, note?: string): Cell {
  return withNote({ certain, expected: tidy(expected), possible, missing: null }, note);
}

export function withNote(cell: Cell, note: string | undefined): Cell {
  return note === undefined ? cell : { ...cell, note };
}
