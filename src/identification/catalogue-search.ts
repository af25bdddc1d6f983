import type { Ending, Trie } from './catalogue-trie.ts';
import { BAND, firstRow, MAX_READ, nextRow, type Reading, span, widthOf } from './marking-model.ts';
import { type Outlines, Outlook } from './outlook.ts';
import { FREE, SYMBOLS } from './template.ts';

/** Sums of logarithms in another order differ by less than this. */
export const ROUNDING = 1e-9;

/**
 * Rows of one walk, and the siblings still to be visited at each depth; walks never overlap, so one piece of memory
 * serves all.
 */
let rowMemory = new Float64Array();
const waiting = {
  nodes: new Int32Array((MAX_READ + 1) * SYMBOLS),
  rows: new Int32Array((MAX_READ + 1) * SYMBOLS),
  lows: new Int32Array((MAX_READ + 1) * SYMBOLS),
  highs: new Int32Array((MAX_READ + 1) * SYMBOLS),
  bounds: new Float64Array((MAX_READ + 1) * SYMBOLS),
};

/** What a walk reports to its caller. */
export interface Listener {
  /** A known text that reaches the floor. */
  found(ending: Ending, logRatio: number): void;
  /** Below this log-ratio nothing matters, given the best so far; asked again after each match. */
  floor(best: number): number;
  /** Where only some of many like log-ratios are wanted, those of parts that come first in some order. */
  readonly order?: {
    /** The first place of a part in that order, of all that ends below a node. */
    readonly first: Int32Array;
    /** What just reaches the floor matters up to this place; asked again after each match. */
    last(): number;
  };
}

/**
 * One walk over the trie for one reading. The alignment runs along the trie row by row, the branch that may fit best
 * first, and leaves a branch when no continuation can reach the floor any more (trie search with a pruned
 * dynamic-programming row: Oflazer, Computational Linguistics 22, 1996, 73-89; here with likelihoods for costs, and
 * with a bound on what is to come as in best-first search: Hart, Nilsson & Raphael, IEEE Transactions on Systems
 * Science and Cybernetics 4, 1968, 100-107).
 * @returns the best log-ratio
 */
export function walk(reading: Reading, trie: Trie, outlines: Outlines, listener: Listener): number {
  return new Walk(reading, trie, outlines, listener).run();
}

class Walk {
  readonly #reading: Reading;
  readonly #trie: Trie;
  readonly #outlines: Outlines;
  readonly #outlook: Outlook;
  readonly #listener: Listener;
  /** Rows of the alignment: those of siblings side by side, those of their children after them. */
  readonly #rows: Float64Array;
  readonly #width: number;
  #floor: number;
  #lastPlace = Number.POSITIVE_INFINITY;
  #best = Number.NEGATIVE_INFINITY;

  constructor(reading: Reading, trie: Trie, outlines: Outlines, listener: Listener) {
    this.#reading = reading;
    this.#trie = trie;
    this.#outlines = outlines;
    this.#outlook = new Outlook(reading, outlines);
    this.#listener = listener;
    this.#floor = listener.floor(this.#best);
    this.#width = widthOf(reading);
    const size = ((MAX_READ + 1) * SYMBOLS + 2) * this.#width;
    if (rowMemory.length < size) rowMemory = new Float64Array(size);
    this.#rows = rowMemory;
  }

