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
  /** Take elements in the order of the text, without estimates. */
  readonly naive?: boolean | undefined;
  /** Pattern nodes that are searched segment by segment only. */
  readonly confined?: readonly boolean[] | undefined;
}

export function orderSteps(pattern: Pattern, estimates: Estimates, options: OrderOptions = {}): Order {
  if (options.naive) return naive(pattern, options.roots, estimates);
  const anyBound = pattern.nodes.some((node) => node.bound);
  const connected = anyBound && pattern.edges.some((e) => touchesBound(pattern, e.from, e.to));
  const roots = connected ? [-1] : (options.roots ?? pattern.nodes.flatMap((n, i) => (n.bound ? [] : [i])));
  if (roots.length === 0) return greedy(pattern, estimates, -1, options.confined);
  // Many roots of a large pattern: the rarest few are enough.
  const tried =
    roots.length > 8
      ? [...roots].sort((a, b) => estimates.nodes[a]! - estimates.nodes[b]!).slice(0, 4)
      : roots;
  let best: Order | undefined;
  for (const root of tried) {
    const order = greedy(pattern, estimates, root, options.confined);
    if (!best || order.cost < best.cost) best = order;
  }
  return best!;
}

function touchesBound(pattern: Pattern, from: number, to: number): boolean {
  return pattern.nodes[from]!.bound || pattern.nodes[to]!.bound;
}

/** Edges at a node, of the label asked for, from which on a list is called long. */
const LONG = 6;

const SKEW = 4;

class Progress {
  readonly bound: boolean[];
  readonly done: boolean[];
  readonly slots: Set<number>;
  readonly used: boolean[];
  readonly steps: PlannedStep[] = [];
  rows = 1;
  cost = 0;
  readonly #pattern: Pattern;
  readonly #estimates: Estimates;
  readonly #confined: readonly boolean[] | undefined;

  constructor(pattern: Pattern, estimates: Estimates, confined?: readonly boolean[]) {
    this.#pattern = pattern;
    this.#estimates = estimates;
    this.#confined = confined;
    this.bound = pattern.nodes.map((node) => node.bound);
    this.done = pattern.edges.map(() => false);
    this.used = pattern.conditions.map(() => false);
    this.slots = new Set(
      [...pattern.nodes, ...pattern.edges].filter((element) => element.bound).map((element) => element.slot),
    );
    this.#filter(this.slots, true);
  }

  /** Nodes that a scan visits; after the first, for a confined node, those of one segment. */
  scanned(node: number): number {
    const { nodes, segments } = this.#estimates;
    return this.#confined?.[node] && this.steps.length > 0 ? nodes[node]! / segments : nodes[node]!;
  }

  /** Whether a walk leads from a thing that many segments point to, into a single segment. */
  strays(edge: number): boolean {
    const { from, to } = this.#pattern.edges[edge]!;
    const side = this.bound[from] ? 0 : 1;
    return this.#estimates.entered[edge]![side] && this.#confined?.[side === 0 ? to : from] === true;
  }

  scan(node: number): void {
    const found = this.scanned(node);
    this.#take({ kind: 'scan', node }, found, found, [this.#pattern.nodes[node]!.slot]);
    this.bound[node] = true;
    this.connectAll();
  }

  /** Bindings expected after walking an edge, per binding now. */
  growth(edge: number): number {
    const { from, to, slot } = this.#pattern.edges[edge]!;
    const start = this.bound[from] ? from : to;
    const end = this.bound[from] ? to : from;
    const fan = this.#estimates.edges[edge]! / Math.max(1, this.#estimates.nodes[start]!);
    return fan * this.#filter(new Set([slot, this.#pattern.nodes[end]!.slot]), false);
  }

  /**
   * How much more than the mean a walk finds: things that many segments point to are used very unevenly, and a walk
   * visits the much-used ones more often.
   */
  skew(edge: number): number {
    const { from } = this.#pattern.edges[edge]!;
    return this.#estimates.entered[edge]![this.bound[from] ? 0 : 1] ? SKEW : 1;
  }

