import { Pace } from '../../state/pace.ts';
import type { State } from '../../state/state.ts';
import { piecesInTurns, type Scope, specimensIn } from '../graph/graph.ts';
import type { Loss } from '../graph/things.ts';
import { billOf } from './bill-of-materials.ts';
import { type Column, type ExportTable, headingOf, lineOf } from './columns.ts';
import { type ComponentRow, componentRowsOf } from './component-rows.ts';
import { BILL, COMPONENTS, PLACEMENT } from './component-tables.ts';
import { EDGES, NODES } from './graph-tables.ts';

/** Names of the files, in the order in which they are written. */
export const TABLE_FILES = [NODES, EDGES, COMPONENTS, BILL, PLACEMENT].map(({ file }) => file);

/** The tables of an export, for what describes them. */
export const TABLES: readonly ExportTable<never>[] = [NODES, EDGES, COMPONENTS, BILL, PLACEMENT];

type Lose = (loss: Loss) => void;

/**
 * A table as pieces of CSV (RFC 4180), heading line first: never the whole of it at once.
 * @param file one of {@link TABLE_FILES}
 * @throws the signal's reason
 */
export async function* csvOf(
  state: State,
  scope: Scope,
  file: string,
  lose: Lose,
  signal?: AbortSignal,
): AsyncGenerator<string> {
  switch (file) {
    case NODES.file:
      yield headingOf(NODES.columns);
      for await (const { nodes } of piecesInTurns(state, scope, () => undefined, signal))
        yield nodes.map((node) => lineOf(NODES.columns, node, node.id, () => undefined)).join('');
      return;
    case EDGES.file: {
      yield headingOf(EDGES.columns);
      let number = 0;
      for await (const { edges } of piecesInTurns(state, scope, lose, signal))
        yield edges
          .map((edge) => lineOf(EDGES.columns, { ...edge, number: ++number }, edge.source, lose))
          .join('');
      return;
    }
    case COMPONENTS.file:
      yield* componentsOf(state, scope, COMPONENTS.columns, (rows) => rows, lose, signal);
      return;
    case PLACEMENT.file:
      yield* componentsOf(state, scope, PLACEMENT.columns, (rows) => placedOf(rows, lose), lose, signal);
      return;
    case BILL.file: {
      let number = 1;
      const lines = (rows: readonly ComponentRow[]) => {
        const bill = billOf(rows, number);
        number += bill.length;
        return bill.map((line) => ({ ...line, id: line.components[0] as string }));
      };
      yield* componentsOf(state, scope, BILL.columns, lines, lose, signal);
      return;
    }
    default:
      throw new Error(`There is no table ${file}`);
  }
}

/** Lines of a table that is made of the components of one specimen after the other. */
async function* componentsOf<R extends { readonly id: string }>(
  state: State,
  scope: Scope,
  columns: readonly Column<R>[],
  linesOf: (rows: readonly ComponentRow[]) => readonly R[],
  lose: Lose,
  signal?: AbortSignal,
): AsyncGenerator<string> {
  const pace = new Pace(signal);
  yield headingOf(columns);
  for (const id of specimensIn(state, scope)) {
    yield linesOf(componentRowsOf(state, id))
      .map((row) => lineOf(columns, row, row.id, lose))
      .join('');
    await pace.rest();
  }
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
