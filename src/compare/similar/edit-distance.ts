import { CasebackError } from '../../model/problems.ts';
import { Pace } from '../../state/pace.ts';
import { assign } from '../align/assignment.ts';
import { type Edits, edgesOf, editsOf } from './edits.ts';
import type { LabelledGraph } from './labelled-graph.ts';

/** Nodes that either graph may have: the search grows with the factorial of their number. */
export const MAX_EDIT_NODES = 16;
/** Partial mappings looked at before the search gives up. */
const MAX_STEPS = 20_000_000;
/** Steps between two looks at the clock. */
const STEPS_A_LOOK = 2_048;

interface ExactOptions {
  readonly signal?: AbortSignal;
  /** Partial mappings after which it gives up. @default 20 million */
  readonly mostSteps?: number;
  /** What is known before: a mapping to begin with, and how many changes there are at least. */
  readonly known?: { readonly becomes: readonly number[]; readonly atLeast: number };
}

/**
 * Exact graph edit distance at unit costs: relabelling, taking out or putting in a node costs 1, taking out or putting
 * in an edge costs 1. Depth-first branch and bound (Abu-Aisheh, Raveaux, Ramel & Martineau, "An exact graph edit
 * distance algorithm for solving pattern recognition problems", ICPRAM 2015), started from the mapping of the bipartite
 * approximation (Riesen & Bunke, Image and Vision Computing 27, 2009, 950-959) or one that is known, and cut by what labels and numbers of
 * edges still to come must cost at least.
 * @throws CasebackError TOO_LARGE for more than 16 nodes, OUT_OF_BUDGET after 20 million steps; the signal's reason
 */
export async function editDistance(
  a: LabelledGraph,
  b: LabelledGraph,
  { signal, mostSteps = MAX_STEPS, known }: ExactOptions = {},
): Promise<Edits> {
  for (const { labels } of [a, b]) {
    if (labels.length > MAX_EDIT_NODES)
      throw new CasebackError(
        'TOO_LARGE',
        `a graph of ${labels.length} nodes is too large for an exact edit distance (at most ${MAX_EDIT_NODES}); compare one subsystem`,
      );
  }
  const search = new Search(a, b, known?.becomes);
  const pace = new Pace(signal);
  await pace.rest();
  let steps = 0;
  while (search.best > (known?.atLeast ?? 0) && search.step()) {
    if (++steps % STEPS_A_LOOK !== 0) continue;
    await pace.rest();
    if (steps > mostSteps)
      throw new CasebackError(
        'OUT_OF_BUDGET',
        `the exact edit distance was not found in ${mostSteps.toLocaleString('en')} steps; at most it is ${search.best}`,
      );
  }
  return editsOf(a, b, search.bestMapping);
}

/** One depth-first search; every call of `step` looks at one partial mapping. */
class Search {
  readonly #a: LabelledGraph;
  readonly #b: LabelledGraph;
  readonly #joined: readonly (readonly boolean[])[][];
  /** Nodes of the first graph in the order in which they are mapped: those with most edges first. */
  readonly #order: readonly number[];
  /** Edges of the first graph with an end at this place of the order or later. */
  readonly #edgesLeft: readonly number[];
  readonly #labelOf: readonly (readonly number[])[];
  readonly #waiting: Partial[] = [];
  best = Infinity;
  bestMapping: readonly number[] = [];

