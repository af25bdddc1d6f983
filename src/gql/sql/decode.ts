/** Rows of an SQL answer as the values that `runPattern` hands out. */
import type { SqlColumn } from './compile.ts';

/** An edge as it is handed out. */
interface EdgeRow {
  readonly id: string | undefined;
  readonly label: string | undefined;
  readonly source: string;
  readonly target: string;
}

export type CellsOfRow = readonly unknown[];

/** Gives the rows of a query. */
type Ask = (sql: string) => Promise<readonly CellsOfRow[]>;

/** Numbers of the edges that rows name: their ends and labels are looked up before {@link decodedRows}. */
function edgesNamed(rows: readonly CellsOfRow[], columns: readonly SqlColumn[]): ReadonlySet<string> {
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
function edgesQuery(edges: Iterable<string>): string {
  return `SELECT edge, id, label, source, target FROM edges WHERE edge IN (${[...edges].join(', ')})`;
}

/** The edges that rows name, by their numbers. */
async function edgesIn(
  rows: readonly CellsOfRow[],
  columns: readonly SqlColumn[],
  ask: Ask,
): Promise<ReadonlyMap<string, EdgeRow>> {
  const named = edgesNamed(rows, columns);
  const edges = new Map<string, EdgeRow>();
  if (named.size === 0) return edges;
  for (const [edge, id, label, source, target] of await ask(edgesQuery(named)))
    edges.set(String(edge), {
      id: (id ?? undefined) as string | undefined,
      label: (label ?? undefined) as string | undefined,
      source: source as string,
      target: target as string,
    });
  return edges;
}

/**
 * Rows of values: nodes, edges and paths as `runPattern` has them.
 * @param ask asks the same engine, of the same tables
 */
export async function decodedRows(
  rows: readonly CellsOfRow[],
  columns: readonly SqlColumn[],
  ask: Ask,
): Promise<readonly (readonly unknown[])[]> {
  const edges = await edgesIn(rows, columns, ask);
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
