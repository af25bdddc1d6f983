import type { Code } from './dfsCode.ts';
import type { GraphStore } from './graphStore.ts';

/** Two labels joined by an edge of a label, the smaller label first. */
export interface LinkType {
  readonly low: number;
  readonly high: number;
  readonly link: number;
}

/** A type of link of a structure and how many of it the structure has. */
export interface Needed extends LinkType {
  readonly times: number;
}

export function neededBy({ labels, edges }: Code): readonly Needed[] {
  const needed = new Map<string, Needed>();
  for (const { from, to, link } of edges) {
    const [low, high] = [labels[from], labels[to]].sort((a, b) => a - b);
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
    const { graphs, arcs, heads, links } = this.#store;
    const has = this.#members(low);
    const other = low === high ? has : this.#members(high);
    const counts = new Int32Array(graphs.length - 1);
    for (let graph = 0; graph < counts.length; graph++) {
      for (let node = graphs[graph]; node < graphs[graph + 1]; node++) {
        for (let arc = arcs[node]; arc < arcs[node + 1]; arc++) {
          const head = heads[arc];
          if (links[arc] !== link || node > head) continue;
          if ((has[node] && other[head]) || (other[node] && has[head])) counts[graph]++;
        }
      }
    }
    return counts;
  }

  #countNodes(label: number): Int32Array {
    const { graphs } = this.#store;
    const has = this.#members(label);
    const counts = new Int32Array(graphs.length - 1);
    for (let graph = 0; graph < counts.length; graph++) {
      for (let node = graphs[graph]; node < graphs[graph + 1]; node++) counts[graph] += has[node];
    }
    return counts;
  }

  #members(label: number): Uint8Array {
    const { nodes, labelStarts, labels } = this.#store;
    const has = new Uint8Array(nodes);
    for (let node = 0; node < nodes; node++) {
      for (let at = labelStarts[node]; at < labelStarts[node + 1]; at++)
        if (labels[at] === label) has[node] = 1;
    }
    return has;
  }
}
