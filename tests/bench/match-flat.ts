/**
 * `npm run bench:flat`: ten patterns on an archive of flat tables, asked of the engine (categories as properties, and
 * as labels), of loops written by hand and of DuckDB at two threads, at growing numbers of devices; all count the same
 * or the run fails. Then how long the archive takes to load, and its memory.
 *
 * Environment: BENCH_SIZES (1000,10000 devices), BENCH_COMPONENTS (80 a device), BENCH_ROUNDS (9), BENCH_STYLES
 * (`property,label`), BENCH_ONLY (words of a pattern's name), BENCH_EXPLAIN (1 to print plans).
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { countPattern, defaultPool, explainPattern, PatternGraph } from '../../src/gql/gql.ts';
import {
  deviceSegment,
  type FlatTables,
  flatTables,
  partsSegment,
  type Style,
} from './match-flat-archive.ts';
import { FLAT_PATTERNS, type FlatPattern, flatText } from './match-flat-patterns.ts';
import { type FlatSql, openFlatSql, writeCsv } from './match-flat-sql.ts';

const list = (name: string, otherwise: string) =>
  (process.env[name] ?? otherwise).split(',').filter((item) => item !== '');
const SIZES = list('BENCH_SIZES', '1000,10000').map(Number);
const COMPONENTS = Number(process.env.BENCH_COMPONENTS ?? 80);
const ROUNDS = Number(process.env.BENCH_ROUNDS ?? 9);
const STYLES = list('BENCH_STYLES', 'property,label') as Style[];
const ONLY = process.env.BENCH_ONLY ?? '';
const OPTIONS = { budgets: { time: 120_000, rows: 1e9, steps: 1e12 } };

/** Median milliseconds of one way to ask, on the clock and of processors. */
interface Timing {
  readonly wall: number;
  readonly cpu: number;
}

/** Per pattern and way, what a smaller archive took. */
const before = new Map<string, number>();
let misses = 0;

for (const devices of SIZES) {
  const t = flatTables(devices, COMPONENTS);
  console.log(
    `\n${devices} devices: ${t.components} components, ${t.wireA.length} wires, ${t.boards} boards, ${t.parts} parts`,
  );
  const folder = mkdtempSync(join(tmpdir(), 'bench-flat-'));
  try {
    await writeCsv(t, folder);
    const sql = await openFlatSql(folder);
    const graphs = STYLES.map((style) => [style, loaded(t, style, sql)] as const);
    defaultPool().warm();
    await patterns(t, graphs, sql);
    sql.close();
  } finally {
    rmSync(folder, { recursive: true });
  }
}
console.log(`\n${misses} figures over the aim (1.5 times the loops or 5 ms, and not above SQL)`);
await defaultPool().close();

function loaded(t: FlatTables, style: Style, sql: FlatSql): PatternGraph {
  const start = performance.now();
  const graph = new PatternGraph();
  let adding = 0;
  const put = (key: string, segment: Parameters<PatternGraph['putSegment']>[1]) => {
    const begun = performance.now();
    graph.putSegment(key, segment);
    adding += performance.now() - begun;
  };
  put('parts', partsSegment(t));
  for (let d = 0; d < t.devices; d++) put(`d${d}`, deviceSegment(t, d, style));
  const seconds = (performance.now() - start) / 1000;
  const { total } = graph.memory();
  console.log(
    `load (${style}): ${seconds.toFixed(1)} s, of which adding segments ${(adding / 1000).toFixed(1)} s; SQL from CSV ${sql.seconds.toFixed(2)} s. ` +
      `Memory ${(total / t.components).toFixed(0)} bytes a component; SQL ${(sql.bytes / t.components).toFixed(0)}`,
  );
  return graph;
}

async function patterns(
  t: FlatTables,
  graphs: readonly (readonly [Style, PatternGraph])[],
  sql: FlatSql,
): Promise<void> {
  console.log(
    `${'median ms (of processors)'.padEnd(50)} ${'matches'.padStart(9)} ${STYLES.map((style) => style.padStart(18)).join('')}${'loops'.padStart(9)}${'SQL'.padStart(18)}  times smaller archive`,
  );
  for (const pattern of FLAT_PATTERNS.filter(({ name }) => name.includes(ONLY))) {
    if (process.env.BENCH_EXPLAIN)
      for (const [style, graph] of graphs)
        console.log((await explainPattern(graph, flatText(pattern, style), OPTIONS)).text);
    const { count, engine, loops, database } = await timed(pattern, t, graphs, sql);
    const growth = [
      ...graphs.map(([style], g) => [style, engine[g]!.wall] as const),
      ['loops', loops.wall] as const,
    ].map(([way, ms]) => {
      const name = `${pattern.name}/${way}`;
      const last = before.get(name);
      before.set(name, ms);
      return last === undefined ? '' : (ms / last).toFixed(1);
    });
    const marks = engine.map(({ wall }) => {
      const over = wall > Math.max(5, loops.wall * 1.5) || wall > Math.max(0.5, database.wall);
      if (over) misses++;
      return over ? '!' : ' ';
    });
    const both = ({ wall, cpu }: Timing) => `${wall.toFixed(2)} (${cpu.toFixed(1)})`;
    console.log(
      `${pattern.name.padEnd(50)} ${String(count).padStart(9)} ${engine.map((e, i) => both(e).padStart(17) + marks[i]).join('')}${loops.wall.toFixed(2).padStart(9)}${both(database).padStart(18)}  ${growth.join(' ')}`,
    );
  }
}

async function timed(
  pattern: FlatPattern,
  t: FlatTables,
  graphs: readonly (readonly [Style, PatternGraph])[],
  sql: FlatSql,
): Promise<{ count: number; engine: Timing[]; loops: Timing; database: Timing }> {
  const ways: (() => Promise<number>)[] = [
    ...graphs.map(([style, graph]) => async () => {
      const { count, note } = await countPattern(graph, flatText(pattern, style), OPTIONS);
      if (note) throw new Error(`${pattern.name}: ${note}`);
      return count;
    }),
    async () => pattern.loops(t),
    async () => (await sql.count(pattern.sql)).n,
  ];
  const walls: number[][] = ways.map(() => []);
  const cpus: number[][] = ways.map(() => []);
  const counts = new Set<number>();
  // The first rounds warm all up.
  for (let round = -8; round < ROUNDS; round++)
    for (const [w, way] of ways.entries()) {
      const cpu = process.cpuUsage();
      const start = performance.now();
      counts.add(await way());
      const wall = performance.now() - start;
      const { user, system } = process.cpuUsage(cpu);
      if (round < 0) continue;
      walls[w]!.push(wall);
      cpus[w]!.push((user + system) / 1000);
    }
  if (counts.size !== 1) throw new Error(`${pattern.name}: counts differ: ${[...counts].join(', ')}`);
  const timing = ways.map((_, w) => ({ wall: median(walls[w]!), cpu: median(cpus[w]!) }));
  const [database, loops] = [timing.pop()!, timing.pop()!];
  return { count: [...counts][0]!, engine: timing, loops, database };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
