/**
 * The second benchmark: node-distinct patterns of 16 nodes and 24 to 41 edges on a labelled graph.
 */
import { begin } from '../../src/gql/engine.ts';
import { buildGraph } from '../../src/gql/graph.ts';
import { type Labelled, labelledGraph, queries } from './match-labelled.ts';

/** Embeddings after which a query stops, as is usual in the literature. */
const MOST = 100_000;

export async function benchLabelled(rounds: number): Promise<void> {
  const data = labelledGraph();
  const graph = buildGraph(
    data.labels.map((label, i) => ({ id: `v${i}`, labels: [`L${label}`] })),
    data.edges.map(([a, b]) => ({ source: `v${a}`, target: `v${b}`, directed: false })),
  );
  const texts = queries(data).map(textOf);
  const all: number[] = [];
  let found = 0;
  const perQuery: number[] = [];
  for (const text of texts) {
    const times: number[] = [];
    for (let round = 0; round < Math.min(rounds, 9) + 2; round++) {
      const start = performance.now();
      const running = begin(
        graph,
        text,
        { distinctNodes: true, where: 'here', budgets: { rows: MOST } },
        { kind: 'count' },
      );
      const outcome = await running.run(() => {});
      if (round >= 2) times.push(performance.now() - start);
      if (round === 0) found += outcome.count;
    }
    times.sort((a, b) => a - b);
    perQuery.push(times[Math.floor(times.length / 2)]!);
    all.push(...times);
  }
  perQuery.sort((a, b) => a - b);
  all.sort((a, b) => a - b);
  console.log(
    `labelled graph: ${data.labels.length} nodes, ${data.edges.length} edges, ${texts.length} queries of 16 nodes, ${found} matches`,
  );
  console.log(
    `  median ${perQuery[100]!.toFixed(2)} ms (aim 0.5), 95th percentile ${perQuery[189]!.toFixed(2)} ms, longest of all runs ${all.at(-1)!.toFixed(1)} ms (aim 50)\n`,
  );
}

function textOf(query: Labelled): string {
  const paths = query.edges.map(([a, b]) => `(n${a}:L${query.labels[a]})~(n${b}:L${query.labels[b]})`);
  return `MATCH ${paths.join(', ')} RETURN COUNT(*) AS n`;
}
