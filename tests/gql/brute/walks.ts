/**
 * Small graphs and every walk in them.
 */
import type { Literal } from './query.ts';

export interface SmallNode {
  readonly id: string;
  readonly labels: readonly string[];
  readonly properties: Readonly<Record<string, Literal>>;
}
export interface SmallEdge {
  readonly id: string;
  readonly source: string;
  readonly target: string;
  readonly directed: boolean;
  readonly label?: string;
  readonly properties: Readonly<Record<string, Literal>>;
}
export interface SmallGraph {
  readonly nodes: readonly SmallNode[];
  readonly edges: readonly SmallEdge[];
}

/** How an edge is walked along. */
export type Course = 'forwards' | 'backwards' | 'undirected';

/** What brute force gives up at. */
export class TooMuchWork extends Error {}

/** A walk: `nodes[i]` and `nodes[i + 1]` are the ends of `edges[i]`. */
export interface Walk {
  readonly nodes: readonly SmallNode[];
  readonly edges: readonly SmallEdge[];
  readonly courses: readonly Course[];
}

const known = new WeakMap<SmallGraph, Walk[][]>();

/** All walks with this many edges. A directed loop is walked forwards and backwards, an undirected one once. */
export function walksOf(graph: SmallGraph, length: number): readonly Walk[] {
  const byLength = known.get(graph) ?? [];
  known.set(graph, byLength);
  let walks = byLength[length];
  if (walks === undefined) {
    walks =
      length === 0
        ? graph.nodes.map((node) => ({ nodes: [node], edges: [], courses: [] }))
        : walksOf(graph, length - 1).flatMap((walk) => extensions(graph, walk));
    if (walks.length > 50_000) throw new TooMuchWork(`${walks.length} walks`);
    byLength[length] = walks;
  }
  return walks;
}

function extensions(graph: SmallGraph, { nodes, edges, courses }: Walk): Walk[] {
  const here = nodes.at(-1)?.id;
  const found: Walk[] = [];
  const step = (edge: SmallEdge, course: Course, id: string): void => {
    const node = graph.nodes.find((one) => one.id === id);
    if (node === undefined) throw new Error(`edge ${edge.id} leads to ${id}, which is no node`);
    found.push({ nodes: [...nodes, node], edges: [...edges, edge], courses: [...courses, course] });
  };
  for (const edge of graph.edges) {
    if (edge.source === here) step(edge, edge.directed ? 'forwards' : 'undirected', edge.target);
    if (edge.target === here && (edge.directed || edge.source !== edge.target))
      step(edge, edge.directed ? 'backwards' : 'undirected', edge.source);
  }
  return found;
}
