/**
 * `npm run bench:match`: twelve patterns on a generated archive, asked of the engine, of DuckDB and of loops written
 * by hand, in one run; then large patterns on a labelled graph; then the growth of memory with the archive.
 *
 * Environment: BENCH_DEVICES (10000), BENCH_ROUNDS (25), BENCH_GROWTH (comma-separated device counts, or empty to
 * leave the curve out), BENCH_PARTS (`archive,labelled,growth`).
 */
import { countPattern, defaultPool, PatternGraph, streamPattern } from '../../src/gql/gql.ts';
import { device, deviceKey, HIERARCHY, knowledge } from './match-archive.ts';
import { benchLabelled } from './match-labelled-run.ts';
import { PATTERNS } from './match-patterns.ts';
import { openSql } from './match-sql.ts';
import { tables } from './match-tables.ts';

const DEVICES = Number(process.env.BENCH_DEVICES ?? 10_000);
const ROUNDS = Number(process.env.BENCH_ROUNDS ?? 25);
const GROWTH = (process.env.BENCH_GROWTH ?? '1000,10000,30000,100000').split(',').filter(Boolean).map(Number);
const PARTS = (process.env.BENCH_PARTS ?? 'archive,labelled,growth').split(',');

if (PARTS.includes('archive')) await benchArchive();
if (PARTS.includes('labelled')) await benchLabelled(ROUNDS);
if (PARTS.includes('growth')) growth();
await defaultPool().close();

async function benchArchive(): Promise<void> {
  const graph = archive(DEVICES);
  const t = tables(DEVICES);
  const sql = await openSql(t);
  defaultPool().warm();
  const { total, parts } = graph.memory();
  console.log(`${DEVICES} devices, ${t.components} components, ${graph.edgeCount} edges`);
  console.log(`index: ${(total / t.components).toFixed(0)} bytes a component (aim 250)`);
  console.log(
    `  ${Object.entries(parts)
      .map(([name, bytes]) => `${name} ${(bytes / t.components).toFixed(1)}`)
      .join(', ')}\n`,
  );
  console.log(
    `${'pattern'.padEnd(52)} ${'matches'.padStart(8)}  engine ms      loops ms       SQL ms         /loops  SQL/   first row ms`,
  );
  let worstLoops = 0;
  let worstSql = Number.POSITIVE_INFINITY;
  for (const pattern of PATTERNS) {
    const engine: number[] = [];
    const loops: number[] = [];
    const database: number[] = [];
    const first: number[] = [];
    const counts = new Set<number>();
    const options = { distinctNodes: true, budgets: { time: 60_000, rows: 1e9 } };
    for (let round = 0; round < ROUNDS + 5; round++) {
      const times = [0, 0, 0];
      let start = performance.now();
      const answer = await countPattern(graph, pattern.text, options);
      times[0] = performance.now() - start;
      counts.add(answer.count);
      start = performance.now();
      counts.add(pattern.loops(t));
      times[1] = performance.now() - start;
      const { ms, n } = await sql.count(pattern.sql);
      times[2] = ms;
      counts.add(n);
      start = performance.now();
      for await (const _ of streamPattern(graph, rowsOf(pattern.text), options)) break;
      const firstRow = performance.now() - start;
      // The first rounds warm all three up.
      if (round < 5) continue;
      engine.push(times[0]);
      loops.push(times[1]);
      database.push(times[2]);
      first.push(firstRow);
    }
    if (counts.size !== 1) throw new Error(`${pattern.name}: counts differ: ${[...counts].join(', ')}`);
    const toLoops = median(engine) / median(loops);
    const toSql = median(database) / median(engine);
    worstLoops = Math.max(worstLoops, toLoops);
    worstSql = Math.min(worstSql, toSql);
    console.log(
      `${pattern.name.padEnd(52)} ${String([...counts][0]).padStart(8)}  ${pair(engine)} ${pair(loops)} ${pair(database)} ${toLoops.toFixed(2).padStart(6)} ${toSql.toFixed(1).padStart(6)}   ${pair(first)}`,
    );
  }
  console.log(
    `\nworst of all: ${worstLoops.toFixed(2)} times the loops (aim 1.5), ${worstSql.toFixed(1)} times faster than SQL (aim 3)\n`,
  );
  sql.close();
}

/** The same pattern, asked for its rows. */
function rowsOf(text: string): string {
  return text.replace('RETURN COUNT(*) AS n', 'RETURN *');
}

function archive(devices: number): PatternGraph {
  const graph = new PatternGraph({ hierarchy: HIERARCHY });
  graph.putSegment('knowledge', knowledge());
  for (let d = 0; d < devices; d++) graph.putSegment(deviceKey(d), device(d));
  return graph;
}

function growth(): void {
  console.log('devices     nodes      edges      index MiB  bytes/component  process MiB  seconds to build');
  for (const devices of GROWTH) {
    const start = performance.now();
    const graph = archive(devices);
    const seconds = (performance.now() - start) / 1000;
    const { total } = graph.memory();
    let components = 0;
    for (let d = 0; d < devices; d++) components += device(d).nodes.length - 3;
    globalThis.gc?.();
    console.log(
      [
        String(devices).padEnd(11),
        String(graph.nodeCount).padEnd(10),
        String(graph.edgeCount).padEnd(10),
        (total / 2 ** 20).toFixed(0).padEnd(10),
        (total / components).toFixed(0).padEnd(16),
        (process.memoryUsage().rss / 2 ** 20).toFixed(0).padEnd(12),
        seconds.toFixed(1),
      ].join(' '),
    );
  }
}

function sorted(values: readonly number[]): number[] {
  return [...values].sort((a, b) => a - b);
}

function median(values: readonly number[]): number {
  return sorted(values)[Math.floor(values.length / 2)]!;
}

/** Median and 95th percentile. */
function pair(values: readonly number[]): string {
  const list = sorted(values);
  const p95 = list[Math.min(list.length - 1, Math.floor(list.length * 0.95))]!;
  return `${median(values).toFixed(2).padStart(6)} /${p95.toFixed(2).padStart(6)}`;
}
