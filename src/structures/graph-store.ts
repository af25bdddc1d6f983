import { GrowingList } from './growing-list.ts';
import { type Twins, twinsOf } from './twins.ts';

/** A graph to be mined: nodes 0 to n - 1 with one or more labels each, one label an edge, with or without direction. */
export interface InputGraph {
  /** Group whose support it counts towards; several graphs of one group count once. Groups must not fall. */
  readonly group: number;
  /** Labels of each node; one without labels takes part in nothing. */
  readonly labels: readonly (readonly number[])[];
  /**
   * Ends and label of each edge, as seen from its first end; from the other end it has the label's reverse. Two nodes may have
   * several edges of different labels; equal ones count once.
   */
  readonly edges: readonly (readonly [a: number, b: number, label: number])[];
}

/**
 * Many labelled graphs in compressed sparse rows, nodes numbered through all of them in the order of their groups.
 * `arcs[v]` to `arcs[v + 1]` are the places in `heads` and `links` of the arcs that leave node v; an edge is two arcs.
 */
export interface GraphStore {
  readonly groups: number;
  readonly nodes: number;
  /** Group of each node. */
  readonly group: Int32Array;
  /** Graph of each node. */
  readonly graph: Int32Array;
  /** First node of each graph, and the number of nodes at the end. */
  readonly graphs: Int32Array;
  readonly labelStarts: Int32Array;
  readonly labels: Int32Array;
  /** Nodes that have each label, in order. */
  readonly bearers: readonly Int32Array[];
  readonly arcs: Int32Array;
  readonly heads: Int32Array;
  readonly links: Int32Array;
  /**
   * What an edge of each label is called from its other end: the label itself where edges have no direction. A directed edge
   * has one label at its tail and another at its head.
   */
  readonly reverse: Int32Array;
  /** Interchangeable nodes. */
  readonly twins: Twins;
  /** Numbers above all labels of nodes, and of edges. */
  readonly nodeLabels: number;
  readonly edgeLabels: number;
}

/**
 * @param reverse label of an edge as seen from its other end; itself when left out
 * @throws RangeError when groups are not in order
 */
export function graphStore(graphs: readonly InputGraph[], reverse?: (link: number) => number): GraphStore {
  const builder = new GraphStoreBuilder(reverse);
  for (const graph of graphs) builder.add(graph);
  return builder.built();
}

/** Takes graphs one by one, so that other requests can run in between. */
export class GraphStoreBuilder {
  readonly #group = new GrowingList();
  readonly #graph = new GrowingList();
  readonly #graphs = new GrowingList();
  readonly #labelStarts = new GrowingList();
  readonly #labels = new GrowingList();
  readonly #arcs = new GrowingList();
  readonly #heads = new GrowingList();
  readonly #links = new GrowingList();
  readonly #bearers: GrowingList[] = [];
  #last = -1;
  #groups = 0;
  readonly #reverse: (link: number) => number;
  #edgeLabels = 0;

  /** @param reverse label of an edge as seen from its other end; itself when left out */
  constructor(reverse: (link: number) => number = (link) => link) {
    this.#reverse = reverse;
    for (const starts of [this.#graphs, this.#labelStarts, this.#arcs]) starts.push(0);
  }

  /** @throws RangeError when its group comes before that of the graph before */
  add(graph: InputGraph): void {
    if (graph.group < this.#last) throw new RangeError('graphs must come in the order of their groups');
    if (graph.group !== this.#last) this.#groups++;
    this.#last = graph.group;
    const base = this.#group.length;
    const around = arcsOf(graph, this.#reverse);
    graph.labels.forEach((own, node) => {
      this.#group.push(graph.group);
      this.#graph.push(this.#graphs.length - 1);
      for (const label of own) {
        this.#labels.push(label);
        this.#bearersOf(label).push(base + node);
      }
      this.#labelStarts.push(this.#labels.length);
      for (const [head, link] of around[node]) {
        this.#heads.push(base + head);
        this.#links.push(link);
        this.#edgeLabels = Math.max(this.#edgeLabels, link + 1);
      }
      this.#arcs.push(this.#heads.length);
    });
    this.#graphs.push(this.#group.length);
  }

  built(): GraphStore {
    const nodes = {
      nodes: this.#group.length,
      graphs: this.#graphs.taken(),
      labelStarts: this.#labelStarts.taken(),
      labels: this.#labels.taken(),
      arcs: this.#arcs.taken(),
      heads: this.#heads.taken(),
      links: this.#links.taken(),
    };
    return {
      ...nodes,
      groups: this.#groups,
      group: this.#group.taken(),
      graph: this.#graph.taken(),
      bearers: this.#bearers.map((list) => list.taken()),
      twins: twinsOf(nodes),
      reverse: Int32Array.from({ length: this.#edgeLabels }, (_, link) => this.#reverse(link)),
      nodeLabels: this.#bearers.length,
      edgeLabels: this.#edgeLabels,
    };
  }

  #bearersOf(label: number): GrowingList {
    while (this.#bearers.length <= label) this.#bearers.push(new GrowingList());
    return this.#bearers[label];
  }
}

/** Arcs that leave each node, every edge once from each end; loops are left out. */
function arcsOf(
  { labels, edges }: InputGraph,
  reverse: (link: number) => number,
): readonly (readonly (readonly [number, number])[])[] {
  const around = labels.map((): [number, number][] => []);
  const add = (from: number, to: number, link: number) => {
    if (!around[from].some(([head, other]) => head === to && other === link)) around[from].push([to, link]);
  };
  for (const [a, b, link] of edges) {
    if (a === b) continue;
    add(a, b, link);
    add(b, a, reverse(link));
  }
  return around;
}

export function hasLabel({ labelStarts, labels }: GraphStore, node: number, label: number): boolean {
  for (let at = labelStarts[node]; at < labelStarts[node + 1]; at++) if (labels[at] === label) return true;
  return false;
}

export function hasArc({ arcs, heads, links }: GraphStore, from: number, to: number, link: number): boolean {
  for (let at = arcs[from]; at < arcs[from + 1]; at++) {
    if (heads[at] === to && links[at] === link) return true;
  }
  return false;
}
