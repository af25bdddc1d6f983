/**
 * A small graph in the engine, cut into segments in several ways, and the engine's answers as text.
 */
import {
  countPattern,
  PatternGraph,
  type QueryOptions,
  runPattern,
  type SegmentInput,
} from '../../../src/gql/gql.ts';
import { recordText } from './result.ts';
import type { SmallGraph } from './walks.ts';

/** The ways in which a graph is cut into segments. */
export const CUTS = [
  'one segment',
  'three segments',
  'a segment a node',
  'after changes',
  'one of three hidden',
] as const;
export type Cut = (typeof CUTS)[number];

/** The ways in which a query is planned and searched. */
export const PLANS: Readonly<Record<string, QueryOptions>> = {
  auto: { strategy: 'auto' },
  loops: { strategy: 'loops' },
  candidates: { strategy: 'candidates' },
  naive: { naive: true },
};

interface CutGraph {
  readonly graph: PatternGraph;
  /** The segments that may be seen; all when not given. */
  readonly segments?: readonly string[];
  /** What is seen of the graph. */
  readonly seen: SmallGraph;
}

/** The graph in segments. Edges stand by turns in the segment of their source, of their target, or in any. */
export function cutGraph(whole: SmallGraph, cut: Cut): CutGraph {
  const graph = new PatternGraph();
  const count = cut === 'one segment' ? 1 : cut === 'a segment a node' ? Math.max(1, whole.nodes.length) : 3;
  const keys = Array.from({ length: count }, (_, place) => `s${place}`);
  const inputs = keys.map((_, place) => segmentOf(whole, place, count));
  if (cut === 'after changes') {
    graph.putSegment('before', segmentOf(whole, 0, 1));
    graph.removeSegment('before');
    for (const [at, key] of keys.entries())
      graph.putSegment(key, { ...inputs[at], nodes: inputs[at]?.nodes ?? [], edges: [] });
  }
  for (const [at, key] of keys.entries()) graph.putSegment(key, inputs[at] ?? { nodes: [] });
  if (cut !== 'one of three hidden') return { graph, seen: whole };
  const [first, second] = inputs;
  const nodes = whole.nodes.filter((node) => first?.nodes.includes(node) || second?.nodes.includes(node));
  const ids = new Set(nodes.map(({ id }) => id));
  const edges = whole.edges.filter(
    (edge) =>
      (first?.edges.includes(edge) || second?.edges.includes(edge)) &&
      ids.has(edge.source) &&
      ids.has(edge.target),
  );
  return { graph, segments: keys.slice(0, 2), seen: { nodes, edges } };
}

function segmentOf(
  { nodes, edges }: SmallGraph,
  place: number,
  count: number,
): SegmentInput & Pick<SmallGraph, 'edges'> {
  const placeOf = (id: string): number => nodes.findIndex((node) => node.id === id) % count;
  return {
    nodes: nodes.filter(({ id }) => placeOf(id) === place),
    edges: edges.filter(({ source, target }, at) => {
      const turn = at % 3;
      return (turn === 0 ? placeOf(source) : turn === 1 ? placeOf(target) : at % count) === place;
    }),
  };
}

/** An answer's rows, each as text in the manner of `valueText`, and how many matches there are. */
export async function engineAnswer(
  graph: PatternGraph,
  text: string,
  options: QueryOptions,
  unordered: ReadonlySet<number>,
  counting: boolean,
): Promise<{ readonly answered: readonly string[]; readonly count: number | undefined }> {
  const bounded = { ...options, budgets: { time: 120_000, rows: 1_000_000 } };
  const answer = await runPattern(graph, text, bounded);
  const counted = counting ? await countPattern(graph, text, bounded) : undefined;
  if (!answer.complete) throw new Error(`not complete: ${answer.note}`);
  const answered = answer.rows.map((row) =>
    row.map((value, at) => engineText(value, unordered.has(at))).join(' | '),
  );
  return { answered, count: counted?.count };
}

function engineText(value: unknown, isUnordered = false): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') return String(Number(value.toPrecision(9)));
  if (typeof value === 'string') return JSON.stringify(value);
  if (Array.isArray(value)) {
    const items = value.map((one) => engineText(one));
    return `[${(isUnordered ? items.toSorted() : items).join(', ')}]`;
  }
  const { kind, id, elements } = value as {
    kind?: string;
    id?: string;
    elements?: readonly { id: string }[];
  };
  if (kind === undefined)
    return recordText(Object.entries(value as object).map(([name, field]) => [name, engineText(field)]));
  if (elements !== undefined) return `<${elements.map((one) => one.id).join(' ')}>`;
  if (id !== undefined) return id;
  return JSON.stringify(value);
}
