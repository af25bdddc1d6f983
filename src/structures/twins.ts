/** What twins are told from: nodes with labels and arcs, as in `graph-store.ts`. */
export interface TwinInput {
  readonly nodes: number;
  readonly graphs: Int32Array;
  readonly labelStarts: Int32Array;
  readonly labels: Int32Array;
  readonly arcs: Int32Array;
  readonly heads: Int32Array;
  readonly links: Int32Array;
}

/** Which nodes are interchangeable. */
export interface Twins {
  /** The twin before each node, -1 where there is none. */
  readonly before: Int32Array;
  /** Twins of each node from itself on: ways to choose one where those before it are taken. */
  readonly ways: Int32Array;
}

/**
 * Nodes of one graph that can be exchanged without changing it: with the same labels, joined to the same other nodes in the
 * same ways, and to one another all in one way or not at all. A board has many: capacitors of a rail, test pads of a line,
 * LEDs of a driver. Any permutation of twins maps the graph on itself, so one way to place a structure on them stands for
 * all.
 */
export function twinsOf(input: TwinInput): Twins {
  const { nodes, graphs, arcs } = input;
  const before = new Int32Array(nodes).fill(-1);
  const ways = new Int32Array(nodes).fill(1);
  const sorted = new SortedArcs(input);
  for (let graph = 0; graph < graphs.length - 1; graph++) {
    // Equal keys are likely twins; each pair is compared before it counts.
    const buckets = new Map<number, number[]>();
    for (let node = graphs[graph]; node < graphs[graph + 1]; node++) {
      if (arcs[node] === arcs[node + 1]) continue;
      for (const key of sorted.keysOf(node)) {
        const bucket = buckets.get(key);
        if (bucket) bucket.push(node);
        else buckets.set(key, [node]);
      }
    }
    for (const bucket of buckets.values()) {
      const last: number[] = [];
      for (const node of bucket) {
        const own = last.findIndex((other) => sorted.areTwins(other, node));
        if (own >= 0) before[node] = last[own];
        last[own >= 0 ? own : last.length] = node;
      }
    }
  }
  for (let node = nodes - 1; node >= 0; node--) if (before[node] >= 0) ways[before[node]] = ways[node] + 1;
  return { before, ways };
}

/** Arcs of each node by head and link. */
class SortedArcs {
  readonly #input: TwinInput;
  readonly #heads: Int32Array;
  readonly #links: Int32Array;

  constructor(input: TwinInput) {
    this.#input = input;
    this.#heads = input.heads.slice();
    this.#links = input.links.slice();
    for (let node = 0; node < input.nodes; node++) this.#sort(input.arcs[node], input.arcs[node + 1]);
  }

  #sort(from: number, to: number): void {
    const order = Array.from({ length: to - from }, (_, at) => from + at).sort(
      (a, b) => this.#input.heads[a] - this.#input.heads[b] || this.#input.links[a] - this.#input.links[b],
    );
    order.forEach((arc, at) => {
      this.#heads[from + at] = this.#input.heads[arc];
      this.#links[from + at] = this.#input.links[arc];
    });
  }

  /** Keys that a node shares with twins that it is not joined to, and with such that it is joined to in each way. */
  keysOf(node: number): readonly number[] {
    const { arcs, labels, labelStarts } = this.#input;
    let own = 0;
    for (let at = labelStarts[node]; at < labelStarts[node + 1]; at++) own += mixed(labels[at], 0);
    const joins = new Set<number>();
    for (let arc = arcs[node]; arc < arcs[node + 1]; ) {
      const head = this.#heads[arc];
      let join = 0;
      for (; arc < arcs[node + 1] && this.#heads[arc] === head; arc++) join += mixed(this.#links[arc], 1);
      own += mixed(head, join);
      joins.add(join);
    }
    return [own, ...[...joins].map((join) => own + mixed(node, join))];
  }

  areTwins(a: number, b: number): boolean {
    const { arcs } = this.#input;
    if (!this.#sameLabels(a, b)) return false;
    let [x, y] = [arcs[a], arcs[b]];
    const [endX, endY] = [arcs[a + 1], arcs[b + 1]];
    if (endX - x !== endY - y) return false;
    const linksOfA: number[] = [];
    const linksOfB: number[] = [];
    for (;;) {
      while (x < endX && this.#heads[x] === b) linksOfA.push(this.#links[x++]);
      while (y < endY && this.#heads[y] === a) linksOfB.push(this.#links[y++]);
      if (x === endX || y === endY) break;
      if (this.#heads[x] !== this.#heads[y] || this.#links[x] !== this.#links[y]) return false;
      x++;
      y++;
    }
    return x === endX && y === endY && linksOfA.every((link, at) => link === linksOfB[at]);
  }

  #sameLabels(a: number, b: number): boolean {
    const { labelStarts, labels } = this.#input;
    const count = labelStarts[a + 1] - labelStarts[a];
    if (labelStarts[b + 1] - labelStarts[b] !== count) return false;
    for (let at = 0; at < count; at++)
      if (labels[labelStarts[a] + at] !== labels[labelStarts[b] + at]) return false;
    return true;
  }
}

/** A number of 32 bits mixed from two. */
function mixed(a: number, b: number): number {
  let value = Math.imul(a ^ 0x9e3779b9, 0x85ebca6b) ^ Math.imul((b | 0) ^ 0x27d4eb2f, 0xc2b2ae35);
  value = Math.imul(value ^ (value >>> 15), 0x2c1b3c6d);
  return (value ^ (value >>> 13)) >>> 0;
}
