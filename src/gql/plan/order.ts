/**
 * The order of the search. From each possible start the cheapest next step is taken until all edges are in, and the
 * cheapest whole wins: the greedy search of Fegaras, "A new heuristic for optimizing large queries" (DEXA 1998),
 * over the exact edge counts of the index. Edges between bound nodes are checked as soon as they can be.
 */
import type { Estimates } from './estimates.ts';
import type { Pattern } from './pattern.ts';
import type { Step } from './step.ts';

export interface PlannedStep {
  readonly step: Step;
  /** Bindings expected after the step. */
  readonly rows: number;
}

export interface Order {
  readonly steps: readonly PlannedStep[];
  /** Entries expected to be looked at. */
  readonly cost: number;
}

export interface OrderOptions {
  /** Nodes that the search may start with; default any. */
  readonly roots?: readonly number[] | undefined;
  /** Start with the rarest element alone. */
  readonly hurried?: boolean | undefined;
  /** Take elements in the order of the text, without estimates. */
  readonly naive?: boolean | undefined;
  /** Pattern nodes that are searched segment by segment only. */
  readonly confined?: readonly boolean[] | undefined;
  /** Whether the search is in one segment already, so that the first scan of a confined node goes through that one too. */
  readonly within?: boolean | undefined;
}

export function orderSteps(pattern: Pattern, estimates: Estimates, options: OrderOptions = {}): Order {
  if (options.naive) return naive(pattern, options.roots, estimates);
  const anyBound = pattern.nodes.some((node) => node.bound);
  const connected = anyBound && pattern.edges.some((e) => touchesBound(pattern, e.from, e.to));
  const roots = connected ? [-1] : (options.roots ?? pattern.nodes.flatMap((n, i) => (n.bound ? [] : [i])));
  if (roots.length === 0) return greedy(pattern, estimates, -1, options)!;
  // Many roots of a large pattern: the rarest few are enough.
  const most = options.hurried ? 1 : roots.length > 8 ? 4 : roots.length;
  const tried =
    most < roots.length
      ? [...roots].sort((a, b) => estimates.visited[a]! - estimates.visited[b]!).slice(0, most)
      : roots;
  let best: Order | undefined;
  for (const root of tried) {
    const order = greedy(pattern, estimates, root, options, best?.cost);
    if (!best || (order && order.cost < best.cost)) best = order;
  }
  return best!;
}

function touchesBound(pattern: Pattern, from: number, to: number): boolean {
  return pattern.nodes[from]!.bound || pattern.nodes[to]!.bound;
}

/** Entries that can be looked at while a search goes to the next segment. */
const SEGMENT = 4;

/** The same, while an edge is looked at that another segment points to a node: these lie far apart in memory. */
const ENTERED = 4;

/** Edges at a node, of the label asked for, from which on a list is called long. */
const LONG = 6;

/** Rows beyond which more make no difference, so that products of thousands of factors stay numbers. */
const MOST_ROWS = 1e200;

const edgesKept = new WeakMap<Pattern, readonly (readonly number[])[]>();

/** The edges at each node of a pattern, ascending. */
function edgesAt(pattern: Pattern): readonly (readonly number[])[] {
  const known = edgesKept.get(pattern);
  if (known) return known;
  const at: number[][] = pattern.nodes.map(() => []);
  pattern.edges.forEach(({ from, to }, edge) => {
    at[from]!.push(edge);
    if (to !== from) at[to]!.push(edge);
  });
  edgesKept.set(pattern, at);
  return at;
}

class Progress {
  readonly bound: boolean[];
  readonly done: boolean[];
  readonly steps: PlannedStep[] = [];
  /** Per pattern node, its edges. */
  readonly at: readonly (readonly number[])[];
  rows = 1;
  cost = 0;
  /** Called with elements (slots) that a condition still waits for, when the one before has been bound. */
  onWaiting: ((slot: number) => void) | undefined;
  readonly #pattern: Pattern;
  readonly #estimates: Estimates;
  readonly #confined: readonly boolean[] | undefined;
  readonly #within: boolean;
  /** Nodes that a walk has arrived at, or gone on from. */
  readonly #reached: boolean[];
  readonly #slots: Set<number>;
  /** Per slot, the conditions that read it; per condition, how many of its slots are not bound yet. */
  readonly #readers = new Map<number, number[]>();
  readonly #pending: Int32Array;

