import type { Outline, SIDES } from '../model/board.ts';
import type { PIN_DIRECTIONS } from '../model/net.ts';
import type { Point } from '../model/outline.ts';
import type { Problem } from '../model/problems.ts';

// What every reader of a trade file gives, whatever the format: millimetres, x to the right and y up, both sides seen
// through the board from its top side. Nothing here is checked against an archive yet.

/** Formats that are read, as messages call them. */
export const TRADE_FORMATS = {
  'bill-of-materials': 'bill of materials',
  placement: 'placement list',
  'ipc-d-356': 'IPC-D-356 netlist',
  'ipc-2581': 'IPC-2581',
  kicad: 'KiCad board',
  'kicad-netlist': 'KiCad netlist',
} as const;
export type TradeFormat = keyof typeof TRADE_FORMATS;

export type Side = (typeof SIDES)[number];
export type PinDirection = (typeof PIN_DIRECTIONS)[number];

/** One terminal of a component. `net` is the key of a net of the same board; left out where the pin meets nothing. */
export interface DesignPin {
  readonly number?: string;
  readonly name?: string;
  readonly direction?: PinDirection;
  readonly at?: Point;
  readonly net?: string;
}

/** A component as a file has it. Fields that the file does not say are left out. */
export interface DesignComponent {
  readonly designator: string;
  readonly side?: Side;
  /** Where it is, and what of it is there: the middle of its body, the origin of its footprint, its first pin, or not said. */
  readonly at?: Point;
  readonly atIs?: 'body centre' | 'origin' | 'first pin' | 'not said';
  /** Degrees counter-clockwise, seen from the top side, 0 to 360; a component below is mirrored first, its y turned over. */
  readonly rotation?: number;
  /** Extent along its own x and y at rotation 0, and height where known; mm. */
  readonly body?: { readonly length: number; readonly width: number; readonly height?: number };
  /** Footprint or package by name. */
  readonly footprint?: string;
  readonly value?: string;
  readonly partNumber?: string;
  readonly maker?: string;
  readonly description?: string;
  /** What is printed on it, as somebody read it. */
  readonly marking?: string;
  readonly note?: string;
  /** False: the place is left empty. */
  readonly fitted?: boolean;
  /** Whether a bill of materials of the file names it; left out where the file has none. */
  readonly listed?: boolean;
  readonly pins: readonly DesignPin[];
  /** Terminals, where a list counts them. */
  readonly pinCount?: number;
  /** Line of the file, from 1. */
  readonly line: number;
}

/** A net: what joins pins. Its members are the pins that carry its key. */
export interface DesignNet {
  /** Unique on the board. */
  readonly key: string;
  /** Label as the design has it; left out where the file only numbers its nets or cuts labels short. */
  readonly label?: string;
  /** What the file itself says of it. */
  readonly kind?: 'ground' | 'power' | 'signal';
  /** The format cuts names, and this one fills its field. */
  readonly mayBeCut?: boolean;
}

export interface DesignBoard {
  /** Name in the file, if it has one. */
  readonly name?: string;
  /** With its cut-outs. */
  readonly outline?: Outline;
  readonly components: readonly DesignComponent[];
  readonly nets: readonly DesignNet[];
  readonly layers?: number;
}

/** How a column of a list was taken. */
export interface ColumnReading {
  readonly heading: string;
  /** Field that it fills; left out where nothing is taken from it. */
  readonly field?: string;
  /** Unit of its bare numbers, by heading, units row or as asked. */
  readonly unit?: string;
  /** How sure that is: said or a known heading, settled by cells, or nothing is taken. */
  readonly sure?: 'certain' | 'likely';
  /** Field that it may be, by near headings and by its cells, where nothing is taken from it. */
  readonly suggestion?: string;
  /** Why nothing is taken from it, or what was settled. */
  readonly why?: string;
}

/** A file that was read: what it holds, or every problem that it has. Cautions come with both. */
export interface TradeFile {
  readonly file: string;
  readonly format: TradeFormat;
  /** Left out where there are problems. */
  readonly boards?: readonly DesignBoard[];
  readonly problems: readonly Problem[];
  readonly cautions: readonly Problem[];
  /** Sentences on what was understood: unit, revision, what was left aside. */
  readonly understood: readonly string[];
  /** For lists. */
  readonly columns?: readonly ColumnReading[];
  /** For lists: the table as it was understood. */
  readonly table?: TableReading;
}

/** A row of a list that gave no component. */
export interface SkippedRow {
  /** Line of the file, or row of the sheet, from 1. */
  readonly line: number;
  readonly why: string;
}

