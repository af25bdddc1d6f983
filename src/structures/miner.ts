import { type Code, type CodeEdge, isMinimal, rightmostPath } from './dfs-code.ts';
import { type Embeddings, edgeEmbeddings, extended, groupsOf, placeOf, waysIn } from './embeddings.ts';
import type { GraphStore } from './graph-store.ts';
import { type Counted, Tally } from './tally.ts';

/** Nodes, and embeddings, that one step looks at: some milliseconds. */
const NODES_A_STEP = 20_000;
const ROWS_A_STEP = 4_000;

export interface MinerOptions {
  /** Fewest groups that have a structure. */
  readonly minSupport: number;
  /** Fewest and most nodes of a structure. */
  readonly minSize: number;
  readonly maxSize: number;
  /** Most edges of a structure. @default no limit */
  readonly maxEdges?: number;
  /** Whether the first label of a node stands for a narrower class than the second. @default never */
  readonly isNarrower?: (label: number, than: number) => boolean;
  /** Whether structures that say no more than a larger one are left out. @default true */
  readonly closedOnly?: boolean;
}

/** A structure that recurs. */
export interface Mined extends Code {
  /** Groups that have it, in order. */
  readonly groups: Int32Array;
  /** Ways in which it lies in the graphs, symmetries counted. */
  readonly embeddings: number;
  /** Whether one with more nodes than allowed has the same groups. */
  readonly growsFurther: boolean;
}

/** A structure still to be looked at; its embeddings follow from those of the one before it. */
interface Waiting {
  readonly code: Code;
  readonly before: Embeddings | undefined;
  /** The part of the whole work that begins with it, and how much it is, both as shares of 1. */
  readonly start: number;
  readonly share: number;
}

/**
 * Frequent connected subgraphs by gSpan (Yan & Han, ICDM 2002): structures grow edge by edge along the rightmost path of
 * their least DFS code, so that each is met once, with lists of their embeddings.
 *
 * A structure is closed when no larger one has the same support (Yan & Han, "CloseGraph: Mining Closed Frequent Graph
 * Patterns", KDD 2003, 286-295). If a larger one has, so has one with a single edge more, since support falls along the
 * way; therefore every edge that could be added anywhere is counted by the groups that allow it, and one that all
 * groups of the structure allow means that it is not closed. Where labels have an order, one with a narrower label in
 * one place counts as larger, too.
 *
 * What every embedding of a structure allows, every embedding of a larger one allows as well. Where this is an edge
 * between two of its nodes or a narrower label, nothing closed can grow without it, and the search turns back. Edges to
 * new nodes are left out of this: the new node may be one that the larger structure has taken (the failing cases of
 * CloseGraph). So the answer is exact.
 */
export class Miner {
  readonly found: Mined[] = [];
  /** Structures looked at so far, closed or not. */
  frequent = 0;
  readonly #store: GraphStore;
  readonly #options: MinerOptions;
  readonly #waiting: Waiting[] = [];
  readonly #tally: Tally;
  /** Nodes whose edges have been counted, and what was counted of each single edge. */
  #begun = 0;
  readonly #singles = new Map<number, { support: number; last: number }>();
  /** The structure whose embeddings are being counted, and how many of them are. */
  #open:
    | {
        readonly next: Waiting;
        readonly embeddings: Embeddings;
        readonly groups: Int32Array;
        readonly counted: number;
      }
    | undefined;

  /** @throws RangeError unless 1 <= minSupport and 2 <= minSize <= maxSize <= 12 */
  constructor(store: GraphStore, options: MinerOptions) {
    const { minSupport, minSize, maxSize } = options;
    if (!(minSupport >= 1 && minSize >= 2 && minSize <= maxSize && maxSize <= 12))
      throw new RangeError('it takes 1 <= minSupport and 2 <= minSize <= maxSize <= 12');
    this.#store = store;
    this.#options = options;
    this.#tally = new Tally(maxSize, store.nodeLabels, store.edgeLabels);
  }

