import { Pace } from '../../state/pace.ts';
import type { State } from '../../state/state.ts';
import type { Lose } from '../export-file.ts';
import { piecesInTurns, type Scope, specimensIn } from '../graph/graph.ts';
import type { ExportNode } from '../graph/things.ts';
import { billOf } from './bill-of-materials.ts';
import { type Cell, type ExportTable, headingOf, lineOf } from './columns.ts';
import { type ComponentRow, componentRowsOf } from './component-rows.ts';
import { BILL, COMPONENTS, PLACEMENT } from './component-tables.ts';
import { EDGES, NODES, type NumberedEdge } from './graph-tables.ts';

/** Rows of a scope, batch by batch: never all of them at once. @throws the signal's reason */
type RowsOf<R> = (
  state: State,
  scope: Scope,
  lose: Lose,
  signal: AbortSignal | undefined,
) => AsyncIterable<readonly R[]>;

/** A table with its lines. */
export interface FilledTable {
  readonly table: ExportTable<never>;
  /** Its lines as CSV (RFC 4180), heading line first, with the number of rows in each piece. @throws the signal's reason */
  readonly csv: (
    state: State,
    scope: Scope,
    lose: Lose,
    signal?: AbortSignal,
  ) => AsyncIterable<{ readonly text: string; readonly rows: number }>;
  /** The cells of its rows, batch by batch. @throws the signal's reason */
  readonly cells: (
    state: State,
    scope: Scope,
    lose: Lose,
    signal?: AbortSignal,
  ) => AsyncIterable<readonly (readonly Cell[])[]>;
}

/** The tables of an export, in the order in which they are written. */
export const TABLES: readonly FilledTable[] = [
  filled(NODES, nodes, ({ id }) => id),
  filled(EDGES, edges, ({ source }) => source),
  filled(
    COMPONENTS,
    ofSpecimens(() => (rows) => rows),
    ({ id }) => id,
  ),
  filled(BILL, ofSpecimens(billLines), ({ components }) => components[0] as string),
  filled(
    PLACEMENT,
    ofSpecimens((lose) => (rows) => placedOf(rows, lose)),
    ({ id }) => id,
  ),
];

/** @param recordOf the record that a row is about, for losses */
function filled<R>(table: ExportTable<R>, rowsOf: RowsOf<R>, recordOf: (row: R) => string): FilledTable {
  return {
    table,
    async *csv(state, scope, lose, signal) {
      yield { text: headingOf(table.columns), rows: 0 };
      for await (const rows of rowsOf(state, scope, lose, signal))
        yield {
          text: rows.map((row) => lineOf(table.columns, row, recordOf(row), lose)).join(''),
          rows: rows.length,
        };
    },
    async *cells(state, scope, lose, signal) {
      for await (const rows of rowsOf(state, scope, lose, signal))
        yield rows.map((row) => table.columns.map(({ of }) => of(row)));
    },
  };
}

async function* nodes(
  ...[state, scope, , signal]: Parameters<RowsOf<ExportNode>>
): AsyncGenerator<readonly ExportNode[]> {
  // What is lost with edges is told with their table.
  for await (const { nodes: some } of piecesInTurns(state, scope, () => undefined, signal)) yield some;
}

async function* edges(
  ...[state, scope, lose, signal]: Parameters<RowsOf<NumberedEdge>>
): AsyncGenerator<readonly NumberedEdge[]> {
  let number = 0;
  for await (const { edges: some } of piecesInTurns(state, scope, lose, signal))
    yield some.map((edge) => ({ ...edge, number: ++number }));
}

/** Rows that are made of the components of one specimen after the other. */
function ofSpecimens<R>(making: (lose: Lose) => (rows: readonly ComponentRow[]) => readonly R[]): RowsOf<R> {
  return async function* (state, scope, lose, signal) {
    const pace = new Pace(signal);
    const made = making(lose);
    for (const id of specimensIn(state, scope)) {
      yield made(componentRowsOf(state, id));
      await pace.rest();
    }
  };
}

function billLines() {
  let number = 1;
  return (rows: readonly ComponentRow[]) => {
    const lines = billOf(rows, number);
    number += lines.length;
    return lines;
  };
}

/** What is fitted on a board and has a position. */
function placedOf(rows: readonly ComponentRow[], lose: Lose): readonly ComponentRow[] {
  return rows.filter(({ id, board, component, isFitted }) => {
    if (!isFitted || board === undefined) return false;
    if (component.at === undefined)
      lose({ record: id, field: 'at', why: 'its position is not on record, so it has no line' });
    return component.at !== undefined;
  });
}
