// How long a graph takes to load, and what memory it takes: a generated archive of about 80 components a device, in two
// plain CSV files, into the pattern engine and into DuckDB (two threads). Every load has a process of its own.
//
//   npm run bench:load
//
// BENCH_DEVICES (10000) devices, BENCH_ROUNDS (3) rounds of which the fastest counts, BENCH_ONLY (all) comma-separated
// loads, BENCH_FILES a folder to keep the files in.
import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createWriteStream, existsSync, mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { LOADS, type Loaded, SIZE } from './load-ways.ts';
import { device, deviceKey, knowledge } from './match-archive.ts';

const [way, nodesFile, edgesFile, size] = process.argv.slice(2);
if (way !== undefined) {
  console.log(JSON.stringify(await LOADS[way]!(nodesFile!, edgesFile!, Number(size))));
} else {
  const devices = Number(process.env.BENCH_DEVICES ?? 10_000);
  const rounds = Number(process.env.BENCH_ROUNDS ?? 3);
  const ways = process.env.BENCH_ONLY?.split(',') ?? Object.keys(LOADS);
  const kept = process.env.BENCH_FILES;
  const folder = kept ?? mkdtempSync(join(tmpdir(), 'bench-load-'));
  try {
    mkdirSync(folder, { recursive: true });
    const files = [join(folder, `nodes-${devices}.csv`), join(folder, `edges-${devices}.csv`)] as const;
    if (!files.every((file) => existsSync(file))) await writeFiles(devices, ...files);
    compare(ways, rounds, files, devices);
  } finally {
    if (kept === undefined) rmSync(folder, { recursive: true });
  }
}

function compare(
  ways: readonly string[],
  rounds: number,
  files: readonly [string, string],
  devices: number,
): void {
  const megabytes = files.map((file) => (statSync(file).size / 1e6).toFixed(1));
  console.log(`nodes ${megabytes[0]} MB, edges ${megabytes[1]} MB of CSV`);
  const best = new Map<string, Loaded>();
  for (let round = 0; round < rounds; round++) {
    for (const name of ways) {
      const loaded = inOwnProcess(name, [...files, `${devices}`]);
      const before = best.get(name);
      if (!before || loaded.cpu < before.cpu) best.set(name, loaded);
    }
  }
  const fixed = (value: number, digits = 2) => value.toFixed(digits).padStart(9);
  console.log('load        wall s    cpu s  per comp.     RSS MB  bytes/comp.  peak MB   phases (s)');
  for (const [name, { wall, cpu, memory, peak, components, phases }] of best) {
    const words = Object.entries(phases).map(([phase, seconds]) => `${phase} ${seconds.toFixed(2)}`);
    console.log(
      `${name.padEnd(8)} ${fixed(wall)} ${fixed(cpu)} ${fixed((cpu * 1e6) / components)} µs ${fixed(memory / 1e6, 0)} ${fixed(memory / components, 0)} ${fixed(peak / 1e6, 0)}      ${words.join(', ')}`,
    );
  }
  const { parts, components } = [...best.values()].find((loaded) => loaded.parts) ?? {};
  if (parts) {
    console.log('\nbytes a component, by part of the graph');
    for (const [part, bytes] of Object.entries(parts))
      console.log(`${part.padEnd(14)} ${fixed(bytes / components!, 1)}`);
    const total = Object.values(parts).reduce((sum, bytes) => sum + bytes, 0);
    console.log(`${'total'.padEnd(14)} ${fixed(total / components!, 1)}`);
  }
}

function inOwnProcess(name: string, args: readonly string[]): Loaded {
  const script = fileURLToPath(import.meta.url);
  const { stdout, status, stderr } = spawnSync(process.execPath, ['--expose-gc', script, name, ...args], {
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Loaded;
}

/** Two tables: every node and every edge, with the segment that it belongs to; labels without super-labels. */
async function writeFiles(devices: number, nodesFile: string, edgesFile: string): Promise<void> {
  const nodes = createWriteStream(nodesFile);
  const edges = createWriteStream(edgesFile);
  const nodeColumns = [
    'name',
    'number',
    'pins',
    'year',
    'price',
    'layers',
    'ref',
    'side',
    'x',
    'y',
    'package',
  ];
  const edgeColumns = ['probability', 'medium', 'bus'];
  nodes.write(`segment,id,labels,${nodeColumns.join()}\n`);
  edges.write(`segment,source,target,label,directed,${edgeColumns.join()}\n`);
  for (let d = -1; d < devices; d++) {
    const key = d < 0 ? 'knowledge' : deviceKey(d);
    const segment = d < 0 ? knowledge() : device(d, SIZE);
    let text = '';
    for (const { id, labels, properties } of segment.nodes) {
      const [label] = labels as readonly (string | { label: string; weight: number })[];
      const name = typeof label === 'string' ? label : `${label!.label}:${label!.weight}`;
      text += `${key},${id},${name},${nodeColumns.map((column) => properties?.[column] ?? '').join()}\n`;
    }
    if (!nodes.write(text)) await once(nodes, 'drain');
    text = '';
    for (const { source, target, label, directed, properties } of segment.edges ?? [])
      text += `${key},${source},${target},${label},${directed !== false},${edgeColumns.map((column) => properties?.[column] ?? '').join()}\n`;
    if (!edges.write(text)) await once(edges, 'drain');
  }
  nodes.end();
  edges.end();
  await Promise.all([finished(nodes), finished(edges)]);
}
