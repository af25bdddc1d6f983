/**
 * The ways in which the benchmark of loading loads its files. Each answers time and memory, and runs in a fresh process.
 */
import { DuckDBInstance } from '@duckdb/node-api';
import { readGraphFiles } from '../../src/gql/files.ts';
import { type EdgeInput, type NodeInput, PatternGraph } from '../../src/gql/gql.ts';
import { HIERARCHY } from './match-archive.ts';

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

interface Segment {
  readonly nodes: NodeInput[];
  readonly edges: EdgeInput[];
  grouped: boolean;
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

/** Objects of the files by segment, as a program holds that made them itself. */
async function segmentsOf(nodesFile: string, edgesFile: string): Promise<Map<string, Segment>> {
  const { nodes, edges } = await readGraphFiles(nodesFile, edgesFile);
  const segments = new Map<string, Segment>();
  const of = (id: string) => {
    const parts = id.split('/');
    const key = parts[0] === 'device' ? `device/${parts[1]}` : 'knowledge';
    let segment = segments.get(key);
    if (!segment) {
      segment = { nodes: [], edges: [], grouped: key !== 'knowledge' };
      segments.set(key, segment);
    }
    return segment;
  };
  for (const node of nodes) of(node.id).nodes.push(node);
  for (const edge of edges) of(edge.source).edges.push(edge);
  return segments;
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

export const LOADS: Readonly<Record<string, (nodesFile: string, edgesFile: string) => Promise<Loaded>>> = {
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
  async csv(nodesFile, edgesFile) {
    const meter = new Meter();
    const graph = new PatternGraph({ hierarchy: HIERARCHY });
    {
      const segments = await segmentsOf(nodesFile, edgesFile);
      meter.phase('read');
      for (const [key, segment] of segments) graph.putSegment(key, segment);
      meter.phase('put');
    }
    return meter.done(componentsOf(graph), graph.memory().parts);
  },
  async objects(nodesFile, edgesFile) {
    let segments: Map<string, Segment> | undefined = await segmentsOf(nodesFile, edgesFile);
    const meter = new Meter();
    const graph = new PatternGraph({ hierarchy: HIERARCHY });
    for (const [key, segment] of segments) graph.putSegment(key, segment);
    meter.phase('put');
    segments = undefined;
    return meter.done(componentsOf(graph), graph.memory().parts);
  },
};
