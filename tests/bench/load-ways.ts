/**
 * The ways in which the benchmark of loading loads its files. Each answers time and memory, and runs in a fresh process.
 */
import { DuckDBInstance } from '@duckdb/node-api';
import { loadGraphFiles, readGraphFiles } from '../../src/gql/files.ts';
import { buildGraph, PatternGraph } from '../../src/gql/gql.ts';
import { device, HIERARCHY, knowledge } from './match-archive.ts';

export interface Loaded {
  readonly components: number;
  /** Seconds. */
  readonly wall: number;
  /** Seconds of processor time, all threads. */
  readonly cpu: number;
  /** Bytes that the process has grown by when it is done and garbage is collected, and at most. */
  readonly memory: number;
  readonly peak: number;
  /** Seconds of processor time. */
  readonly phases: Readonly<Record<string, number>>;
  /** What `memory()` of the graph says. */
  readonly parts?: Readonly<Record<string, number>>;
}

/** Time and memory since it was made. */
class Meter {
  readonly #memory = settled();
  readonly #cpu = process.cpuUsage();
  readonly #start = performance.now();
  readonly #phases: Record<string, number> = {};
  #last = this.#used();

  phase(name: string): void {
    const now = this.#used();
    this.#phases[name] = now - this.#last;
    this.#last = now;
  }

  done(components: number, parts?: Loaded['parts']): Loaded {
    const wall = (performance.now() - this.#start) / 1000;
    const cpu = this.#used();
    const peak = process.resourceUsage().maxRSS * 1024 - this.#memory;
    return { components, wall, cpu, memory: settled() - this.#memory, peak, phases: this.#phases, parts };
  }

  #used(): number {
    const { user, system } = process.cpuUsage(this.#cpu);
    return (user + system) / 1e6;
  }
}

/** Resident memory without garbage. */
function settled(): number {
  for (let i = 0; i < 3; i++) globalThis.gc!();
  return process.memoryUsage().rss;
}

function componentsOf(graph: PatternGraph): number {
  const { catalog } = graph.store;
  let count = 0;
  graph.index.nodes.forEach((postings, set) => {
    const names = catalog.labelSets[set]!.labels.map((label) => catalog.labels[label]!);
    if (names.some((name) => name in HIERARCHY)) count += postings?.total ?? 0;
  });
  return count;
}

/** Components a device, on average. */
export const SIZE = 80;

/**
 * `files`: CSV to graph, a segment a device. `parsed`: CSV to objects, and those to a graph of one segment. `objects`:
 * objects that are there already, a segment a device. `duckdb`: the same CSV files to two tables.
 */
export const LOADS: Readonly<
  Record<string, (nodesFile: string, edgesFile: string, devices: number) => Promise<Loaded>>
> = {
  async duckdb(nodesFile, edgesFile) {
    const meter = new Meter();
    const instance = await DuckDBInstance.create(':memory:', { threads: '2' });
    const db = await instance.connect();
    await db.run(`CREATE TABLE node AS SELECT * FROM read_csv('${nodesFile}')`);
    meter.phase('nodes');
    await db.run(`CREATE TABLE edge AS SELECT * FROM read_csv('${edgesFile}')`);
    meter.phase('edges');
    const reader = await db.runAndReadAll(`SELECT count(*) FROM node WHERE ref IS NOT NULL`);
    return meter.done(Number(reader.getRows()[0]![0]));
  },
  async files(nodesFile, edgesFile) {
    const meter = new Meter();
    const graph = await loadGraphFiles(nodesFile, edgesFile, {
      hierarchy: HIERARCHY,
      segment: 'segment',
      isGrouped: (key) => key !== 'knowledge',
    });
    return meter.done(componentsOf(graph), graph.memory().parts);
  },
  async parsed(nodesFile, edgesFile) {
    const meter = new Meter();
    const graph = await parsed(nodesFile, edgesFile, meter);
    return meter.done(componentsOf(graph), graph.memory().parts);
  },
  async objects(_nodes, _edges, devices) {
    const segments = [knowledge(), ...Array.from({ length: devices }, (_, d) => device(d, SIZE))];
    const meter = new Meter();
    const graph = new PatternGraph({ hierarchy: HIERARCHY });
    segments.forEach((segment, i) => {
      graph.putSegment(`${i}`, segment);
    });
    return meter.done(componentsOf(graph), graph.memory().parts);
  },
};

// A function of its own, so that nothing of the objects is held any more when memory is measured.
async function parsed(nodesFile: string, edgesFile: string, meter: Meter): Promise<PatternGraph> {
  const { nodes, edges } = await readGraphFiles(nodesFile, edgesFile);
  meter.phase('read');
  const graph = buildGraph(nodes, edges, { hierarchy: HIERARCHY });
  meter.phase('build');
  return graph;
}
