/** A graph to be mined: undirected, nodes 0 to n - 1 with one or more labels each, one label an edge. */
export interface InputGraph {
  /** Group whose support it counts towards; several graphs of one group count once. Groups must not fall. */
  readonly group: number;
  /** Labels of each node; one without labels takes part in nothing. */
  readonly labels: readonly (readonly number[])[];
  /** Ends and label of each edge. Two nodes may have several edges of different labels; equal ones count once. */
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
  /** First node of each graph, and the number of nodes at the end. */
  readonly graphs: Int32Array;
  readonly labelStarts: Int32Array;
  readonly labels: Int32Array;
  readonly arcs: Int32Array;
  readonly heads: Int32Array;
  readonly links: Int32Array;
  /** Numbers above all labels of nodes, and of edges. */
  readonly nodeLabels: number;
  readonly edgeLabels: number;
}

/** @throws RangeError when groups are not in order */
export function graphStore(graphs: readonly InputGraph[]): GraphStore {
  const group: number[] = [];
  const starts = [0];
  const labelStarts = [0];
  const labels: number[] = [];
  const arcs = [0];
  const heads: number[] = [];
  const links: number[] = [];
  let last = -1;
  let groups = 0;
  for (const graph of graphs) {
    if (graph.group < last) throw new RangeError('graphs must come in the order of their groups');
    if (graph.group !== last) groups++;
    last = graph.group;
    const base = group.length;
    const around = arcsOf(graph);
    graph.labels.forEach((own, node) => {
      group.push(graph.group);
      labels.push(...own);
      labelStarts.push(labels.length);
      for (const [head, link] of around[node]) {
        heads.push(base + head);
        links.push(link);
      }
      arcs.push(heads.length);
    });
    starts.push(group.length);
  }
  return {
    groups,
    nodes: group.length,
    group: Int32Array.from(group),
    graphs: Int32Array.from(starts),
    labelStarts: Int32Array.from(labelStarts),
    labels: Int32Array.from(labels),
    arcs: Int32Array.from(arcs),
    heads: Int32Array.from(heads),
    links: Int32Array.from(links),
    nodeLabels: 1 + labels.reduce((most, label) => Math.max(most, label), -1),
    edgeLabels: 1 + links.reduce((most, label) => Math.max(most, label), -1),
  };
}

/** Arcs that leave each node, every edge once in each direction; loops are left out. */
function arcsOf({ labels, edges }: InputGraph): readonly (readonly (readonly [number, number])[])[] {
  const around = labels.map((): [number, number][] => []);
  const add = (from: number, to: number, link: number) => {
    if (!around[from].some(([head, other]) => head === to && other === link)) around[from].push([to, link]);
  };
  for (const [a, b, link] of edges) {
    if (a === b) continue;
    add(a, b, link);
    add(b, a, link);
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
