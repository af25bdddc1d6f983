/**
 * Patterns over a mirror of many generated devices, in Parquet files read by DuckDB in this process:
 * `node src/run.mjs --script tests/bench/mirror.ts`. Load time, size on disk, the benchmark's twelve patterns and some that
 * walk along quantified paths, and the most memory that the process has had.
 *
 * Environment: BENCH_DEVICES (100000), BENCH_COMPONENTS a device (12), BENCH_COPIES (1): each device is written so often, under
 * other ids; BENCH_MEMORY (8GB) for DuckDB, BENCH_TIME (120) seconds a pattern, BENCH_FOLDER in which the files are for the time.
 */
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  columnsOfTable,
  compileSql,
  createTables,
  PropertyColumns,
  prepare,
  rowsOfSegment,
  TABLES,
} from '../../src/gql/gql.ts';
import { DuckDbEngine } from '../../src/mirror/duckdb-engine.ts';
import { graphCounts } from '../../src/mirror/graph-counts.ts';
import { appendRows, writeParquet } from '../../src/mirror/parquet-mirror.ts';
import { device, deviceKey, HIERARCHY, knowledge } from './match-archive.ts';
import { PATTERNS } from './match-patterns.ts';

const DEVICES = Number(process.env.BENCH_DEVICES ?? 100_000);
const COMPONENTS = Number(process.env.BENCH_COMPONENTS ?? 12);
const COPIES = Number(process.env.BENCH_COPIES ?? 1);
const MEMORY = process.env.BENCH_MEMORY ?? '8GB';
const SECONDS = Number(process.env.BENCH_TIME ?? 120);
/** Devices in a file. */
const BATCH = 5_000;

const ALONG_PATHS = [
  {
    name: 'sensor to connector in up to three steps',
    text: 'MATCH (s:OpticalSensor)~[:CONNECTS]~{1,3}(c:ChargingContact) RETURN COUNT(*) AS n',
  },
  {
    name: 'what a charger reaches by any trail over passives',
    text: 'MATCH TRAIL (c:Charger) ((x)~[:CONNECTS]~(y:Passive)){1,4} (m:Microcontroller) RETURN COUNT(*) AS n',
  },
];

const folder = mkdtempSync(join(process.env.BENCH_FOLDER ?? tmpdir(), 'caseback-bench-mirror-'));
try {
  await bench();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function bench(): Promise<void> {
  const engine = await DuckDbEngine.open({ threads: 2, memory: MEMORY });
  const columns = new PropertyColumns();
  let edges = 0;
  const settings = { columns, nextEdge: () => edges++, hierarchy: HIERARCHY };
  // The columns of all devices, before the first file is written.
  for (let d = 0; d < 200; d++) rowsOfSegment('', device(d, COMPONENTS), settings);
  rowsOfSegment('', knowledge(), settings);
  edges = 0;
  const start = performance.now();
  const used = process.cpuUsage();
  for (let first = 0, part = 0; first < DEVICES; first += BATCH, part++) {
    for (const table of TABLES) await engine.rows(`DROP TABLE IF EXISTS ${table}`);
    for (const sql of createTables(columns, 'duckdb')) await engine.rows(sql);
    const append = async (key: string, segment: ReturnType<typeof device>) => {
      const rows = rowsOfSegment(key, segment, settings);
      return rows;
    };
    const rows = first === 0 ? [await append('knowledge', knowledge())] : [];
    for (let d = first; d < Math.min(DEVICES, first + BATCH); d++)
      rows.push(await append(deviceKey(d), device(d, COMPONENTS)));
    for (const table of TABLES) {
      await appendRows(
        engine,
        table,
        rows.flatMap((one) => one[table]),
        columns,
      );
      for (let copy = 0; copy < COPIES; copy++)
        await writeParquet(
          engine,
          table,
          join(folder, `${table}-${part}-${copy}.parquet`),
          copyOf(table, copy),
        );
    }
  }
  for (const table of TABLES) {
    await engine.rows(`DROP TABLE ${table}`);
    const list = columnsOfTable(table, columns, 'duckdb').map(({ name }) => name);
    await engine.rows(
      `CREATE VIEW ${table} AS SELECT ${list.join(', ')} FROM read_parquet('${join(folder, `${table}-*.parquet`)}')`,
    );
  }
  const sizes: string[] = [];
  for (const table of TABLES) {
    const [[rows] = []] = await engine.rows(`SELECT COUNT(*) FROM ${table}`);
    sizes.push(`${rows} ${table}`);
  }
  const bytes = readdirSync(folder).reduce((sum, name) => sum + statSync(join(folder, name)).size, 0);
  const { user, system } = process.cpuUsage(used);
  console.log(
    `${DEVICES * COPIES} devices: ${sizes.join(', ')}; written in ${seconds(performance.now() - start)}, ` +
      `${((user + system) / 1e6).toFixed(0)} s of processor time; ${(bytes / 2 ** 20).toFixed(0)} MiB; ${memory()}`,
  );
  const counting = process.cpuUsage();
  const counts = await graphCounts(engine);
  const counted = process.cpuUsage(counting);
  console.log(`counted in ${((counted.user + counted.system) / 1e6).toFixed(1)} s of processor time`);
  for (const { name, text } of [...PATTERNS, ...ALONG_PATHS]) {
    const pattern = prepare(text);
    const { sql } = compileSql(pattern, {
      dialect: 'duckdb',
      schema: { ...columns.schema(true), counts },
      distinctNodes: true,
    });
    const began = performance.now();
    const before = process.cpuUsage();
    const timer = setTimeout(() => engine.connection.interrupt(), SECONDS * 1000);
    const found = await engine.rows(sql).then(
      (rows) => String(rows[0]?.[0]),
      (error: Error) => `not answered: ${error.message.split('\n', 1)[0]}`,
    );
    clearTimeout(timer);
    const spent = process.cpuUsage(before);
    console.log(
      `${name.padEnd(60)} ${found.padStart(10)} ${seconds(performance.now() - began).padStart(9)} ` +
        `${((spent.user + spent.system) / 1e6).toFixed(1).padStart(7)} s of processor time  ${memory()}`,
    );
  }
  await engine.close();
}

/** The rows of a table as those of other devices: parts and makers are shared, and stand in the first copy. */
function copyOf(table: (typeof TABLES)[number], copy: number): string {
  if (copy === 0) return `SELECT * FROM ${table}`;
  const ids = { nodes: ['id'], labels: ['node'], edges: ['source', 'target'] }[table];
  const renamed = ['segment', ...ids].map((id) => `replace(${id}, 'device/', 'device/${copy}/') AS ${id}`);
  // No generated archive here has so many edges.
  if (table === 'edges') renamed.push(`edge + ${copy * 1e9} AS edge`);
  return `SELECT * REPLACE (${renamed.join(', ')}) FROM ${table} WHERE segment <> 'knowledge'`;
}

function seconds(milliseconds: number): string {
  return `${(milliseconds / 1000).toFixed(1)} s`;
}

function memory(): string {
  return `most memory ${(process.resourceUsage().maxRSS / 2 ** 20).toFixed(2)} GiB`;
}
