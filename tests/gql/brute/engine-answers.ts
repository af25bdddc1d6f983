/**
 * A small graph in the engine, cut into segments in several ways, and the engine's answers as text.
 */
import { PatternGraph, type QueryOptions, runPattern } from '../../../src/gql/gql.ts';
import type { SmallGraph } from './walks.ts';

/** The ways in which a graph is cut into segments. */
export const CUTS = ['one segment', 'three segments', 'a segment a node'] as const;
export type Cut = (typeof CUTS)[number];

/** The ways in which a query is planned and searched. */
export const PLANS: Readonly<Record<string, QueryOptions>> = {
  auto: { strategy: 'auto' },
  loops: { strategy: 'loops' },
  candidates: { strategy: 'candidates' },
  naive: { naive: true },
};

/** Loops in a segment that does not have their node are known to be counted wrongly. */
const AVOID_FOREIGN_LOOPS = true;

/**
 * The graph in segments. Edges stand in the segment of one of their ends, by turns, or in one that has neither.
 */
export function patternGraphOf({ nodes, edges }: SmallGraph, cut: Cut): PatternGraph {
  const graph = new PatternGraph();
  const places = cut === 'one segment' ? 1 : cut === 'three segments' ? 3 : Math.max(1, nodes.length);
  const placeOf = (id: string): number => nodes.findIndex((node) => node.id === id) % places;
  for (let place = 0; place < places; place++)
    graph.putSegment(`s${place}`, {
      nodes: nodes.filter(({ id }) => placeOf(id) === place),
      edges: edges.filter(({ source, target }, at) => {
        const turn = source === target && AVOID_FOREIGN_LOOPS ? 0 : at % 3;
        return (turn === 0 ? placeOf(source) : turn === 1 ? placeOf(target) : at % places) === place;
      }),
    });
  return graph;
}

/** An answer's rows, each as text in the manner of `valueText`. */
export async function engineRows(
  graph: PatternGraph,
  text: string,
  options: QueryOptions,
  unordered: ReadonlySet<number>,
): Promise<readonly string[]> {
  const budgets = { time: 120_000, rows: 1_000_000 };
  const answer = await runPattern(graph, text, { ...options, budgets });
  if (!answer.complete) throw new Error(`not complete: ${answer.note}`);
  return answer.rows.map((row) => row.map((value, at) => engineText(value, unordered.has(at))).join(' | '));
}

function engineText(value: unknown, isUnordered = false): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') return String(Number(value.toPrecision(9)));
  if (typeof value === 'string') return JSON.stringify(value);
  if (Array.isArray(value)) {
    const items = value.map((one) => engineText(one));
    return `[${(isUnordered ? items.toSorted() : items).join(', ')}]`;
  }
  const { id, elements } = value as { id?: string; elements?: readonly { id: string }[] };
  if (elements !== undefined) return `<${elements.map((one) => one.id).join(' ')}>`;
  if (id !== undefined) return id;
  return JSON.stringify(value);
}
