import type { GraphCounts } from '../gql/gql.ts';
import type { DuckDbEngine } from './duckdb-engine.ts';

/** What is in the tables of DuckDB, by label; numbers of different nodes within a few per cent. */
export async function graphCounts(engine: DuckDbEngine): Promise<GraphCounts> {
  const [[nodes] = []] = await engine.rows('SELECT COUNT(*) FROM nodes');
  const labels = await engine.rows('SELECT label, COUNT(*) FROM labels GROUP BY label ORDER BY label');
  const edges = await engine.rows(
    `SELECT COALESCE(label, ''), COUNT(*), approx_count_distinct(source), approx_count_distinct(target)
       FROM edges GROUP BY label ORDER BY label`,
  );
  return {
    nodes: Number(nodes),
    labels: Object.fromEntries(labels.map(([label, rows]) => [label as string, Number(rows)])),
    edges: Object.fromEntries(
      edges.map(([label, rows, sources, targets]) => [
        label as string,
        { rows: Number(rows), sources: Number(sources), targets: Number(targets) },
      ]),
    ),
  };
}
