import type { MarkingText } from '../model/marking.ts';
import type { Confusion } from './confusion.ts';
import { BAND, firstRow, MAX_READ, nextRow, prepare, type Reading } from './markingModel.ts';
import { DIGIT, FREE, parseTemplate, SYMBOLS, type Template } from './template.ts';

/** A part as the index needs it. */
export interface IndexedPart {
  readonly id: string;
  readonly number: string;
  readonly markings: readonly string[];
}

/** A part whose marking may be the one read. */
export interface MarkingMatch {
  readonly part: string;
  /** The known marking that fits best, as the catalogue has it. */
  readonly template: string;
  /**
   * Natural logarithm of P(what was read | this part) over P(what was read | a text nobody knows). Positive: the part
   * explains the reading better than chance.
   */
  readonly logRatio: number;
}

/** The trie as the search walks it: for each node its first child, next sibling and symbol. */
interface FlatTrie {
  readonly child: Int32Array;
  readonly sibling: Int32Array;
  readonly symbol: Uint8Array;
  /** Most exact symbols, and most digits of dates, on any way down from the node, itself left out. */
  readonly exact: Uint8Array;
  readonly digits: Uint8Array;
  /** Steps down to the farthest exact symbol. */
  readonly near: Uint8Array;
  /** 1 where some marking ends. */
  readonly ends: Uint8Array;
  readonly parent: Int32Array;
}

interface Ending {
  readonly part: number;
  readonly template: string;
  readonly penalty: number;
  readonly open: boolean;
}

/** A reader stops after a line that is not the last once in ten times. */
const LOG_STOPPED_EARLY = Math.log(0.1);
/** A part without known markings carries its number so often (common practice, no source). */
const LOG_CARRIES_NUMBER = Math.log(0.3);
/** Worse than the best by a factor of ten thousand is not worth showing. */
const WINDOW = Math.log(10_000);
/** Worse than the best by a factor of a million does not count as fitting. */
const OUT_OF_SIGHT = Math.log(1e6);

/**
 * Finds the parts whose known markings look like a reading. All templates share one trie; the alignment runs along
 * it row by row and leaves a branch when no continuation can matter any more (trie search with a pruned
 * dynamic-programming row: Oflazer, Computational Linguistics 22, 1996, 73-89; here with likelihoods for costs).
 */
export class CatalogueIndex {
  readonly #parts: string[] = [];
  readonly #children: Map<number, number>[] = [new Map()];
  readonly #endings = new Map<number, Ending[]>();
  readonly #confusion: Confusion;
  #flat: FlatTrie | undefined;

  constructor(parts: Iterable<IndexedPart>, confusion: Confusion) {
    this.#confusion = confusion;
    for (const part of parts) this.add(part);
  }

  /** Adds one part; costs work for its own markings. */
  add({ id, number, markings }: IndexedPart): void {
    const part = this.#parts.push(id) - 1;
    const penalty = markings.length === 0 ? LOG_CARRIES_NUMBER : 0;
    for (const written of markings.length === 0 ? [number] : markings)
      this.#insert(part, written, parseTemplate(written), penalty);
    this.#flat = undefined;
  }

