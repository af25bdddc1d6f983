/** Rows of an SQL answer as the values that `runPattern` hands out. */
import type { SqlColumn } from './compile.ts';

/** An edge as it is handed out. */
export interface EdgeRow {
  readonly id: string | undefined;
  readonly label: string | undefined;
  readonly source: string;
  readonly target: string;
}

export type CellsOfRow = readonly unknown[];

/** Numbers of the edges that rows name: their ends and labels are looked up before {@link decodedRows}. */
export function edgesNamed(rows: readonly CellsOfRow[], columns: readonly SqlColumn[]): ReadonlySet<string> {
  const edges = new Set<string>();
  for (const row of rows)
    for (const { parts } of columns)
      for (const { kind, at } of parts) {
        const cell = row[at];
        if (cell === null || cell === undefined) continue;
        if (kind === 'edge') edges.add(String(cell));
        else if (kind === 'list' || kind === 'path')
          for (const item of cell as readonly string[]) if (item.startsWith('e')) edges.add(item.slice(1));
      }
  return edges;
}

/** The query that looks up edges. */
export function edgesQuery(edges: Iterable<string>): string {
  return `SELECT edge, id, label, source, target FROM edges WHERE edge IN (${[...edges].join(', ')})`;
}

/** Rows of values: nodes, edges and paths as `runPattern` has them. */
export function decodedRows(
  rows: readonly CellsOfRow[],
  columns: readonly SqlColumn[],
  edges: ReadonlyMap<string, EdgeRow>,
): readonly (readonly unknown[])[] {
  const edgeOf = (number: string) => ({ kind: 'edge', ...edges.get(number)! });
  const itemOf = (item: string): unknown => {
    const rest = item.slice(1);
    switch (item[0]) {
      case 'n':
        return { kind: 'node', id: rest };
      case 'e':
        return edgeOf(rest);
      case 't':
        return rest;
      case 'd':
        return Number(rest);
      case 'b':
        return rest === '1';
      default:
        return null;
    }
  };
  return rows.map((row) =>
    columns.map(({ parts }) => {
      const found = parts.find(({ at }) => row[at] !== null && row[at] !== undefined);
      if (!found) return null;
      const cell = row[found.at];
      switch (found.kind) {
        case 'number':
          return Number(cell);
        case 'node':
          return { kind: 'node', id: cell };
        case 'edge':
          return edgeOf(String(cell));
        case 'path':
          return { kind: 'path', elements: (cell as readonly string[]).map(itemOf) };
        case 'list':
          return (cell as readonly string[]).map(itemOf);
        default:
          return cell;
      }
    }),
  );
}