  /** Entries looked at when walking an edge, per binding now. */
  effort(edge: number): number {
    const { from, to } = this.#pattern.edges[edge]!;
    const start = this.bound[from] ? from : to;
    const entries = this.#estimates.entries[edge]![this.bound[from] ? 0 : 1];
    return entries / Math.max(1, this.#estimates.nodes[start]!);
  }

  /** Entries looked at in fact: long lists are not gone through from end to end. */
  looked(edge: number): number {
    const { from, to } = this.#pattern.edges[edge]!;
    const { nodes, segments } = this.#estimates;
    const effort = this.effort(edge);
    if (effort < LONG || this.#estimates.crossing[edge]) return effort;
    if (this.#meets(edge)) return (nodes[this.bound[from] ? to : from]! / segments) * 2;
    return Math.min(effort, 8 + this.growth(edge));
  }

  /** Few far nodes in a segment, with short lists of their own, beside the long list of the near one. */
  #meets(edge: number): boolean {
    const { from, to } = this.#pattern.edges[edge]!;
    const { nodes, entries, segments } = this.#estimates;
    const end = this.bound[from] ? to : from;
    const perSegment = nodes[end]! / segments;
    const own = entries[edge]![this.bound[from] ? 1 : 0] / Math.max(1, nodes[end]!);
    return perSegment * (own + 1) < this.effort(edge) && own <= 3;
  }

  #isSure(edge: number): boolean {
    const { entries, edges } = this.#estimates;
    const side = this.bound[this.#pattern.edges[edge]!.from] ? 0 : 1;
    return entries[edge]![side] === edges[edge] && !this.#estimates.crossing[edge];
  }

  walk(edge: number): void {
    const { from, to, slot } = this.#pattern.edges[edge]!;
    const reversed = !this.bound[from];
    const start = reversed ? to : from;
    const end = reversed ? from : to;
    const fan = this.#estimates.edges[edge]! / Math.max(1, this.#estimates.nodes[start]!);
    this.done[edge] = true;
    this.#take(
      {
        kind: 'walk',
        edge,
        reversed,
        long: this.effort(edge) >= LONG,
        meet: this.#meets(edge),
        sure: this.#isSure(edge),
      },
      fan,
      this.looked(edge) + 2,
      [slot, this.#pattern.nodes[end]!.slot],
    );
    this.bound[end] = true;
    this.connectAll();
  }

  /** Edges between bound nodes. */
  connectAll(): void {
    this.#pattern.edges.forEach((edge, i) => {
      if (this.done[i] || !this.bound[edge.from] || !this.bound[edge.to]) return;
      this.done[i] = true;
      const { nodes, edges, crossing, segments } = this.#estimates;
      const pairs =
        Math.max(1, nodes[edge.from]!) * Math.max(1, nodes[edge.to]! / (crossing[i] ? 1 : segments));
      this.#take({ kind: 'connect', edge: i }, Math.min(1, edges[i]! / pairs), 2, [edge.slot]);
    });
  }

  #take(step: Step, growth: number, effort: number, slots: readonly number[]): void {
    this.cost += this.rows * effort;
    for (const slot of slots) this.slots.add(slot);
    this.rows *= growth * this.#filter(new Set(slots), true);
    this.cost += this.rows;
    this.steps.push({ step, rows: this.rows });
  }

  /** Selectivity of the conditions that become testable with `fresh`. */
  #filter(fresh: ReadonlySet<number>, mark: boolean): number {
    let passing = 1;
    this.#pattern.conditions.forEach((condition, i) => {
      if (this.used[i] || !condition.slots.every((slot) => this.slots.has(slot) || fresh.has(slot))) return;
      if (mark) this.used[i] = true;
      passing *= condition.selectivity;
    });
    return passing;
  }
}

function greedy(
  pattern: Pattern,
  estimates: Estimates,
  root: number,
  confined: readonly boolean[] | undefined,
): Order {
  const progress = new Progress(pattern, estimates, confined);
  progress.connectAll();
  if (root >= 0) progress.scan(root);
  for (;;) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    pattern.edges.forEach((edge, i) => {
      if (progress.done[i] || progress.bound[edge.from] === progress.bound[edge.to]) return;
      // Its segment holds few such nodes; the other end has edges from all segments.
      if (progress.strays(i)) return;
      // What the step leaves counts for all later steps; what it looks at counts once.
      const growth = progress.growth(i) * progress.skew(i) + progress.looked(i) / 16;
      if (growth < least) {
        least = growth;
        best = i;
      }
    });
    if (best >= 0) {
      progress.walk(best);
      continue;
    }
    const rest = pattern.nodes.flatMap((_, i) => (progress.bound[i] ? [] : [i]));
    if (rest.length === 0) break;
    progress.scan(rest.reduce((a, b) => (progress.scanned(b) < progress.scanned(a) ? b : a)));
  }
  return { steps: progress.steps, cost: progress.cost };
}

function naive(pattern: Pattern, roots: readonly number[] | undefined, estimates: Estimates): Order {
  const progress = new Progress(pattern, estimates);
  progress.connectAll();
  const first = roots?.[0] ?? 0;
  const inTextOrder = pattern.nodes.map((_, i) => i);
  if (roots) inTextOrder.unshift(first);
  for (const node of inTextOrder) {
    if (progress.bound[node]) continue;
    const way = pattern.edges.findIndex(
      (edge, i) =>
        !progress.done[i] &&
        ((edge.to === node && progress.bound[edge.from]) || (edge.from === node && progress.bound[edge.to])),
    );
    if (way >= 0) progress.walk(way);
    else progress.scan(node);
  }
  // Nothing that only estimates say: the naive plan is there to be compared with.
  const steps = progress.steps.map(({ step, rows }) => ({
    rows,
    step: step.kind === 'walk' ? { ...step, long: false, meet: false, sure: false } : step,
  }));
  return { steps, cost: progress.cost };
}
