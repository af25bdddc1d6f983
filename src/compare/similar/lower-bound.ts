import { AssignmentSolver } from '../align/linear-assignment.ts';
import { allChanges, degreeOf, type PackedGraph, type PackedPair, savedByNodes } from './packed-pair.ts';

/** Times that the bound is tightened at most, and pairs of nodes and of arcs that this may take, summed over all times. */
const ROUNDS = 40;
const PAIRS = 6_000_000;
/** What tightening must gain to go on. */
const GAIN = 0.02;
/** Share of what a pair of nodes can do without that it gives to its neighbours each time (found by trying). */
const GIVEN = 0.5;
/** A distance is a whole number: the bound is rounded up but for what calculation loses. */
const ROUNDING = 1e-6;

/**
 * Numbers of changes that two graphs are apart at least, each as high as the one before or higher.
 *
 * The first is BRANCH (Zheng, Zou, Lian, Wang & Zhao, IEEE TKDE 27, 2015, 964-978; Blumenthal & Gamper, IEEE TKDE 30, 2018,
 * 503-516): nodes are assigned with their branches, each edge counted half at either end. The others are its tightened form
 * (BRANCH-TIGHT, Blumenthal & Gamper 2018, a dual ascent of the kind of Hahn & Grant, Operations Research 46, 1998,
 * 912-922): how much of an edge counts at which end is shifted from pairs of nodes that have some to spare to pairs that
 * lack it. Any such split gives a bound. Above some million pairs of edges only the first is given.
 */
export function* leastChanges(pair: PackedPair): Generator<number> {
  const { a, b } = pair;
  const cost = a.size * b.size + a.heads.length * b.heads.length;
  const rounds = Math.min(ROUNDS, Math.floor(PAIRS / Math.max(1, cost)));
  const solver = new AssignmentSolver(a.size, b.size, { soonest: true });
  const costs = new Float64Array(a.size * b.size);
  let least = 0;
  let before = -Infinity;
  const split = rounds > 0 ? new Split(pair) : undefined;
  for (let round = 0; round <= rounds; round++) {
    for (let x = 0; x < a.size; x++) {
      for (let y = 0; y < b.size; y++) {
        const edges = split ? split.worth(x, y) : Math.min(degreeOf(a, x), degreeOf(b, y));
        costs[x * b.size + y] = -savedByNodes(pair, x, y) - edges;
      }
      yield least;
    }
    solver.solve(costs, a.size, b.size);
    let bound = allChanges(pair);
    for (let x = 0; x < a.size; x++) {
      const y = solver.columnOf[x];
      if (y >= 0) bound += costs[x * b.size + y];
    }
    least = Math.max(least, Math.ceil(bound - ROUNDING));
    yield least;
    if (!split || round === rounds || bound - before < GAIN) return;
    before = bound;
    for (let x = 0; x < a.size; x++) {
      for (let y = 0; y < b.size; y++) {
        const spare = costs[x * b.size + y] - solver.rowDuals[x] - solver.columnDuals[y];
        split.give(x, y, Math.max(0, spare));
      }
      yield least;
    }
  }
}

/** How much of an edge that is kept counts at which end: of each pair of arcs its part, 2 with that of the arcs back. */
class Split {
  readonly #a: PackedGraph;
  readonly #b: PackedGraph;
  readonly #parts: Float64Array;
  readonly #solver: AssignmentSolver;
  readonly #costs: Float64Array;

  constructor({ a, b }: PackedPair) {
    this.#a = a;
    this.#b = b;
    this.#parts = new Float64Array(a.heads.length * b.heads.length).fill(1);
    const [mostA, mostB] = [mostArcs(a), mostArcs(b)];
    this.#solver = new AssignmentSolver(mostA, mostB, { soonest: true });
    this.#costs = new Float64Array(mostA * mostB);
  }

  /** What the edges of two nodes save at most when one becomes the other: their best assignment, by their parts. */
  worth(x: number, y: number): number {
    const [rows, columns] = [degreeOf(this.#a, x), degreeOf(this.#b, y)];
    if (rows === 0 || columns === 0) return 0;
    const costs = this.#costs;
    for (let row = 0; row < rows; row++) {
      const from = (this.#a.arcs[x] + row) * this.#b.heads.length + this.#b.arcs[y];
      for (let column = 0; column < columns; column++)
        costs[row * columns + column] = Math.min(0, -this.#parts[from + column]);
    }
    this.#solver.solve(costs, rows, columns);
    let worth = 0;
    for (let row = 0; row < rows; row++) {
      const column = this.#solver.columnOf[row];
      if (column >= 0) worth -= costs[row * columns + column];
    }
    return worth;
  }

  /** Raises the parts at a pair of nodes by some of what it can bear, and lowers those at their neighbours as much. */
  give(x: number, y: number, spareBefore: number): void {
    const [rows, columns] = [degreeOf(this.#a, x), degreeOf(this.#b, y)];
    if (rows === 0 || columns === 0) return;
    const { rowDuals, columnDuals } = this.#solver;
    const parts = this.#parts;
    const width = this.#b.heads.length;
    this.worth(x, y);
    const spare = spareBefore / Math.min(rows, columns);
    for (let row = 0; row < rows; row++) {
      const one = this.#a.arcs[x] + row;
      for (let column = 0; column < columns; column++) {
        const other = this.#b.arcs[y] + column;
        const part = parts[one * width + other];
        const more = GIVEN * (spare - rowDuals[row] - columnDuals[column] - part);
        parts[one * width + other] = part + more;
        parts[this.#a.back[one] * width + this.#b.back[other]] -= more;
      }
    }
  }
}

function mostArcs(graph: PackedGraph): number {
  let most = 0;
  for (let node = 0; node < graph.size; node++) most = Math.max(most, degreeOf(graph, node));
  return most;
}
