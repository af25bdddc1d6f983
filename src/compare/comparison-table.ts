import { CasebackError } from '../model/problems.ts';
import { TERMS } from '../model/taxonomy.ts';
import type { State } from '../state/state.ts';
import { didYouMean } from '../text/near.ts';
import { type Compared, comparedOf } from './representative.ts';
import { batteryRows } from './table/battery.ts';
import { boardRows } from './table/boards.ts';
import { type Cell, NONE_CELL, NOT_OBSERVED_CELL, type RowCell } from './table/cell.ts';
import { type Column, columnOf, noneSeen } from './table/column.ts';
import { decisionRows, decisionsOfAll } from './table/decisions.ts';
import { deviceRows } from './table/device.ts';
import { kindRows } from './table/kind-rows.ts';
import { makerRows } from './table/makers.ts';
import { memoryRows } from './table/memory.ts';
import { powerRows } from './table/power.ts';
import { processorRows } from './table/processors.ts';
import { distinctPartRows, sharedPartRows } from './table/reuse.ts';

/** A figure over all devices of a comparison. */
export interface TableRow extends Omit<RowCell, 'cell' | 'of'> {
  /** One cell a column, in the order of the columns. */
  readonly cells: readonly Cell[];
  /** Columns in which it is rather there than not: expected 0.5 or more. For counts and shares alone. */
  readonly presentIn: number | null;
}

export interface Section {
  readonly key: string;
  readonly label: string;
  readonly rows: readonly TableRow[];
}

export interface ComparisonTable {
  readonly columns: readonly Compared[];
  readonly sections: readonly Section[];
}

export interface TableOptions {
  /** Keys of the sections wanted. @default all of {@link SECTIONS}; decisions take longest */
  readonly sections?: readonly string[];
  readonly signal?: AbortSignal;
}

/** Sections whose rows follow from one device alone. */
const OF_ONE: readonly {
  readonly key: string;
  readonly label: string;
  readonly rows: (column: Column) => readonly RowCell[];
}[] = [
  { key: 'device', label: 'Device', rows: deviceRows },
  { key: 'sensors', label: 'Sensors', rows: (column) => kindRows(column, 'sensors', 'Sensor') },
  { key: 'processors', label: 'Processors', rows: processorRows },
  { key: 'radio', label: 'Radio', rows: (column) => kindRows(column, 'radio', 'Radio') },
  { key: 'memory', label: 'Memory', rows: memoryRows },
  { key: 'power', label: 'Power', rows: powerRows },
  { key: 'battery', label: 'Battery', rows: batteryRows },
  { key: 'boards', label: 'Boards', rows: boardRows },
  { key: 'makers', label: 'Makers of parts', rows: makerRows },
  { key: 'parts', label: 'Parts', rows: distinctPartRows },
];

/**
 * Everything that is counted and measured of two or more devices, or specimens, side by side: sections of rows with one
 * cell a column, in the order asked. Parts reused across the set and design decisions stand last.
 * @throws CasebackError NOT_FOUND when nothing visible has one of the ids; BAD_INPUT for an unknown section
 */
export async function comparisonTable(
  state: State,
  ids: readonly string[],
  options: TableOptions = {},
): Promise<ComparisonTable> {
  return tableOf(
    state,
    ids.map((id) => comparedOf(state, id)),
    options,
  );
}

/** Keys of all sections, in their order. */
export const SECTIONS: readonly string[] = [...OF_ONE.map(({ key }) => key), 'reuse', 'decisions'];

/** As {@link comparisonTable}, for columns already looked up. */
export async function tableOf(
  state: State,
  compared: readonly Compared[],
  { sections = SECTIONS, signal }: TableOptions = {},
): Promise<ComparisonTable> {
  const wrong = sections.find((key) => !SECTIONS.includes(key));
  if (wrong !== undefined) {
    const fix = didYouMean(wrong, SECTIONS) ?? `the sections are ${SECTIONS.join(', ')}`;
    throw new CasebackError('BAD_INPUT', `"${wrong}" is not a section of a comparison; ${fix}`);
  }
  const columns = compared.map((one) => columnOf(state, one));
  return {
    columns: compared,
    sections: await Promise.all(
      SECTIONS.filter((key) => sections.includes(key)).map((key) => section(state, columns, key, signal)),
    ),
  };
}

