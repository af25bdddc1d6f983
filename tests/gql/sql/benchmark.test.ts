/**
 * The patterns of the benchmark over a few generated devices (`../../bench/match-archive.ts`): the pattern engine, PostgreSQL and DuckDB
 * count what the benchmark's loops over arrays count, which know nothing of any of them.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  compileSql,
  PatternGraph,
  prepare,
  runPattern,
  type SegmentInput,
  TABLES,
} from '../../../src/gql/gql.ts';
import { DuckDbEngine } from '../../../src/mirror/duckdb-engine.ts';
import { graphCounts } from '../../../src/mirror/graph-counts.ts';
import { writeParquet } from '../../../src/mirror/parquet-mirror.ts';
import { device, deviceKey, HIERARCHY, knowledge } from '../../bench/match-archive.ts';
import { PATTERNS } from '../../bench/match-patterns.ts';
import { tables } from '../../bench/match-tables.ts';
import { ask, type Loaded, lines, load, type Opened, openEngines } from './engines.ts';

const DEVICES = 12;
/** Milliseconds for a statement; each takes a fraction of a second where nothing else runs. */
const LONGEST = 20_000;

const graph = new PatternGraph({ hierarchy: HIERARCHY });
let opened: Opened;
let loaded: Loaded;

beforeAll(async () => {
  const segments = new Map<string, SegmentInput>([['knowledge', knowledge()]]);
  for (let d = 0; d < DEVICES; d++) segments.set(deviceKey(d), device(d));
  for (const [key, segment] of segments) graph.putSegment(key, segment);
  opened = await openEngines();
  loaded = await load(opened.engines, segments, HIERARCHY);
  for (const engine of opened.engines)
    if (engine.dialect === 'postgres') await engine.rows(`SET statement_timeout = ${LONGEST}`);
});
afterAll(() => opened.close());

const arrays = tables(DEVICES);

test.each(PATTERNS)('$name', async ({ text, loops }) => {
  const pattern = prepare(text);
  const expected = await runPattern(graph, pattern, { distinctNodes: true });
  expect(expected.rows).toEqual([[loops(arrays)]]);
  for (const engine of opened.engines) {
    const timer =
      engine instanceof DuckDbEngine ? setTimeout(() => engine.connection.interrupt(), LONGEST) : undefined;
    const answer = await ask(engine, pattern, loaded, { distinctNodes: true });
    clearTimeout(timer);
    expect(lines(answer.rows), `${engine.dialect}\n${answer.sql}`).toEqual(lines(expected.rows));
  }
});

test('over Parquet files DuckDB joins along edges alone', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-sql-'));
  const [held] = opened.engines.filter((one) => one instanceof DuckDbEngine);
  const engine = await DuckDbEngine.open({ threads: 1 });
  try {
    for (const table of TABLES) {
      const file = join(folder, `${table}.parquet`);
      await writeParquet(held!, table, file);
      await engine.rows(`CREATE VIEW ${table} AS SELECT * FROM read_parquet('${file}')`);
    }
    const schema = { ...loaded.columns.schema(true), counts: await graphCounts(engine) };
    for (const { name, text } of PATTERNS) {
      const { sql } = compileSql(prepare(text), { dialect: 'duckdb', schema, distinctNodes: true });
      const plan = (await engine.rows(`EXPLAIN ${sql}`)).map((row) => row[1]).join('\n');
      expect(plan, name).toContain('HASH_JOIN');
      expect(plan, name).not.toMatch(
        /NESTED_LOOP_JOIN|BLOCKWISE_NL_JOIN|CROSS_PRODUCT|PIECEWISE_MERGE|IE_JOIN/u,
      );
    }
  } finally {
    await engine.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
