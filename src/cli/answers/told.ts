import type { Row } from '../../export/rows.ts';

/** A cell that people read short and programs at full precision. */
export interface Told {
  readonly text: string;
  readonly value: unknown;
}

/** A row of a table; cells that are texts say the same to both. */
export type ToldRow = Readonly<Record<string, string | Told>>;

/** A cell of a table with the value that JSON has in its place. */
export function told(text: string, value: unknown): Told {
  return { text, value };
}

/** A whole number, which is written in full. */
export function toldWhole(value: number): Told {
  return told(String(value), value);
}

/** Rows to be read. */
export function asTexts(rows: readonly ToldRow[]): readonly Row[] {
  return rows.map((row) =>
    Object.fromEntries(
      Object.entries(row).map(([name, cell]) => [name, typeof cell === 'string' ? cell : cell.text]),
    ),
  );
}

/** The same rows for programs. */
export function asValues(rows: readonly ToldRow[]): readonly Readonly<Record<string, unknown>>[] {
  return rows.map((row) =>
    Object.fromEntries(
      Object.entries(row).map(([name, cell]) => [name, typeof cell === 'string' ? cell : cell.value]),
    ),
  );
}