async function section(
  state: State,
  columns: readonly Column[],
  key: string,
  signal: AbortSignal | undefined,
): Promise<Section> {
  if (key === 'reuse') return sectionOf(key, 'Parts reused', columns, sharedPartRows(columns));
  if (key !== 'decisions') {
    const { label, rows } = OF_ONE.find((one) => one.key === key) as (typeof OF_ONE)[number];
    return sectionOf(key, label, columns, columns.map(rows));
  }
  const decisions = await decisionsOfAll(
    state,
    columns.map(({ device }) => device.id),
    signal,
  );
  const decided = columns.map(({ device }) => decisionRows(decisions.get(device.id) ?? []));
  return sectionOf(key, 'Design decisions', columns, decided);
}

/** A figure of one device, with its row label. */
export interface NamedCell extends Omit<RowCell, 'cell' | 'of'>, Cell {}

/**
 * All figures of one device or specimen that follow from its own dossier: every section of {@link comparisonTable} but
 * reuse, which is a matter of several devices, and decisions, which `infer` answers. Rows come in a stable order; a row
 * that one device lacks is a count of none or a figure not observed.
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function comparisonCells(state: State, id: string): readonly NamedCell[] {
  const column = columnOf(state, comparedOf(state, id));
  return OF_ONE.flatMap(({ rows }) => rows(column)).map(({ cell, of: _, ...row }) => ({ ...row, ...cell }));
}

/** Rows of all columns under one another; where a column lacks a row, it shows none of that or was not looked at. */
function sectionOf(
  key: string,
  label: string,
  columns: readonly Column[],
  rows: readonly (readonly RowCell[])[],
): Section {
  const byKey = rows.map((all) => new Map(all.map((row) => [row.key, row])));
  return {
    key,
    label,
    rows: mergedOrder(rows).map(({ cell: _, of, ...row }) => {
      const counted = row.unit === '1' || row.unit === '%';
      const cells = columns.map(
        (column, at) =>
          byKey[at].get(row.key)?.cell ?? (counted ? missingCell(column, key, of) : NOT_OBSERVED_CELL),
      );
      const holding = cells.filter(({ expected }) => (expected ?? 0) >= 0.5).length;
      return { ...row, cells, presentIn: counted ? holding : null };
    }),
  };
}

/** The cell of a count that a column has no row for. A dossier that lists boards lists all of them. */
function missingCell(column: Column, section: string, of: string | undefined): Cell {
  if (section === 'boards' && column.specimen.boards.size > 0) return NONE_CELL;
  return noneSeen(column, of);
}

/** Every row once, each after the rows that stand before it in some column; free of the order of the columns. */
function mergedOrder(rows: readonly (readonly RowCell[])[]): readonly RowCell[] {
  const all = new Map<string, RowCell>();
  const after = new Map<string, Set<string>>();
  for (const column of rows) {
    column.forEach((row, at) => {
      all.set(row.key, all.get(row.key) ?? row);
      const before = after.get(row.key) ?? new Set();
      after.set(row.key, before);
      if (at > 0) before.add(column[at - 1].key);
    });
  }
  const ordered: RowCell[] = [];
  const placed = new Set<string>();
  let waiting = [...all.values()].sort(natural);
  while (waiting.length > 0) {
    const isReady = ({ key }: RowCell) => [...(after.get(key) ?? [])].every((one) => placed.has(one));
    // Columns that contradict one another leave none ready; then the first goes ahead.
    const next = waiting.find(isReady) ?? waiting[0];
    ordered.push(next);
    placed.add(next.key);
    waiting = waiting.filter((row) => row !== next);
  }
  return ordered;
}

/** By place in the taxonomy where both are named after a term, else by text with numbers as numbers. */
function natural(a: RowCell, b: RowCell): number {
  const [first, second] = [TERMS.indexOf(a.label), TERMS.indexOf(b.label)];
  if (first >= 0 && second >= 0) return first - second;
  return BY_TEXT.compare(a.key, b.key);
}
const BY_TEXT = new Intl.Collator('en', { numeric: true });