  run(): number {
    const { length } = this.#reading;
    firstRow(this.#reading, this.#rows);
    this.#visit(0, 0, 0, 0, length, this.#width, 0);
    return this.#best;
  }

  /**
   * @param at where the node's own row begins, which holds elements `low` to `high`
   * @param free where rows are free to be written
   * @param base place in {@link waiting} that is free
   */
  #visit(
    node: number,
    depth: number,
    at: number,
    low: number,
    high: number,
    free: number,
    base: number,
  ): void {
    const { first, symbol, firstEnding, only, steps } = this.#trie;
    const { nodes, rows, lows, highs, bounds } = waiting;
    const { of, blurred } = this.#outlines;
    const outlook = this.#outlook;
    const reading = this.#reading;
    const held = this.#rows;
    if (firstEnding[node] < firstEnding[node + 1]) this.#end(node, at, depth, low, high);
    let end = base;
    let next = free;
    for (let one = first[node]; one < first[node + 1]; one++) {
      const floor = this.#floor - ROUNDING;
      const rest = outlook.of(blurred[one]);
      const code = symbol[one];
      let bound = nextRow(reading, code, depth + 1, held, at, low, high, next, outlook.most, rest, floor);
      if (!(bound >= floor)) continue;
      if (of[one] !== blurred[one]) bound = this.#bound(code, next, outlook.of(of[one]));
      if (!(bound >= floor) || this.#comesLate(one, bound)) continue;
      if (only[one] > 0) {
        // Nothing forks any more: the bound is what the text reaches.
        if (Math.abs(reading.length - depth - 1 - steps[one]) <= BAND) this.#reach(only[one], bound);
        continue;
      }
      let place = end++;
      for (; place > base && bounds[place - 1] < bound; place--) {
        nodes[place] = nodes[place - 1];
        rows[place] = rows[place - 1];
        lows[place] = lows[place - 1];
        highs[place] = highs[place - 1];
        bounds[place] = bounds[place - 1];
      }
      nodes[place] = one;
      rows[place] = next;
      lows[place] = span[0];
      highs[place] = span[1];
      bounds[place] = bound;
      next += this.#width;
    }
    for (let place = base; place < end && bounds[place] >= this.#floor - ROUNDING; place++)
      if (!this.#comesLate(nodes[place], bounds[place]))
        this.#visit(nodes[place], depth + 1, rows[place], lows[place], highs[place], next, end);
  }

  /** The bound of the row written last, by a more detailed outline. */
  #bound(symbol: number, at: number, rest: number): number {
    const { most } = this.#outlook;
    const turned = this.#reading.length + 1;
    const ahead = symbol === FREE ? rest + turned : rest;
    let bound = Number.NEGATIVE_INFINITY;
    for (let j = span[0]; j <= span[1]; j++) {
      const reach = this.#rows[at + j] + most[ahead + j];
      if (reach > bound) bound = reach;
      const due = this.#rows[at + turned + j] + most[rest + 2 * turned + j];
      if (due > bound) bound = due;
    }
    return bound;
  }

  /** Whether a node can do no better than the floor, and nothing below it comes early enough. */
  #comesLate(node: number, bound: number): boolean {
    const { order } = this.#listener;
    return order !== undefined && bound < this.#floor + ROUNDING && order.first[node] > this.#lastPlace;
  }

  #end(node: number, at: number, depth: number, low: number, high: number): void {
    const { endings, firstEnding } = this.#trie;
    const { length } = this.#reading;
    const nearest = Math.max(low, depth - BAND);
    const farthest = Math.min(high, depth + BAND);
    for (let e = firstEnding[node]; e < firstEnding[node + 1]; e++) {
      const ending = endings[e];
      let value = Number.NEGATIVE_INFINITY;
      // What follows an open marking is anything, at the ratio of chance to chance.
      for (let j = ending.open ? nearest : length; j >= nearest && j <= farthest; j++)
        if (this.#rows[at + j] > value) value = this.#rows[at + j];
      this.#report(ending, value + ending.penalty);
    }
  }

  /** What ends at a node, all of it with the same log-ratio. */
  #reach(node: number, value: number): void {
    const { endings, firstEnding } = this.#trie;
    for (let e = firstEnding[node]; e < firstEnding[node + 1]; e++) this.#report(endings[e], value);
  }

  #report(ending: Ending, value: number): void {
    if (value < this.#floor - ROUNDING) return;
    if (value > this.#best) this.#best = value;
    this.#listener.found(ending, value);
    this.#floor = this.#listener.floor(this.#best);
    this.#lastPlace = this.#listener.order?.last() ?? Number.POSITIVE_INFINITY;
  }
}
