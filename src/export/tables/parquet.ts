import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DuckDBAppender } from '@duckdb/node-api';
import { DuckDbEngine } from '../../mirror/duckdb-engine.ts';
import type { State } from '../../state/state.ts';
import type { Lose } from '../export-file.ts';
import type { Scope } from '../graph/graph.ts';
import type { Cell, Column, ExportTable } from './columns.ts';
import type { Provenance } from './csvw.ts';
import type { FilledTable } from './tables.ts';

// Tables as Parquet files, written by DuckDB as mirrors are. Columns have the types of what they hold; texts are as on record, since no
// spreadsheet reads a formula in them.

/** Rows that are put into the table at once: few, so that nobody waits for it. */
const FLUSHED = 5_000;
/** What the engine may have of memory; beyond it writes to the folder. */
const MEMORY = '256MB';

/** Name of the Parquet file of a table. */
export function parquetName({ file }: ExportTable<never>): string {
  return file.replace(/csv$/u, 'parquet');
}

/**
 * A table as a Parquet file: made whole in a folder of its own, which is gone once the file is taken.
 * @throws CasebackError UNAVAILABLE where DuckDB does not run; the signal's reason
 */
export async function* parquetOf(
  { table, cells }: FilledTable,
  state: State,
  scope: Scope,
  provenance: Provenance,
  lose: Lose,
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const folder = await mkdtemp(join(tmpdir(), 'caseback-parquet-'));
  try {
    const file = join(folder, parquetName(table));
    const engine = await DuckDbEngine.open({ threads: 1, memory: MEMORY });
    try {
      await engine.rows(`SET temp_directory = ${quoted(folder)}`);
      const columns = table.columns.map((column) => `"${column.name}" ${typeOf(column)}`);
      await engine.rows(`CREATE TABLE rows (${columns.join(', ')})`);
      const appender = await engine.connection.createAppender('rows');
      let waiting = 0;
      for await (const some of cells(state, scope, lose, signal)) {
        for (const row of some) {
          for (const [i, column] of table.columns.entries()) append(appender, column, row[i]);
          appender.endRow();
        }
        waiting += some.length;
        if (waiting < FLUSHED) continue;
        appender.flushSync();
        waiting = 0;
      }
      appender.closeSync();
      await engine.rows(
        `COPY (SELECT ${selected(table)} FROM rows) TO ${quoted(file)} (FORMAT parquet, COMPRESSION snappy, KV_METADATA {caseback: ${quoted(JSON.stringify(aboutOf(table, provenance)))}})`,
      );
    } finally {
      await engine.close();
    }
    signal?.throwIfAborted();
    yield* createReadStream(file) as AsyncIterable<Uint8Array>;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function typeOf({ kind, separator }: Column<never>): string {
  if (separator !== undefined) return 'VARCHAR[]';
  switch (kind) {
    case 'number':
      return 'DOUBLE';
    case 'count':
      return 'INTEGER';
    case 'boolean':
      return 'BOOLEAN';
    case 'json':
      return 'JSON';
    default:
      return 'VARCHAR';
  }
}

function append(appender: DuckDBAppender, column: Column<never>, value: Cell): void {
  if (value === undefined || value === null) appender.appendNull();
  else if (column.separator !== undefined) appender.appendList(value as readonly string[]);
  else if (column.kind === 'number') appender.appendDouble(value as number);
  else if (column.kind === 'count') appender.appendInteger(value as number);
  else if (column.kind === 'boolean') appender.appendBoolean(value as boolean);
  else appender.appendVarchar(column.kind === 'json' ? JSON.stringify(value) : String(value));
}

/** Its columns; beside a date as recorded, which may be a month or a year, the first and the last day that it may be. */
function selected({ columns }: ExportTable<never>): string {
  return columns
    .flatMap(({ name, kind }) => {
      if (kind !== 'date') return [`"${name}"`];
      const first = `CAST("${name}" || CASE length("${name}") WHEN 4 THEN '-01-01' WHEN 7 THEN '-01' ELSE '' END AS DATE)`;
      const last = `CASE length("${name}") WHEN 4 THEN make_date(CAST("${name}" AS INTEGER), 12, 31) WHEN 7 THEN last_day(${first}) ELSE ${first} END`;
      return [`"${name}"`, `${first} AS "${name}_first_day"`, `${last} AS "${name}_last_day"`];
    })
    .join(', ');
}

/** What the file says of itself under the key `caseback`. */
function aboutOf({ title, says, columns }: ExportTable<never>, { date, licence }: Provenance): object {
  return {
    title,
    description: says,
    date,
    ...(licence !== undefined && { licence }),
    columns: Object.fromEntries(
      columns.map(({ name, says: description, unit, words }) => [name, { description, unit, words }]),
    ),
  };
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
