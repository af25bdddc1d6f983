import type { Code, CodeEdge } from './dfs-code.ts';
import { type GraphStore, hasLabel } from './graph-store.ts';

/**
 * Two labels joined by an edge of a label, the smaller label first; of equal ones the end from which the edge has its
 * smaller label.
 */
export interface LinkType {
  readonly low: number;
  readonly high: number;
  readonly link: number;
}

/** A type of link of a structure and how many of it the structure has. */
export interface Needed extends LinkType {
  readonly times: number;
}

/** Whether an edge of a structure runs from the first end of its type to the second. */
export function isStraight(
  { labels }: Code,
  { from, to, link }: CodeEdge,
  reverse: ArrayLike<number>,
): boolean {
  return labels[from] < labels[to] || (labels[from] === labels[to] && link <= reverse[link]);
}

export function typeOf(code: Code, edge: CodeEdge, reverse: ArrayLike<number>): LinkType {
  const { labels } = code;
  const { from, to, link } = edge;
  return isStraight(code, edge, reverse)
    ? { low: labels[from], high: labels[to], link }
    : { low: labels[to], high: labels[from], link: reverse[link] };
}

export function neededBy(code: Code, reverse: ArrayLike<number>): readonly Needed[] {
  const needed = new Map<string, Needed>();
  for (const edge of code.edges) {
    const { low, high, link } = typeOf(code, edge, reverse);
    const key = `${low} ${link} ${high}`;
    needed.set(key, { low, high, link, times: (needed.get(key)?.times ?? 0) + 1 });
  }
  return [...needed.values()];
}

/** Edges of each type in each graph, counted when first asked for. */
export class LinkCounts {
  readonly #store: GraphStore;
  readonly #counts = new Map<string, Int32Array>();
  readonly #nodes = new Map<number, Int32Array>();

  constructor(store: GraphStore) {
    this.#store = store;
  }

  /** Edges of a type in each graph. */
  of(type: LinkType): Int32Array {
    const key = `${type.low} ${type.link} ${type.high}`;
    const kept = this.#counts.get(key) ?? this.#count(type);
    this.#counts.set(key, kept);
    return kept;
  }

  /** Nodes of a label in each graph. */
  nodesOf(label: number): Int32Array {
    const kept = this.#nodes.get(label) ?? this.#countNodes(label);
    this.#nodes.set(label, kept);
    return kept;
  }

  #count({ low, high, link }: LinkType): Int32Array {
    const { graphs, graph, arcs, heads, links, reverse, bearers } = this.#store;
    const counts = new Int32Array(graphs.length - 1);
    for (const node of bearers[low]) {
      for (let arc = arcs[node]; arc < arcs[node + 1]; arc++) {
        const head = heads[arc];
        if (links[arc] !== link || !hasLabel(this.#store, head, high)) continue;
        // An edge without direction whose ends have both labels is met from either end.
        const twice =
          reverse[link] === link && hasLabel(this.#store, node, high) && hasLabel(this.#store, head, low);
        if (!twice || node < head) counts[graph[node]]++;
      }
    }
    return counts;
  }

  #countNodes(label: number): Int32Array {
    const { graphs, graph, bearers } = this.#store;
    const counts = new Int32Array(graphs.length - 1);
    for (const node of bearers[label]) counts[graph[node]]++;
    return counts;
  }
}
