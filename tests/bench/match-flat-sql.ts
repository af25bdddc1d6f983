/**
 * The flat archive as CSV files, and in DuckDB at two threads (development only), read from these files.
 */
import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { CATEGORIES, type FlatTables } from './match-flat-archive.ts';
import type { Sql } from './match-sql.ts';

/** Writes devices, boards, parts, components and wires. */
export async function writeCsv(t: FlatTables, folder: string): Promise<void> {
  const table = (name: string, header: string, rows: number, row: (i: number) => string) =>
    new Promise<void>((resolve, reject) => {
      const stream = createWriteStream(join(folder, `${name}.csv`)).on('error', reject);
      stream.write(`${header}\n`);
      for (let i = 0; i < rows; ) {
        let text = '';
        for (const end = Math.min(rows, i + 10_000); i < end; i++) text += `${row(i)}\n`;
        stream.write(text);
      }
      stream.end(resolve);
    });
  const boardDevice = new Int32Array(t.boards);
  for (let d = 0; d < t.devices; d++) boardDevice.fill(d, t.boardStart[d]!, t.boardStart[d + 1]!);
  const width = (p: number) => t.partWidth[p] || '';
  await table('device', 'id,year', t.devices, (d) => `${d},${2000 + (d % 26)}`);
  await table('board', 'id,device', t.boards, (b) => `${b},${boardDevice[b]}`);
  await table(
    'part',
    'id,number,category,custom,width',
    t.parts,
    (p) => `${p},PN${100_000 + p},${CATEGORIES[t.partCategory[p]!]},${t.partCustom[p] === 1},${width(p)}`,
  );
  await table(
    'component',
    'id,ref,category,device,board,part,width',
    t.components,
    (c) =>
      `${c},X${c - t.start[t.deviceOf[c]!]!},${CATEGORIES[t.category[c]!]},${t.deviceOf[c]},${t.board[c]},${t.part[c]},${width(t.part[c]!)}`,
  );
  await table('wire', 'a,b', t.wireA.length, (i) => `${t.wireA[i]},${t.wireB[i]}`);
}

export interface FlatSql extends Sql {
  /** Seconds that reading the files took. */
  readonly seconds: number;
  /** Bytes that the engine says it holds. */
  readonly bytes: number;
}

/** Tables as DuckDB's manual advises: integers and ENUM columns, wires both ways round, no indexes. */
export async function openFlatSql(folder: string): Promise<FlatSql> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '2' });
  const db = await instance.connect();
  const csv = (name: string) => `read_csv('${join(folder, name)}.csv', header = true)`;
  const start = performance.now();
  await db.run(`CREATE TYPE category AS ENUM (${CATEGORIES.map((c) => `'${c}'`).join()})`);
  await db.run(
    `CREATE TABLE device AS SELECT id::INTEGER AS id, year::SMALLINT AS year FROM ${csv('device')}`,
  );
  await db.run(
    `CREATE TABLE board AS SELECT id::INTEGER AS id, device::INTEGER AS device FROM ${csv('board')}`,
  );
  await db.run(
    `CREATE TABLE part AS SELECT id::INTEGER AS id, number, category::category AS category, custom, width::SMALLINT AS width FROM ${csv('part')}`,
  );
  await db.run(
    `CREATE TABLE component AS SELECT id::INTEGER AS id, ref, category::category AS category, device::INTEGER AS device, board::INTEGER AS board, part::INTEGER AS part, width::SMALLINT AS width FROM ${csv('component')}`,
  );
  await db.run(`CREATE TEMP TABLE raw AS SELECT a::INTEGER AS a, b::INTEGER AS b FROM ${csv('wire')}`);
  const seconds = (performance.now() - start) / 1000;
  await db.run('CREATE TABLE wire AS SELECT a, b FROM raw UNION ALL SELECT b, a FROM raw ORDER BY 1, 2');
  await db.run('DROP TABLE raw; ANALYZE');
  const used = await db.runAndReadAll('SELECT sum(memory_usage_bytes) FROM duckdb_memory()');
  const bytes = Number(used.getRows()[0]![0]);
  const prepared = new Map<string, Awaited<ReturnType<typeof db.prepare>>>();
  return {
    seconds,
    bytes,
    async count(text) {
      let statement = prepared.get(text);
      if (!statement) {
        statement = await db.prepare(text);
        prepared.set(text, statement);
      }
      const begun = performance.now();
      const chunk = await (await statement.run()).fetchChunk();
      return { ms: performance.now() - begun, n: Number(chunk!.getColumnValues(0)[0]) };
    },
    close() {
      db.closeSync();
      instance.closeSync();
    },
  };
}
