/** One edge of a DFS code: `from` is visited before `to` when `to` is new (forward), after it when not (backward). */
export interface CodeEdge {
  readonly from: number;
  readonly to: number;
  /** Label of the edge, as seen from `from`. */
  readonly link: number;
}

/**
 * A connected graph written as a depth-first walk (Yan & Han, "gSpan: Graph-Based Substructure Pattern Mining", ICDM
 * 2002, 721-724): nodes are numbered in the order of the visit, edges stand in the order of the walk.
 */
export interface Code {
  /** Label of each node. */
  readonly labels: readonly number[];
  readonly edges: readonly CodeEdge[];
}

/** Nodes on the path from the first to the last visited node, in the order of the visit. */
export function rightmostPath({ labels, edges }: Code): readonly number[] {
  const path: number[] = [];
  let at = labels.length - 1;
  for (let place = edges.length - 1; place >= 0; place--) {
    const { from, to } = edges[place];
    if (from < to && to === at) {
      path.push(at);
      at = from;
    }
  }
  path.push(0);
  return path.reverse();
}

/**
 * Whether a code is the least of all codes of its graph, which makes it the graph's canonical name. The order is that
 * of Yan & Han: backward edges before forward ones, backward ones to the earliest node first, forward ones from the
 * latest node first, then by labels. Two nodes may be joined by several edges of different labels: all but the first
 * are backward edges to the parent. An edge with direction is compared by its label as seen from where the walk comes.
 * @param reverse label of an edge as seen from its other end, by label
 */
export function isMinimal(code: Code, reverse: ArrayLike<number>): boolean {
  const { labels, edges } = code;
  const around = neighbours(code, reverse);
  const first = edges[0];
  const [firstFrom, firstTo] = [labels[first.from], labels[first.to]];
  let walks: Walk[] = [];
  for (let node = 0; node < labels.length; node++) {
    for (const { to, link } of around[node]) {
      const order = labels[node] - firstFrom || link - first.link || labels[to] - firstTo;
      if (order < 0) return false;
      if (order === 0) walks.push(startedWalk(labels.length, node, to));
    }
  }
  const path = [0, 1];
  for (let at = 1; at < edges.length; at++) {
    const next: Walk[] = [];
    for (const walk of walks) if (!extend(code, around, path, at, walk, next, reverse)) return false;
    walks = next;
    const { from, to } = edges[at];
    if (from < to) {
      while (path[path.length - 1] !== from) path.pop();
      path.push(to);
    }
  }
  return true;
}

/** One way in which the first edges of a code lie in its own graph. */
interface Walk {
  /** Node of the graph that is visited at each place. */
  readonly nodes: readonly number[];
  /** Place of each node of the graph, -1 where not visited yet. */
  readonly places: Int8Array;
}

function startedWalk(nodes: number, a: number, b: number): Walk {
  const places = new Int8Array(nodes).fill(-1);
  places[a] = 0;
  places[b] = 1;
  return { nodes: [a, b], places };
}

interface Neighbour {
  readonly to: number;
  readonly link: number;
}

function neighbours({ labels, edges }: Code, reverse: ArrayLike<number>): readonly (readonly Neighbour[])[] {
  const around = labels.map((): Neighbour[] => []);
  for (const { from, to, link } of edges) {
    around[from].push({ to, link });
    around[to].push({ to: from, link: reverse[link] });
  }
  return around;
}

/** Puts every continuation of a walk that equals edge `at` onto `next`; false when some continuation is less. */
function extend(
  code: Code,
  around: readonly (readonly Neighbour[])[],
  path: readonly number[],
  at: number,
  walk: Walk,
  next: Walk[],
  reverse: ArrayLike<number>,
): boolean {
  const { labels, edges } = code;
  const wanted = edges[at];
  const backward = wanted.from > wanted.to;
  const last = walk.nodes.length - 1;
  for (const { to, link } of around[walk.nodes[last]]) {
    const place = walk.places[to];
    if (place < 0 || walked(edges, at, last, place, link, reverse)) continue;
    if (!backward) return false;
    const order = place - wanted.to || link - wanted.link;
    if (order < 0) return false;
    if (order === 0) next.push(walk);
  }
  if (backward) return true;
  for (let step = path.length - 1; step >= 0 && path[step] >= wanted.from; step--) {
    const from = path[step];
    for (const { to, link } of around[walk.nodes[from]]) {
      if (walk.places[to] >= 0) continue;
      if (from > wanted.from) return false;
      const order = link - wanted.link || labels[to] - labels[wanted.to];
      if (order < 0) return false;
      if (order > 0) continue;
      const places = walk.places.slice();
      places[to] = wanted.to;
      next.push({ nodes: [...walk.nodes, to], places });
    }
  }
  return true;
}

/** Whether one of the first `count` edges joins two places by a label, as seen from the first. */
function walked(
  edges: readonly CodeEdge[],
  count: number,
  a: number,
  b: number,
  link: number,
  reverse: ArrayLike<number>,
): boolean {
  for (let at = 0; at < count; at++) {
    const edge = edges[at];
    if (edge.from === a && edge.to === b && edge.link === link) return true;
    if (edge.from === b && edge.to === a && reverse[edge.link] === link) return true;
  }
  return false;
}