  constructor(pattern: Pattern, estimates: Estimates, confined?: readonly boolean[], within = false) {
    this.#pattern = pattern;
    this.#estimates = estimates;
    this.#confined = confined;
    this.#within = within;
    this.bound = pattern.nodes.map((node) => node.bound);
    this.done = pattern.edges.map(() => false);
    this.#reached = pattern.nodes.map(() => false);
    this.at = edgesAt(pattern);
    this.#slots = new Set();
    this.#pending = Int32Array.from(pattern.conditions, ({ slots }) => new Set(slots).size);
    pattern.conditions.forEach(({ slots }, condition) => {
      for (const slot of new Set(slots)) {
        const known = this.#readers.get(slot);
        if (known) known.push(condition);
        else this.#readers.set(slot, [condition]);
      }
    });
    for (const element of [...pattern.nodes, ...pattern.edges]) if (element.bound) this.#bind(element.slot);
  }

  /** Nodes that a scan visits; once the search is in a segment, for a confined node, those of that one. */
  visited(node: number): number {
    return this.#perScan(node, this.#estimates.visited[node]!);
  }

  #perScan(node: number, nodes: number): number {
    const isWithin = this.#within || this.steps.length > 0;
    return this.#confined?.[node] && isWithin ? nodes / this.#estimates.segments[node]! : nodes;
  }

  /** Whether a walk leads from a thing that many segments point to, into a single segment. */
  strays(edge: number): boolean {
    const { from, to } = this.#pattern.edges[edge]!;
    const side = this.bound[from] ? 0 : 1;
    return this.#estimates.entered[edge]![side] && this.#confined?.[side === 0 ? to : from] === true;
  }

  scan(node: number): void {
    const { nodes, lists } = this.#estimates;
    const found = this.#perScan(node, nodes[node]!);
    const isOne = this.steps.length > 0 || (this.#within && this.#confined?.[node] === true);
    const segments = isOne ? 0 : this.#estimates.segments[node]! * SEGMENT;
    this.#take({ kind: 'scan', node, list: lists[node] }, found, this.visited(node) + segments, [
      this.#pattern.nodes[node]!.slot,
    ]);
    this.bound[node] = true;
    this.#connect(node);
  }

  /** The end that an edge is walked from: 0 for `from`, 1 for `to`; and the pattern nodes at both. */
  #way(edge: number): { side: 0 | 1; start: number; end: number } {
    const { from, to } = this.#pattern.edges[edge]!;
    return this.bound[from] ? { side: 0, start: from, end: to } : { side: 1, start: to, end: from };
  }

  /** Bindings expected after walking an edge, per binding now. */
  growth(edge: number): number {
    const { side, start, end } = this.#way(edge);
    const { slot } = this.#pattern.edges[edge]!;
    const fan = this.#estimates.fan(edge, side, this.#reached[start]!);
    return fan * this.#passing(slot, this.#pattern.nodes[end]!.slot);
  }

  /** Entries looked at when walking an edge, per binding now. */
  effort(edge: number): number {
    const { side, start } = this.#way(edge);
    return this.#estimates.entries(edge, side, this.#reached[start]!);
  }

  /** Entries looked at in fact: long lists are not gone through from end to end. */
  looked(edge: number): number {
    const { side, end } = this.#way(edge);
    const { crossing, entered, tests } = this.#estimates;
    const effort = this.effort(edge);
    if (crossing[edge]) return effort * tests[end]! * (entered[edge]![side] ? ENTERED : 1);
    if (this.#meets(edge)) return this.#inSegment(end) * 2;
    if (effort < LONG || tests[end]! > 1) return effort * tests[end]!;
    return Math.min(effort, 8 + this.growth(edge));
  }

  /** Few far nodes in a segment, with short lists of their own, beside the long list of the near one. */
  #meets(edge: number): boolean {
    const { side, end } = this.#way(edge);
    const { crossing } = this.#estimates;
    const effort = this.effort(edge);
    if (crossing[edge] || effort < LONG) return false;
    const own = this.#estimates.entries(edge, side === 0 ? 1 : 0, false);
    return this.#inSegment(end) * (own + 1) < effort && own <= 3;
  }

  /** Nodes of a segment that a search for one goes through. */
  #inSegment(node: number): number {
    return this.#estimates.visited[node]! / this.#estimates.segments[node]!;
  }

  walk(edge: number): void {
    const { side, start, end } = this.#way(edge);
    const meet = this.#meets(edge);
    const step: Step = {
      kind: 'walk',
      edge,
      reversed: side === 1,
      long: this.effort(edge) >= LONG,
      meet,
      list: meet ? this.#estimates.lists[end] : undefined,
      sure: this.#estimates.isSure(edge, side),
    };
    const looked = this.looked(edge);
    this.done[edge] = true;
    this.#take(step, this.#estimates.fan(edge, side, this.#reached[start]!), looked + 2, [
      this.#pattern.edges[edge]!.slot,
      this.#pattern.nodes[end]!.slot,
    ]);
    this.bound[end] = true;
    // From here on there are more bindings for a start that has more such edges.
    this.#reached[start] = true;
    this.#reached[end] = true;
    this.#connect(end);
  }

  /** Edges between bound nodes. */
  connectAll(): void {
    this.#connectThese(this.#pattern.edges.keys());
  }

  /** The same, when one more node has been bound. */
  #connect(node: number): void {
    this.#connectThese(this.at[node]!);
  }

  #connectThese(edges: Iterable<number>): void {
    for (const i of edges) {
      const edge = this.#pattern.edges[i]!;
      if (this.done[i] || !this.bound[edge.from] || !this.bound[edge.to]) continue;
      this.done[i] = true;
      this.#take({ kind: 'connect', edge: i }, this.#estimates.joined(i), 2, [edge.slot]);
    }
  }

  #take(step: Step, growth: number, effort: number, slots: readonly number[]): void {
    this.cost += this.rows * effort;
    let passing = 1;
    for (const slot of slots) passing *= this.#bind(slot);
    this.rows = Math.min(MOST_ROWS, this.rows * growth * passing);
    this.cost += this.rows;
    this.steps.push({ step, rows: this.rows });
  }

  /** Notes that a slot is bound; selectivity of the conditions that become testable with it. */
  #bind(slot: number): number {
    if (this.#slots.has(slot)) return 1;
    this.#slots.add(slot);
    let passing = 1;
    for (const condition of this.#readers.get(slot) ?? []) {
      const left = --this.#pending[condition]!;
      const { slots } = this.#pattern.conditions[condition]!;
      const selectivity = this.#estimates.selectivity[condition]!;
      if (left === 0) passing *= selectivity;
      else if (left <= 2 && this.onWaiting)
        for (const other of slots) if (!this.#slots.has(other)) this.onWaiting(other);
    }
    return passing;
  }

  /** Selectivity of the conditions that would become testable with two more slots. */
  #passing(a: number, b: number): number {
    let passing = 1;
    const newA = !this.#slots.has(a);
    const newB = b !== a && !this.#slots.has(b);
    if (newA)
      for (const condition of this.#readers.get(a) ?? []) {
        const left = this.#pending[condition]!;
        const { slots } = this.#pattern.conditions[condition]!;
        const selectivity = this.#estimates.selectivity[condition]!;
        if (left === 1 || (left === 2 && newB && slots.includes(b))) passing *= selectivity;
      }
    if (newB)
      for (const condition of this.#readers.get(b) ?? [])
        if (this.#pending[condition] === 1) passing *= this.#estimates.selectivity[condition]!;
    return passing;
  }
}

/** @param most cost from which on the order is of no use: then there is none */
function greedy(
  pattern: Pattern,
  estimates: Estimates,
  root: number,
  { confined, within }: OrderOptions,
  most = Number.POSITIVE_INFINITY,
): Order | undefined {
  const progress = new Progress(pattern, estimates, confined, within);
  const { bound, done } = progress;
  const frontier = new Frontier(pattern.edges.length);
  const offer = (i: number) => {
    const { from, to } = pattern.edges[i]!;
    if (done[i] || bound[from] === bound[to]) return;
    // Its segment holds few such nodes; the other end has edges from all segments.
    if (progress.strays(i)) return;
    // What the step leaves counts for all later steps; what it looks at counts once.
    frontier.offer(i, progress.growth(i) + progress.looked(i) / 16);
  };
  const places = new Map<number, readonly number[]>();
  if (pattern.conditions.some(({ slots }) => slots.length > 1)) {
    pattern.nodes.forEach(({ slot }, node) => {
      places.set(slot, progress.at[node]!);
    });
    pattern.edges.forEach(({ slot }, edge) => {
      places.set(slot, [...(places.get(slot) ?? []), edge]);
    });
  }
  const waiting = new Set<number>();
  progress.onWaiting = (slot) => waiting.add(slot);
  /** Looks again at the edges whose weight the last step has changed. */
  const settle = (node: number) => {
    for (const edge of progress.at[node]!) offer(edge);
    for (const slot of waiting) for (const edge of places.get(slot) ?? []) offer(edge);
    waiting.clear();
  };
  progress.connectAll();
  pattern.edges.forEach((_, i) => {
    offer(i);
  });
  waiting.clear();
  const scan = (node: number) => {
    progress.scan(node);
    settle(node);
  };
  if (root >= 0) scan(root);
  /** Nodes by what a scan of them visits, and how many of them have been looked at. */
  let byScan: number[] | undefined;
  let looked = 0;
  for (;;) {
    if (progress.cost >= most) return undefined;
    const best = frontier.take(
      (i) => !done[i] && bound[pattern.edges[i]!.from] !== bound[pattern.edges[i]!.to],
    );
    if (best !== undefined) {
      const { from, to } = pattern.edges[best]!;
      const end = bound[from] ? to : from;
      progress.walk(best);
      settle(end);
      continue;
    }
    if (!byScan) {
      const visits = pattern.nodes.map((_, i) => progress.visited(i));
      byScan = [...visits.keys()].sort((a, b) => visits[a]! - visits[b]!);
      looked = 0;
    }
    while (looked < byScan.length && bound[byScan[looked]!]) looked++;
    const next = byScan[looked];
    if (next === undefined) break;
    // From the second step on, what a scan visits stays the same.
    if (progress.steps.length === 0) byScan = undefined;
    scan(next);
  }
  return { steps: progress.steps, cost: progress.cost };
}

/** Edges that can be walked, least weight first and then in the order of the text: a binary heap. */
class Frontier {
  readonly #weights: Float64Array;
  readonly #places: Int32Array;
  readonly #heap: number[] = [];

  constructor(edges: number) {
    this.#weights = new Float64Array(edges);
    this.#places = new Int32Array(edges).fill(-1);
  }

  /** Puts an edge in, or changes its weight. */
  offer(edge: number, weight: number): void {
    const before = this.#places[edge]!;
    // What is not a number, from estimates that overflow, comes last.
    this.#weights[edge] = Number.isNaN(weight) ? Number.POSITIVE_INFINITY : weight;
    if (before < 0) this.#heap.push(edge);
    const place = before < 0 ? this.#heap.length - 1 : before;
    this.#places[edge] = place;
    this.#down(this.#up(place));
  }

  /** Takes out the first edge that is still wanted; the others before it go as well. */
  take(isWanted: (edge: number) => boolean): number | undefined {
    while (this.#heap.length > 0) {
      const first = this.#heap[0]!;
      const last = this.#heap.pop()!;
      this.#places[first] = -1;
      if (first !== last) {
        this.#heap[0] = last;
        this.#places[last] = 0;
        this.#down(0);
      }
      if (isWanted(first)) return first;
    }
    return undefined;
  }

  #before(a: number, b: number): boolean {
    const [x, y] = [this.#weights[a]!, this.#weights[b]!];
    return x < y || (x === y && a < b);
  }

  #swap(a: number, b: number): void {
    const [x, y] = [this.#heap[a]!, this.#heap[b]!];
    this.#heap[a] = y;
    this.#heap[b] = x;
    this.#places[y] = a;
    this.#places[x] = b;
  }

  #up(from: number): number {
    let place = from;
    while (place > 0) {
      const parent = (place - 1) >> 1;
      if (!this.#before(this.#heap[place]!, this.#heap[parent]!)) break;
      this.#swap(place, parent);
      place = parent;
    }
    return place;
  }

  #down(from: number): void {
    let place = from;
    for (;;) {
      const left = place * 2 + 1;
      if (left >= this.#heap.length) return;
      const right = left + 1;
      const child =
        right < this.#heap.length && this.#before(this.#heap[right]!, this.#heap[left]!) ? right : left;
      if (!this.#before(this.#heap[child]!, this.#heap[place]!)) return;
      this.#swap(place, child);
      place = child;
    }
  }
}

/** A step that goes through everything. */
function plainStep(step: Step): Step {
  if (step.kind === 'walk') return { ...step, long: false, meet: false, list: undefined, sure: false };
  return step.kind === 'scan' ? { ...step, list: undefined } : step;
}

function naive(pattern: Pattern, roots: readonly number[] | undefined, estimates: Estimates): Order {
  const progress = new Progress(pattern, estimates);
  progress.connectAll();
  const first = roots?.[0] ?? 0;
  const inTextOrder = pattern.nodes.map((_, i) => i);
  if (roots) inTextOrder.unshift(first);
  for (const node of inTextOrder) {
    if (progress.bound[node]) continue;
    const way = progress.at[node]!.find((i) => {
      const edge = pattern.edges[i]!;
      return !progress.done[i] && progress.bound[edge.to === node ? edge.from : edge.to];
    });
    if (way !== undefined) progress.walk(way);
    else progress.scan(node);
  }
  // Nothing that only estimates say: the naive plan is there to be compared with.
  const steps = progress.steps.map(({ step, rows }) => ({
    rows,
    step: plainStep(step),
  }));
  return { steps, cost: progress.cost };
}