/** How a list was understood as a table. */
export interface TableReading {
  /** Sheet of a workbook. */
  readonly sheet?: string;
  /** Line of the headings, or row of the sheet, from 1. */
  readonly headings: number;
  /** What stands between cells; left out for a workbook. */
  readonly separator?: 'comma' | 'semicolon' | 'tab' | 'bar' | 'blanks';
  /** Encoding of the text, with the reason. */
  readonly encoding?: string;
  readonly decimalSign?: 'point' | 'comma';
  /** Number of rows that gave components. */
  readonly rows: number;
  /** The first rows as they were read, cells in the order of the columns. */
  readonly firstRows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  readonly skipped: readonly SkippedRow[];
}

/** What a reader may be told where a file leaves it open. */
export interface TradeReading {
  /** Unit of coordinates where the file does not say one. */
  readonly unit?: LengthUnit;
  /** Headings and the fields that they mean, before any synonym; a unit may follow the field: `centreX mil`. */
  readonly columns?: ReadonlyMap<string, string>;
  /** A list mapping: what `columns` may say of headings that a list then must have. */
  readonly mapping?: { readonly id: string; readonly columns: ReadonlyMap<string, string> };
  /** Sheet of a workbook, by name or number from 1. */
  readonly sheet?: string;
  /** Line of the headings, or row of the sheet, from 1. */
  readonly headings?: number;
  /** Decimal sign of numbers in text. */
  readonly decimal?: 'point' | 'comma';
}

/** Units that trade files use, in mm (25.4 mm are one inch by definition: ISO 80000-3; a mil is a thousandth of one). */
export const LENGTH_UNITS = { mm: 1, mil: 0.0254, inch: 25.4, um: 0.001, cm: 10 } as const;
export type LengthUnit = keyof typeof LENGTH_UNITS;

/** Digits kept of a coordinate in mm: a nanometre, the finest step that any of the formats has. */
const KEPT = 1e6;

/** A length in mm without the rounding error of conversions. */
export function tidy(mm: number): number {
  const rounded = Math.round(mm * KEPT) / KEPT;
  return rounded === 0 ? 0 : rounded;
}

/** Degrees brought into 0 to 360, without rounding error. */
export function tidyAngle(degrees: number): number {
  const turned = ((degrees % 360) + 360) % 360;
  const rounded = Math.round(turned * 1e4) / 1e4;
  return rounded >= 360 || rounded === 0 ? 0 : rounded;
}

/** Collects what is wrong with one file, and what one should know of it. */
export class Findings {
  readonly problems: Problem[] = [];
  readonly cautions: Problem[] = [];
  readonly understood: string[] = [];
  /** Where something stands, for files whose places are no lines and headings; given by who reads a workbook. */
  placing: ((line: number | undefined, path: string | undefined) => string | undefined) | undefined;
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  problem(line: number | undefined, what: string, fix: string, path?: string): void {
    this.problems.push(this.#finding(line, what, fix, path));
  }

  caution(line: number | undefined, what: string, fix: string, path?: string): void {
    this.cautions.push(this.#finding(line, what, fix, path));
  }

  /** A place for the middle of a sentence: `line 12`, or `BOM!B12`. */
  placeOf(line: number, path?: string): string {
    const placed = this.placing?.(line, path);
    if (placed === undefined) return `line ${line}`;
    return path !== undefined && placed.endsWith(` ${path}`) ? placed.slice(0, -path.length - 1) : placed;
  }

  #finding(line: number | undefined, what: string, fix: string, path: string | undefined): Problem {
    if (this.placing) {
      const placed = this.placing(line, path);
      return { file: this.#file, ...(placed === undefined ? {} : { path: placed }), what, fix };
    }
    const place = line === undefined ? {} : { line };
    return { file: this.#file, ...place, ...(path === undefined ? {} : { path }), what, fix };
  }

  /** The file as read: with its boards only where nothing is wrong. */
  result(
    format: TradeFormat,
    boards: readonly DesignBoard[],
    columns?: readonly ColumnReading[],
    table?: TableReading,
  ): TradeFile {
    const { problems, cautions, understood } = this;
    return {
      file: this.#file,
      format,
      ...(problems.length === 0 ? { boards } : {}),
      problems,
      cautions,
      understood,
      ...(columns ? { columns } : {}),
      ...(table ? { table } : {}),
    };
  }
}

/** A text of a file cut to what a message may quote. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/gu, ' ').trim();
  return JSON.stringify(line.length > 40 ? `${line.slice(0, 39)}…` : line);
}