  /** Share of the work that is done, 0 to 1; an estimate that never falls. */
  get fraction(): number {
    if (this.#begun < this.#store.nodes) return 0;
    return (this.#open?.next ?? this.#waiting.at(-1))?.start ?? 1;
  }

  /** Does a small piece of the work; false when none is left. */
  step(): boolean {
    if (this.#begun < this.#store.nodes) {
      this.#begin();
      return true;
    }
    if (!this.#open) {
      const next = this.#waiting.pop();
      if (!next) return false;
      const embeddings = this.#embeddingsOf(next);
      const groups = groupsOf(this.#store, embeddings);
      if (groups.length < this.#options.minSupport) return true;
      this.#open = { next, embeddings, groups, counted: 0 };
      this.#tally.begin(next.code, this.#store.reverse);
    }
    const { next, embeddings, groups, counted } = this.#open;
    const until = Math.min(embeddings.rows, counted + ROWS_A_STEP);
    this.#count(next.code, embeddings, counted, until);
    this.#open = { next, embeddings, groups, counted: until };
    if (until === embeddings.rows) {
      this.#open = undefined;
      this.#finish(next, embeddings, groups);
    }
    return true;
  }

  #finish(next: Waiting, embeddings: Embeddings, groups: Int32Array): void {
    this.frequent++;
    const { closed, growsFurther } = this.#closedness(next.code, groups.length);
    if (next.code.labels.length >= this.#options.minSize && (closed || this.#options.closedOnly === false)) {
      this.found.push({ ...next.code, groups, embeddings: waysIn(this.#store, embeddings), growsFurther });
    }
    this.#wait(this.#childrenOf(next.code, embeddings.rows), embeddings, next.start, next.share);
  }

  #embeddingsOf({ code, before }: Waiting): Embeddings {
    const { from, to, link } = code.edges[code.edges.length - 1];
    const { labels } = code;
    if (!before) return edgeEmbeddings(this.#store, labels[from], link, labels[to]);
    return extended(this.#store, before, { from, to, link }, labels[labels.length - 1]);
  }

  /** Counts the single edges of some nodes; after the last the search begins with those that enough groups have. */
  #begin(): void {
    const { nodes, arcs, heads, links, reverse, labelStarts, labels, group, nodeLabels, edgeLabels } =
      this.#store;
    const until = Math.min(nodes, this.#begun + NODES_A_STEP);
    for (let node = this.#begun; node < until; node++) {
      for (let arc = arcs[node]; arc < arcs[node + 1]; arc++) {
        for (let own = labelStarts[node]; own < labelStarts[node + 1]; own++) {
          const head = heads[arc];
          for (let other = labelStarts[head]; other < labelStarts[head + 1]; other++) {
            // Met from the end with the smaller label, or the smaller name of the edge.
            if (labels[own] > labels[other]) continue;
            if (labels[own] === labels[other] && links[arc] > reverse[links[arc]]) continue;
            const key = (labels[own] * edgeLabels + links[arc]) * nodeLabels + labels[other];
            const met = this.#singles.get(key);
            if (!met) this.#singles.set(key, { support: 1, last: group[node] });
            else if (met.last !== group[node]) {
              met.support++;
              met.last = group[node];
            }
          }
        }
      }
    }
    this.#begun = until;
    if (until === nodes) this.#wait(this.#singleEdges(), undefined, 0, 1);
  }

  #singleEdges(): readonly Code[] {
    const { nodeLabels, edgeLabels } = this.#store;
    return [...this.#singles]
      .filter(([, { support }]) => support >= this.#options.minSupport)
      .sort(([a], [b]) => a - b)
      .map(([key]) => {
        const rest = Math.floor(key / nodeLabels);
        return {
          labels: [Math.floor(rest / edgeLabels), key % nodeLabels],
          edges: [{ from: 0, to: 1, link: rest % edgeLabels }],
        };
      });
  }

  #wait(codes: readonly Code[], before: Embeddings | undefined, start: number, share: number): void {
    // The structure itself takes a part as well, so that progress shows while one without children is looked at.
    const part = share / (codes.length + (before ? 1 : 0));
    const from = start + (before ? part : 0);
    for (let at = codes.length - 1; at >= 0; at--) {
      this.#waiting.push({ code: codes[at], before, start: from + at * part, share: part });
    }
  }

  /** Counts the groups in which each single edge, or each narrower label, could be added. */
  #count(code: Code, { width, nodes }: Embeddings, first: number, until: number): void {
    const { arcs, heads, links, labelStarts, labels, group } = this.#store;
    const { isNarrower } = this.#options;
    const tally = this.#tally;
    for (let row = first; row < until; row++) {
      const start = row * width;
      const own = group[nodes[start]];
      for (let place = 0; place < width; place++) {
        const node = nodes[start + place];
        for (let arc = arcs[node]; arc < arcs[node + 1]; arc++) {
          const head = heads[arc];
          const other = placeOf(nodes, start, width, head);
          if (other >= 0) {
            if (place < other) tally.inner(place, other, links[arc], own);
            continue;
          }
          for (let at = labelStarts[head]; at < labelStarts[head + 1]; at++)
            tally.outer(place, links[arc], labels[at], own);
        }
        if (!isNarrower) continue;
        for (let at = labelStarts[node]; at < labelStarts[node + 1]; at++) {
          if (isNarrower(labels[at], code.labels[place])) tally.narrower(place, labels[at], own);
        }
      }
    }
  }

  #closedness(code: Code, support: number): { readonly closed: boolean; readonly growsFurther: boolean } {
    const full = code.labels.length >= this.#options.maxSize;
    const whole = code.edges.length >= (this.#options.maxEdges ?? Infinity);
    const [inner, outer, narrower] = this.#tally.mostOfEach();
    const further = (inner === support && whole) || (outer === support && (full || whole));
    const closed = narrower < support && (inner < support || whole) && (outer < support || full || whole);
    return { closed, growsFurther: further };
  }

  /** What nothing closed can grow without. */
  #givenAnyway(rows: number): readonly Counted[] {
    const { maxEdges, closedOnly } = this.#options;
    return maxEdges !== undefined || closedOnly === false ? [] : this.#tally.inAll(rows);
  }

  /** Codes with one edge more along the rightmost path that enough groups have and that are least. */
  #childrenOf(code: Code, rows: number): readonly Code[] {
    const { labels, edges } = code;
    const { minSupport, maxSize, maxEdges = Infinity } = this.#options;
    const { reverse } = this.#store;
    if (edges.length >= maxEdges) return [];
    const path = rightmostPath(code);
    const onPath = new Set(path);
    const last = labels.length - 1;
    const given = this.#givenAnyway(rows);
    const canCome = ({ kind, place, other }: Counted) =>
      kind === 'inner' && other === last && onPath.has(place);
    if (!given.every(canCome)) return [];
    // Edges back from the last node come in their order, so that none may come after the first that must.
    const order = (a: Counted, b: Counted) => a.place - b.place || reverse[a.link] - reverse[b.link];
    const [must] = [...given].sort(order);
    const children: Code[] = [];
    const add = (edge: CodeEdge, all: readonly number[]) => {
      const child = { labels: all, edges: [...edges, edge] };
      if (isMinimal(child, reverse)) children.push(child);
    };
    for (const one of this.#tally.counted()) {
      const { kind, place, other, link, count } = one;
      if (count < minSupport) continue;
      if (canCome(one)) {
        if (must && order(one, must) > 0) continue;
        add({ from: last, to: place, link: reverse[link] }, labels);
      } else if (!must && kind === 'outer' && labels.length < maxSize && onPath.has(place)) {
        if (other >= labels[0]) add({ from: place, to: last + 1, link }, [...labels, other]);
      }
    }
    return children;
  }
}
