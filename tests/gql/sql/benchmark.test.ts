/**
 * The patterns of the benchmark over a few generated devices (`../../bench/match-archive.ts`): the pattern engine, PostgreSQL and DuckDB
 * count what the benchmark's loops over arrays count, which know nothing of any of them.
 */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { compileSql, PatternGraph, prepare, runPattern, type SegmentInput } from '../../../src/gql/gql.ts';
import { DuckDbEngine } from '../../../src/mirror/duckdb-engine.ts';
import { device, deviceKey, HIERARCHY, knowledge } from '../../bench/match-archive.ts';
import { PATTERNS } from '../../bench/match-patterns.ts';
import { tables } from '../../bench/match-tables.ts';
import { ask, type Loaded, lines, load, type Opened, openEngines } from './engines.ts';

const DEVICES = 12;
/** Milliseconds for a statement; each takes a fraction of a second where nothing else runs. */
const LONGEST = 20_000;

/** PostgreSQL takes over 20 s for it, even on so few devices, so that it is compiled for it and not asked. */
const COMPILED_ONLY = 'one part reused by several makers';

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

test.each(PATTERNS)('$name', async ({ name, text, loops }) => {
  const pattern = prepare(text);
  const expected = await runPattern(graph, pattern, { distinctNodes: true });
  expect(expected.rows).toEqual([[loops(arrays)]]);
  for (const engine of opened.engines) {
    if (name === COMPILED_ONLY && engine.dialect === 'postgres') {
      const { sql } = compileSql(pattern, {
        dialect: 'postgres',
        schema: loaded.columns.schema(loaded.uncertain),
        distinctNodes: true,
      });
      expect(sql).toContain('COUNT(*)');
      continue;
    }
    const timer =
      engine instanceof DuckDbEngine ? setTimeout(() => engine.connection.interrupt(), LONGEST) : undefined;
    const answer = await ask(engine, pattern, loaded, { distinctNodes: true });
    clearTimeout(timer);
    expect(lines(answer.rows), `${engine.dialect}\n${answer.sql}`).toEqual(lines(expected.rows));
  }
});
