import { DirectedGraph } from 'graphology';
import { bfsFromNode } from 'graphology-traversal';
import { Pace } from '../state/pace.ts';
import { notFound } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { Dependants } from './dependants.ts';
import { describeThing, type Named } from './named.ts';

/** One thing that another supports, directly or through others. */
export interface Impacted extends Named {
  /** 1 for what it supports directly, 2 for what that supports, and so on: the shortest way counts. */
  readonly generation: number;
  /** The ids from what was asked about to this, both included. */
  readonly path: readonly string[];
  /** How each step of the path depends on the one before; one fewer than the path. */
  readonly how: readonly string[];
}

export interface Impact {
  readonly of: Named;
  /** By generation, then id. */
  readonly impacted: readonly Impacted[];
}

/**
 * Everything that depends on a thing: an observation, photo, component, part, device, pattern, decision, source or claim.
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export async function impactOf(state: State, id: string, signal?: AbortSignal): Promise<Impact> {
  const of = describeThing(state, id);
  if (!of) throw notFound(state, id);
  const graph = await supportGraph(state, of.id, signal);
  const reached = reachedFrom(graph, of.id);
  const impacted = reached.flatMap(({ id: found, generation, path }) => {
    const named = describeThing(state, found);
    if (!named) return [];
    const how = path.slice(1).map((step, i) => graph.getEdgeAttribute(path[i], step, 'how'));
    return [{ ...named, generation, path, how }];
  });
  return { of, impacted };
}

export type SupportGraph = DirectedGraph<Record<string, never>, { readonly how: string }>;

/** The part of the support graph above a thing: an edge runs from a thing to what depends on it. */
async function supportGraph(state: State, id: string, signal?: AbortSignal): Promise<SupportGraph> {
  const dependants = new Dependants(state, signal);
  const graph: SupportGraph = new DirectedGraph();
  graph.addNode(id);
  const open = [id];
  const pace = new Pace();
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    for (const { id: to, how } of await dependants.of(at)) {
      if (to === at) continue;
      if (!graph.hasNode(to)) {
        graph.addNode(to);
        open.push(to);
      }
      graph.mergeEdge(at, to, { how });
    }
    await pace.rest();
    if (signal?.aborted) break;
  }
  return graph;
}

/** What can be reached from a node, itself left out, breadth first, with the first shortest path to each. */
export function reachedFrom(
  graph: DirectedGraph,
  start: string,
): readonly { readonly id: string; readonly generation: number; readonly path: readonly string[] }[] {
  const found = new Map<string, { id: string; generation: number; path: readonly string[] }>([
    [start, { id: start, generation: 0, path: [start] }],
  ]);
  bfsFromNode(
    graph,
    start,
    (id, _attributes, depth) => {
      const path = found.get(id)?.path ?? [id];
      for (const next of graph.outNeighbors(id)) {
        if (!found.has(next)) found.set(next, { id: next, generation: depth + 1, path: [...path, next] });
      }
    },
    { mode: 'outbound' },
  );
  found.delete(start);
  return [...found.values()].sort((a, b) => a.generation - b.generation || (a.id < b.id ? -1 : 1));
}
