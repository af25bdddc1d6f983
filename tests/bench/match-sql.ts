/**
 * The generated archive in DuckDB, an embedded analytical SQL engine (development only).
 */
import {
  DOUBLE,
  type DuckDBConnection,
  DuckDBDataChunk,
  DuckDBInstance,
  type DuckDBType,
  type DuckDBValue,
  INTEGER,
  VARCHAR,
} from '@duckdb/node-api';
import { BUSES, LEAVES, MEDIA, type Tables } from './match-tables.ts';

export interface Sql {
  /** Runs a prepared counting query; answers milliseconds and the count. */
  readonly count: (text: string) => Promise<{ readonly ms: number; readonly n: number }>;
  readonly close: () => void;
}

const CHUNK = 2048;

export async function openSql(t: Tables): Promise<Sql> {
  const instance = await DuckDBInstance.create(':memory:');
  const db = await instance.connect();
  const labels = LEAVES.map((l) => `'${l}'`).join();
  await db.run(`CREATE TYPE label AS ENUM (${labels})`);
  await db.run(`CREATE TYPE medium AS ENUM (${MEDIA.map((m) => `'${m}'`).join()})`);
  await db.run(
    `CREATE TYPE bus AS ENUM (${BUSES.slice(1)
      .map((b) => `'${b}'`)
      .join()})`,
  );
  await fill(
    db,
    'raw_component',
    [
      ['id', INTEGER, (i) => i],
      ['kind', VARCHAR, (i) => LEAVES[t.kind[i]!]!],
      ['parent', VARCHAR, (i) => LEAVES[t.parent[i]!]!],
      ['board', INTEGER, (i) => t.board[i]!],
      ['part', INTEGER, (i) => (t.part[i]! < 0 ? null : t.part[i]!)],
      ['x', DOUBLE, (i) => t.x[i]!],
      ['y', DOUBLE, (i) => t.y[i]!],
      ['side', VARCHAR, (i) => (t.top[i] === 1 ? 'top' : 'bottom')],
      ['certain', INTEGER, (i) => t.certain[i]!],
    ],
    t.components,
  );
  await db.run(
    `CREATE TABLE component AS SELECT id, kind::label AS kind, parent::label AS parent, board, part, x, y, side = 'top' AS side, certain = 1 AS certain FROM raw_component ORDER BY id`,
  );
  const owner = new Int32Array(t.to.length);
  for (let c = 0; c < t.components; c++) owner.fill(c, t.from[c]!, t.from[c + 1]!);
  await fill(
    db,
    'raw_link',
    [
      ['a', INTEGER, (i) => owner[i]!],
      ['b', INTEGER, (i) => t.to[i]!],
      ['medium', VARCHAR, (i) => MEDIA[t.medium[i]!]!],
      ['bus', VARCHAR, (i) => (t.bus[i] === 0 ? null : BUSES[t.bus[i]!]!)],
    ],
    t.to.length,
  );
  await db.run(
    'CREATE TABLE link AS SELECT a, b, medium::medium AS medium, bus::bus AS bus FROM raw_link ORDER BY a, b',
  );
  await fill(
    db,
    'board',
    [
      ['id', INTEGER, (i) => i],
      ['device', INTEGER, (i) => t.deviceOf[i]!],
    ],
    t.boards,
  );
  await fill(
    db,
    'device',
    [
      ['id', INTEGER, (i) => i],
      ['maker', INTEGER, (i) => t.deviceMaker[i]!],
    ],
    t.devices,
  );
  await db.run('DROP TABLE raw_component; DROP TABLE raw_link; ANALYZE');
  const prepared = new Map<string, Awaited<ReturnType<DuckDBConnection['prepare']>>>();
  return {
    async count(text) {
      let statement = prepared.get(text);
      if (!statement) {
        statement = await db.prepare(text);
        prepared.set(text, statement);
      }
      const start = performance.now();
      const result = await statement.run();
      const chunk = await result.fetchChunk();
      const ms = performance.now() - start;
      return { ms, n: Number(chunk!.getColumnValues(0)[0]) };
    },
    close() {
      db.closeSync();
      instance.closeSync();
    },
  };
}

type Column = readonly [name: string, type: DuckDBType, value: (row: number) => DuckDBValue];

async function fill(
  db: DuckDBConnection,
  table: string,
  columns: readonly Column[],
  rows: number,
): Promise<void> {
  await db.run(`CREATE TABLE ${table} (${columns.map(([name, type]) => `${name} ${type}`).join()})`);
  const appender = await db.createAppender(table);
  for (let start = 0; start < rows; start += CHUNK) {
    const size = Math.min(CHUNK, rows - start);
    const chunk = DuckDBDataChunk.create(columns.map(([, type]) => type));
    chunk.setColumns(columns.map(([, , value]) => Array.from({ length: size }, (_, i) => value(start + i))));
    appender.appendDataChunk(chunk);
  }
  appender.closeSync();
}
