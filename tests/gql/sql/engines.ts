/** Graphs in the tables of real SQL engines, and patterns asked of them. */
import type {
  GraphCounts,
  LabelHierarchy,
  PreparedPattern,
  SegmentInput,
  SqlFunction,
} from '../../../src/gql/gql.ts';
import {
  compileSql,
  createTables,
  decodedRows,
  insertRows,
  PropertyColumns,
  rowsOfSegment,
  TABLES,
} from '../../../src/gql/gql.ts';
import { DuckDbEngine } from '../../../src/mirror/duckdb-engine.ts';
import type { SqlEngine } from '../../../src/mirror/engine.ts';
import { PostgresEngine } from '../../../src/mirror/postgres-engine.ts';
import { sharedSchema } from '../../postgres/shared.ts';

export interface Opened {
  readonly engines: readonly SqlEngine[];
  readonly close: () => Promise<void>;
}

/** DuckDB in memory and a schema of the shared PostgreSQL server. */
export async function openEngines(): Promise<Opened> {
  const schema = await sharedSchema();
  const engines = [await DuckDbEngine.open({ threads: 1 }), await PostgresEngine.open(schema.url)];
  const close = async () => {
    for (const engine of engines) await engine.close();
    await schema.drop();
  };
  return { engines, close };
}

/** What is in the tables, for compiling. */
export interface Loaded {
  readonly columns: PropertyColumns;
  readonly uncertain: boolean;
}

/** Puts a graph in the tables, in place of what is there. */
export async function load(
  engines: readonly SqlEngine[],
  segments: ReadonlyMap<string, SegmentInput>,
  hierarchy: LabelHierarchy = {},
): Promise<Loaded> {
  const columns = new PropertyColumns();
  let last = 0;
  const parts = [...segments].map(([key, segment]) =>
    rowsOfSegment(key, segment, { columns, nextEdge: () => last++, hierarchy }),
  );
  for (const engine of engines)
    await engine.atOnce(async () => {
      for (const table of TABLES) await engine.rows(`DROP TABLE IF EXISTS ${table}`);
      for (const sql of createTables(columns, engine.dialect)) await engine.rows(sql);
      for (const table of TABLES) {
        const rows = parts.flatMap((part) => part[table]);
        for (const sql of insertRows(table, rows, columns, engine.dialect)) await engine.rows(sql);
        // Hardly worth it for a dozen nodes.
        if (rows.length > 100) await engine.rows(`ANALYZE ${table}`);
      }
    });
  return { columns, uncertain: parts.some(({ uncertain }) => uncertain) };
}

export interface AskOptions {
  readonly parameters?: Readonly<Record<string, unknown>>;
  readonly distinctNodes?: boolean;
  readonly unrolled?: number;
  readonly functions?: Readonly<Record<string, SqlFunction>>;
  /** By which joins are put in order; wrong ones change no rows. */
  readonly counts?: GraphCounts | undefined;
}

/** The rows of a pattern on an engine. */
export async function ask(
  engine: SqlEngine,
  pattern: PreparedPattern,
  { columns, uncertain }: Loaded,
  options: AskOptions = {},
) {
  const compiled = compileSql(pattern, {
    ...options,
    dialect: engine.dialect,
    schema: { ...columns.schema(uncertain), counts: options.counts },
  });
  const cells = await engine.rows(compiled.sql).catch((error: Error) => {
    throw new Error(`${engine.dialect}: ${error.message}\n${pattern.text}\n${compiled.sql}`);
  });
  return {
    sql: compiled.sql,
    columns: compiled.columns.map(({ name }) => name),
    rows: await decodedRows(cells, compiled.columns, (sql) => engine.rows(sql)),
  };
}

/** Rows as sorted lines; numbers to twelve digits, since engines add in another order. */
export function lines(rows: readonly (readonly unknown[])[]): string[] {
  return rows.map((row) => row.map(line).join(' | ')).sort();
}

function line(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(line).join()}]`;
  if (typeof value === 'number') return String(Number(value.toPrecision(12)) + 0);
  if (value === null || typeof value !== 'object') return JSON.stringify(value ?? null);
  const { kind, id, elements, source, target, label } = value as Record<string, unknown>;
  if (kind === 'path') return `path${line(elements)}`;
  if (kind === 'node') return `node ${id}`;
  if (kind === 'edge') return `edge ${id ?? ''} ${label ?? ''} ${source} ${target}`;
  return JSON.stringify(value);
}
