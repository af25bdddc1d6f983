/**
 * The second benchmark: node-distinct patterns of 16 nodes and 24 to 41 edges on a labelled graph, each asked for the first
 * time, again, a third time and when warm, with a plain reference matcher in between (`match-labelled-reference.ts`).
 *
 * Alone: `node src/run.mjs --script tests/bench/match-labelled-run.ts`, in a process that has not matched anything yet.
 */
import { pathToFileURL } from 'node:url';
import { begin } from '../../src/gql/engine.ts';
import { buildGraph } from '../../src/gql/graph.ts';
import { type Labelled, labelledGraph, queries } from './match-labelled.ts';
import { countEmbeddings, ReferenceGraph } from './match-labelled-reference.ts';

/** Embeddings after which a query stops, as is usual in the literature. */
const MOST = 100_000;

export async function benchLabelled(rounds: number): Promise<void> {
  const data = labelledGraph();
  const graph = buildGraph(
    data.labels.map((label, i) => ({ id: `v${i}`, labels: [`L${label}`] })),
    data.edges.map(([a, b]) => ({ source: `v${a}`, target: `v${b}`, directed: false })),
  );
  const reference = new ReferenceGraph(data);
  const asked = queries(data).map((query) => ({ query, text: textOf(query) }));
  const ask = async (text: string): Promise<number> => {
    const options = { distinctNodes: true, where: 'here', budgets: { rows: MOST } } as const;
    const { count } = await begin(graph, text, options, { kind: 'count' }).run(() => {});
    return count;
  };
  console.log(
    `labelled graph: ${data.labels.length} nodes, ${data.edges.length} edges, ${asked.length} queries of 16 nodes`,
  );
  // What only the first query of a process pays: the grammar, above all.
  const first = await measured(() => ask('MATCH (a:L0)~(b:L1) RETURN COUNT(*) AS n'));
  console.log(`  the first query of the process ${first.clock.toFixed(1)} ms`);
  const most = Math.min(rounds, 9) + 2;
  for (let round = 1; round <= most; round++) {
    const engine: Measured[] = [];
    const plain: Measured[] = [];
    let found = 0;
    for (const { query, text } of asked) {
      const ours = await measured(() => ask(text));
      const theirs = await measured(async () => countEmbeddings(reference, query, MOST));
      if (ours.result !== theirs.result)
        throw new Error(`${ours.result} matches, ${theirs.result} by the reference: ${text}`);
      engine.push(ours);
      plain.push(theirs);
      found += ours.result;
    }
    const name = round === 1 ? '200 cold' : round <= 3 ? `200 again (${round})` : '200 warm';
    if (round <= 3 || round === most)
      console.log(`  ${name.padEnd(14)} engine ${told(engine)}; reference ${told(plain)}; ${found} matches`);
  }
  console.log();
}

interface Measured {
  readonly result: number;
  /** Milliseconds. */
  readonly clock: number;
  readonly processor: number;
}

async function measured(work: () => Promise<number>): Promise<Measured> {
  const before = process.threadCpuUsage();
  const start = performance.now();
  const result = await work();
  const clock = performance.now() - start;
  const { user, system } = process.threadCpuUsage(before);
  return { result, clock, processor: (user + system) / 1000 };
}

function told(all: readonly Measured[]): string {
  const total = all.reduce((sum, { processor }) => sum + processor, 0);
  // A single query takes less than the clock of processor time may tell.
  const times = all.map(({ clock }) => clock).sort((a, b) => a - b);
  const at = (share: number) => times[Math.floor(times.length * share)]!.toFixed(2);
  return `${total.toFixed(0).padStart(5)} ms of processor time; by the clock median ${at(0.5)}, 95th ${at(0.95)}, longest ${times.at(-1)!.toFixed(1)}`;
}

function textOf(query: Labelled): string {
  const paths = query.edges.map(([a, b]) => `(n${a}:L${query.labels[a]})~(n${b}:L${query.labels[b]})`);
  return `MATCH ${paths.join(', ')} RETURN COUNT(*) AS n`;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href)
  await benchLabelled(Number(process.env.ROUNDS ?? 5));