  /** Parts that explain a reading better than chance, best first, each once. */
  search(marking: MarkingText, limit = 50): readonly MarkingMatch[] {
    const reading = prepare(marking, this.#confusion);
    if (reading.length === 0) return [];
    const found = new Map<number, MarkingMatch>();
    let last = 0;
    let tooMany = 2 * limit;
    const keep = (ending: Ending, logRatio: number) => {
      const before = found.get(ending.part);
      // Nought is what an open marking says of anything.
      if (logRatio === 0 || (before && before.logRatio >= logRatio)) return;
      found.set(ending.part, { part: this.#parts[ending.part], template: ending.template, logRatio });
      if (found.size < tooMany) return;
      // Where so many parts fit, those behind the last that will be shown are dropped on the way.
      last = [...found.values()].map((one) => one.logRatio).sort((a, b) => b - a)[limit - 1];
      for (const [number, one] of found) if (one.logRatio < last) found.delete(number);
      tooMany = 2 * Math.max(limit, found.size);
    };
    // No better than chance, out of sight of the best, or behind those shown: nothing of it matters.
    const floorOf = (best: number) => Math.max(last, best - WINDOW);
    const search = new TrieSearch(reading, this.#flatTrie(), this.#endings, keep, floorOf);
    search.run();
    const ranked = [...found.values()].sort((a, b) => b.logRatio - a.logRatio || (a.part < b.part ? -1 : 1));
    return ranked.filter(({ logRatio }) => logRatio >= ranked[0].logRatio - WINDOW).slice(0, limit);
  }

  /**
   * Log-ratios of a reading for every part whose marking explains it better than `floor` and not a million times
   * worse than the best, by the place at which the part was added; undefined when nothing was read at all.
   */
  ratios(marking: MarkingText, floor: number): ReadonlyMap<number, number> | undefined {
    const reading = prepare(marking, this.#confusion);
    if (reading.length === 0) return undefined;
    const ratios = new Map<number, number>();
    const keep = ({ part }: Ending, logRatio: number) => {
      const before = ratios.get(part);
      if (before === undefined || before < logRatio) ratios.set(part, logRatio);
    };
    const floorOf = (best: number) => Math.max(floor, best - OUT_OF_SIGHT);
    const best = new TrieSearch(reading, this.#flatTrie(), this.#endings, keep, floorOf).run();
    // What was met before the best does not depend on the way through the trie either.
    for (const [part, logRatio] of ratios) if (logRatio < floorOf(best)) ratios.delete(part);
    return ratios;
  }

  #insert(part: number, template: string, { symbols, lineEnds, open }: Template, penalty: number): void {
    let node = 0;
    const end = (extra: number, isOpen: boolean) => {
      const endings = this.#endings.get(node);
      const ending = { part, template, penalty: penalty + extra, open: isOpen };
      if (endings) endings.push(ending);
      else this.#endings.set(node, [ending]);
    };
    symbols.slice(0, MAX_READ).forEach((code, i) => {
      if (lineEnds.includes(i)) end(LOG_STOPPED_EARLY, false);
      let next = this.#children[node].get(code);
      if (next === undefined) {
        next = this.#children.push(new Map()) - 1;
        this.#children[node].set(code, next);
      }
      node = next;
    });
    end(0, open);
  }

  #flatTrie(): FlatTrie {
    if (this.#flat) return this.#flat;
    const size = this.#children.length;
    const child = new Int32Array(size).fill(-1);
    const sibling = new Int32Array(size).fill(-1);
    const symbol = new Uint8Array(size);
    const parent = new Int32Array(size);
    this.#children.forEach((children, node) => {
      let last = -1;
      for (const [code, next] of children) {
        symbol[next] = code;
        parent[next] = node;
        if (last < 0) child[node] = next;
        else sibling[last] = next;
        last = next;
      }
    });
    const exact = new Uint8Array(size);
    const digits = new Uint8Array(size);
    const near = new Uint8Array(size);
    // Children have higher numbers than their parents, so one pass from the end suffices.
    for (let node = size - 1; node >= 0; node--) {
      for (let one = child[node]; one >= 0; one = sibling[one]) {
        exact[node] = Math.max(exact[node], exact[one] + (symbol[one] < FREE ? 1 : 0));
        digits[node] = Math.max(digits[node], digits[one] + (symbol[one] === DIGIT ? 1 : 0));
        if (near[one] > 0 || symbol[one] < FREE) near[node] = Math.max(near[node], near[one] + 1);
      }
    }
    const ends = new Uint8Array(size);
    for (const node of this.#endings.keys()) ends[node] = 1;
    this.#flat = { child, sibling, symbol, exact, digits, near, ends, parent };
    return this.#flat;
  }
}

/**
 * Rows of one walk, and the siblings still to be visited at each depth; walks never overlap, so one piece of memory
 * serves all.
 */
let rowMemory = new Float64Array();
let mostMemory = new Float64Array();
const waiting = {
  nodes: new Int32Array((MAX_READ + 1) * SYMBOLS),
  rows: new Int32Array((MAX_READ + 1) * SYMBOLS),
  bounds: new Float64Array((MAX_READ + 1) * SYMBOLS),
};

/** Up to so many nodes it pays to look at all of them before a walk. */
const FEW_NODES = 20_000;

/**
 * The most that any way down from each node can add: each symbol at its best place in the reading, or overlooked.
 * Large tries are held to a coarser bound, of which the counts are known beforehand.
 */
function mostBelow(reading: Reading, { symbol, parent, ends }: FlatTrie): Float64Array | undefined {
  const size = symbol.length;
  if (size > FEW_NODES) return undefined;
  const { length, emit, overlooked } = reading;
  const best = new Float64Array(SYMBOLS).fill(overlooked);
  for (let code = 0; code < SYMBOLS; code++)
    for (let j = 0; j < length; j++)
      if (emit[code * length + j] > best[code]) best[code] = emit[code * length + j];
  if (mostMemory.length < size) mostMemory = new Float64Array(size);
  const most = mostMemory;
  for (let node = 0; node < size; node++) most[node] = ends[node] === 1 ? 0 : Number.NEGATIVE_INFINITY;
  // Children have higher numbers than their parents.
  for (let node = size - 1; node > 0; node--) {
    const through = most[node] + best[symbol[node]];
    if (through > most[parent[node]]) most[parent[node]] = through;
  }
  return most;
}

/** One walk over the trie for one reading. */
class TrieSearch {
  readonly #reading: Reading;
  readonly #trie: FlatTrie;
  readonly #endings: ReadonlyMap<number, readonly Ending[]>;
  readonly #report: (ending: Ending, logRatio: number) => void;
  /** Rows of the alignment: those of siblings side by side, those of their children after them. */
  readonly #rows: Float64Array;
  readonly #width: number;
  /** Below this log-ratio nothing matters, given the best so far. */
  readonly #floorOf: (best: number) => number;
  #floor: number;
  readonly #most: Float64Array | undefined;
  #best = Number.NEGATIVE_INFINITY;

  constructor(
    reading: Reading,
    trie: FlatTrie,
    endings: ReadonlyMap<number, readonly Ending[]>,
    report: (ending: Ending, logRatio: number) => void,
    floorOf: (best: number) => number,
  ) {
    this.#reading = reading;
    this.#trie = trie;
    this.#endings = endings;
    this.#report = report;
    this.#floorOf = floorOf;
    this.#floor = floorOf(this.#best);
    this.#most = mostBelow(reading, trie);
    this.#width = reading.length + 1;
    const size = ((MAX_READ + 1) * SYMBOLS + 2) * this.#width;
    if (rowMemory.length < size) rowMemory = new Float64Array(size);
    this.#rows = rowMemory;
  }

  /** Answers the best log-ratio. */
  run(): number {
    firstRow(this.#reading, this.#rows);
    this.#visit(0, 0, 0, this.#width, 0);
    return this.#best;
  }

  /**
   * @param at where the node's own row begins
   * @param free where rows are free to be written
   * @param base place in {@link waiting} that is free
   */
  #visit(node: number, depth: number, at: number, free: number, base: number): void {
    const { child, sibling, symbol, exact, digits, near, ends } = this.#trie;
    const { nodes, rows, bounds } = waiting;
    const reading = this.#reading;
    if (ends[node] === 1) this.#end(this.#endings.get(node) ?? [], at, depth);
    let end = base;
    let next = free;
    for (let one = child[node]; one >= 0; one = sibling[one]) {
      const most = this.#most?.[one] ?? exact[one] * reading.gain + digits[one] * reading.digitGain;
      const dated = digits[one] * reading.digitGain;
      const bound = nextRow(
        reading,
        symbol[one],
        depth + 1,
        most,
        this.#rows,
        at,
        this.#rows,
        next,
        near[one],
        dated,
      );
      if (!(bound >= this.#floor)) continue;
      // The branch that fits best goes first, so that a good match prunes the rest.
      let place = end++;
      for (; place > base && bounds[place - 1] < bound; place--) {
        nodes[place] = nodes[place - 1];
        rows[place] = rows[place - 1];
        bounds[place] = bounds[place - 1];
      }
      nodes[place] = one;
      rows[place] = next;
      bounds[place] = bound;
      next += this.#width;
    }
    for (let place = base; place < end && bounds[place] >= this.#floor; place++)
      this.#visit(nodes[place], depth + 1, rows[place], next, end);
  }

  #end(endings: readonly Ending[], at: number, depth: number): void {
    const { length } = this.#reading;
    for (const ending of endings) {
      // What follows an open marking is anything, at the ratio of chance to chance.
      let value = this.#reached(at, length, depth);
      if (ending.open) for (let j = 0; j < length; j++) value = Math.max(value, this.#reached(at, j, depth));
      value += ending.penalty;
      if (value < this.#floor) continue;
      if (value > this.#best) this.#best = value;
      this.#report(ending, value);
      this.#floor = this.#floorOf(this.#best);
    }
  }

  /** Element of the row at a depth, where the band reaches it. */
  #reached(at: number, j: number, depth: number): number {
    return Math.abs(j - depth) > BAND ? Number.NEGATIVE_INFINITY : this.#rows[at + j];
  }
}