  constructor(a: LabelledGraph, b: LabelledGraph, known: readonly number[] | undefined) {
    this.#a = a;
    this.#b = b;
    this.#joined = [a, b].map(adjacency);
    this.#order = [...a.labels.keys()].sort(
      (x, y) => a.neighbours[y].length - a.neighbours[x].length || x - y,
    );
    const place = new Map(this.#order.map((node, at) => [node, at]));
    this.#edgesLeft = Array.from(
      { length: a.labels.length + 1 },
      (_, at) =>
        edgesOf(a).filter(([x, y]) => Math.max(place.get(x) as number, place.get(y) as number) >= at).length,
    );
    const numbers = new Map<string, number>();
    this.#labelOf = [a, b].map(({ labels }) =>
      labels.map((label) => {
        const number = numbers.get(label) ?? numbers.size;
        numbers.set(label, number);
        return number;
      }),
    );
    this.#offer(roughMapping(a, b));
    this.#offer(a.labels.map(() => -1));
    if (known) this.#offer(known);
    this.#waiting.push({ depth: 0, cost: 0, bound: this.#bound(0, 0), used: 0, mapping: [] });
  }

  /** Looks at the next partial mapping; false when none is left that could be better. */
  step(): boolean {
    const next = this.#waiting.pop();
    if (!next) return false;
    if (next.bound >= this.best) return true;
    if (next.depth === this.#order.length) {
      const whole = new Array<number>(this.#order.length).fill(-1);
      next.mapping.forEach((to, at) => {
        whole[this.#order[at]] = to;
      });
      this.#offer(whole);
      return true;
    }
    // The most promising one is put on last, to be looked at first.
    const children = this.#childrenOf(next).filter(({ bound }) => bound < this.best);
    children.sort((x, y) => y.bound - x.bound);
    this.#waiting.push(...children);
    return true;
  }

  #childrenOf({ depth, cost, used, mapping }: Partial): Partial[] {
    const node = this.#order[depth];
    const [inA, inB] = this.#joined;
    const children: Partial[] = [];
    for (let to = -1; to < this.#b.labels.length; to++) {
      if (to >= 0 && used & (1 << to)) continue;
      let more = to < 0 || this.#labelOf[0][node] !== this.#labelOf[1][to] ? 1 : 0;
      for (let at = 0; at < depth; at++) {
        const here = inA[node][this.#order[at]];
        const there = to >= 0 && mapping[at] >= 0 && inB[to][mapping[at]];
        if (here !== there) more++;
      }
      const nowUsed = to < 0 ? used : used | (1 << to);
      const sum = cost + more;
      const bound = sum + this.#bound(depth + 1, nowUsed);
      children.push({ depth: depth + 1, cost: sum, bound, used: nowUsed, mapping: [...mapping, to] });
    }
    return children;
  }

  /** Least cost of the nodes not yet mapped or used, and of the edges that have an end there. */
  #bound(depth: number, used: number): number {
    const balance = new Map<number, number>();
    let common = 0;
    const leftA = this.#order.length - depth;
    for (let at = depth; at < this.#order.length; at++) {
      const label = this.#labelOf[0][this.#order[at]];
      balance.set(label, (balance.get(label) ?? 0) + 1);
    }
    let leftB = 0;
    for (let to = 0; to < this.#b.labels.length; to++) {
      if (used & (1 << to)) continue;
      leftB++;
      const label = this.#labelOf[1][to];
      const waiting = balance.get(label) ?? 0;
      if (waiting > 0) {
        balance.set(label, waiting - 1);
        common++;
      }
    }
    let edgesLeft = 0;
    for (let x = 0; x < this.#b.labels.length; x++) {
      for (const y of this.#b.neighbours[x]) if (y > x && !(used & (1 << x) && used & (1 << y))) edgesLeft++;
    }
    return Math.max(leftA, leftB) - common + Math.abs(this.#edgesLeft[depth] - edgesLeft);
  }

  #offer(mapping: readonly number[]): void {
    const { distance } = editsOf(this.#a, this.#b, mapping);
    if (distance >= this.best) return;
    this.best = distance;
    this.bestMapping = mapping;
  }
}

interface Partial {
  readonly depth: number;
  readonly cost: number;
  readonly bound: number;
  /** Nodes of the second graph already taken, a bit each. */
  readonly used: number;
  readonly mapping: readonly number[];
}

/** A good mapping to begin with: nodes paired by label and number of edges. */
function roughMapping(a: LabelledGraph, b: LabelledGraph): readonly number[] {
  const costs = a.labels.map((label, x) =>
    Float64Array.from(
      b.labels,
      (other, y) => (label === other ? 0 : 1) + Math.abs(a.neighbours[x].length - b.neighbours[y].length) / 2,
    ),
  );
  return [...assign(costs, b.labels.length, 1).columnOf];
}

function adjacency({ labels, neighbours }: LabelledGraph): boolean[][] {
  return labels.map((_, x) => {
    const row = new Array<boolean>(labels.length).fill(false);
    for (const y of neighbours[x]) row[y] = true;
    return row;
  });
}
