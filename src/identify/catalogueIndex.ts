import type { MarkingText } from '../model/marking.ts';
import type { Confusion } from './confusion.ts';
import { BAND, firstRow, MAX_READ, nextRow, prepare, type Reading, ratioUnder } from './markingModel.ts';
import { FREE, parseTemplate, type Template } from './template.ts';

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
  /** Most telling symbols (not FREE) on any way down from the node, itself left out. */
  readonly telling: Uint8Array;
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

/**
 * Finds the parts whose known markings look like a reading. All templates share one trie; the alignment runs along
 * it row by row and leaves a branch when no continuation can matter any more (trie search with a pruned
 * dynamic-programming row: Oflazer, Computational Linguistics 22, 1996, 73-89; here with likelihoods for costs).
 */
export class CatalogueIndex {
  readonly #parts: string[] = [];
  readonly #templates = new Map<
    string,
    readonly { readonly template: Template; readonly penalty: number }[]
  >();
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
    const known = (markings.length === 0 ? [number] : markings).map((written) => {
      const template = parseTemplate(written);
      this.#insert(part, written, template, penalty);
      return { template, penalty };
    });
    this.#templates.set(id, known);
    this.#flat = undefined;
  }

  /** Parts that explain a reading better than chance, best first, each once. */
  search(marking: MarkingText, limit = 50): readonly MarkingMatch[] {
    const reading = prepare(marking, this.#confusion);
    if (reading.length === 0) return [];
    const found = new Map<number, MarkingMatch>();
    const search = new TrieSearch(reading, this.#flatTrie(), this.#endings, (ending, logRatio) => {
      const before = found.get(ending.part);
      if (before && before.logRatio >= logRatio) return;
      found.set(ending.part, { part: this.#parts[ending.part], template: ending.template, logRatio });
    });
    search.run();
    const ranked = [...found.values()].sort((a, b) => b.logRatio - a.logRatio || (a.part < b.part ? -1 : 1));
    return ranked.filter(({ logRatio }) => logRatio >= ranked[0].logRatio - WINDOW).slice(0, limit);
  }

  /** Log-ratio of a reading for one part, however small: the number that the search gives where it finds the part. */
  ratioOf(id: string, reading: Reading): number {
    const templates = this.#templates.get(id) ?? [];
    let best = Number.NEGATIVE_INFINITY;
    for (const { template, penalty } of templates)
      best = Math.max(best, templateRatio(reading, template) + penalty);
    return best;
  }

  /** A marking made ready for {@link ratioOf}. */
  prepare(marking: MarkingText): Reading {
    return prepare(marking, this.#confusion);
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
    this.#children.forEach((children, node) => {
      let last = -1;
      for (const [code, next] of children) {
        symbol[next] = code;
        if (last < 0) child[node] = next;
        else sibling[last] = next;
        last = next;
      }
    });
    const telling = new Uint8Array(size);
    // Children have higher numbers than their parents, so one pass from the end suffices.
    for (let node = size - 1; node >= 0; node--) {
      for (let one = child[node]; one >= 0; one = sibling[one]) {
        telling[node] = Math.max(telling[node], telling[one] + (symbol[one] === FREE ? 0 : 1));
      }
    }
    this.#flat = { child, sibling, symbol, telling };
    return this.#flat;
  }
}

function templateRatio(reading: Reading, { symbols, lineEnds, open }: Template): number {
  const whole = ratioUnder(reading, symbols.slice(0, MAX_READ), open);
  const stopped = lineEnds.map(
    (end) => ratioUnder(reading, symbols.slice(0, end), false) + LOG_STOPPED_EARLY,
  );
  return Math.max(whole, ...stopped);
}

/** One walk over the trie for one reading. */
class TrieSearch {
  readonly #reading: Reading;
  readonly #trie: FlatTrie;
  readonly #endings: ReadonlyMap<number, readonly Ending[]>;
  readonly #report: (ending: Ending, logRatio: number) => void;
  /** One row of the alignment for each depth. */
  readonly #rows: Float64Array;
  readonly #width: number;
  #best = Number.NEGATIVE_INFINITY;

  constructor(
    reading: Reading,
    trie: FlatTrie,
    endings: ReadonlyMap<number, readonly Ending[]>,
    report: (ending: Ending, logRatio: number) => void,
  ) {
    this.#reading = reading;
    this.#trie = trie;
    this.#endings = endings;
    this.#report = report;
    this.#width = reading.length + 1;
    this.#rows = new Float64Array((MAX_READ + 2) * this.#width).fill(Number.NEGATIVE_INFINITY);
  }

  run(): void {
    firstRow(this.#reading, this.#rows);
    // The branch that fits the first character goes first, so that a good match prunes the rest.
    this.#visit(0, 0);
  }

  #visit(node: number, depth: number): void {
    const { child, sibling } = this.#trie;
    const at = depth * this.#width;
    const endings = this.#endings.get(node);
    if (endings) this.#end(endings, at, depth);
    const next: { node: number; bound: number }[] = [];
    const after = at + this.#width;
    for (let one = child[node]; one >= 0; one = sibling[one]) {
      const bound = this.#row(one, depth + 1, at, after);
      if (bound >= this.#floor()) next.push({ node: one, bound });
    }
    if (next.length > 1) next.sort((a, b) => b.bound - a.bound);
    for (const { node: one, bound } of next) {
      if (bound < this.#floor()) continue;
      // Siblings have written over the row; only those that survive are worth computing again.
      if (sibling[child[node]] >= 0) this.#row(one, depth + 1, at, after);
      this.#visit(one, depth + 1);
    }
  }

  #row(node: number, depth: number, at: number, after: number): number {
    const { symbol, telling } = this.#trie;
    return nextRow(this.#reading, symbol[node], depth, telling[node], this.#rows, at, this.#rows, after);
  }

  /** Below this log-ratio nothing matters: no better than chance, or out of sight of the best. */
  #floor(): number {
    return Math.max(0, this.#best - WINDOW);
  }

  #end(endings: readonly Ending[], at: number, depth: number): void {
    const { length } = this.#reading;
    for (const ending of endings) {
      // What follows an open marking is anything, at the ratio of chance to chance.
      let value = this.#reached(at, length, depth);
      if (ending.open) for (let j = 0; j < length; j++) value = Math.max(value, this.#reached(at, j, depth));
      value += ending.penalty;
      if (value < this.#floor() || value === 0) continue;
      if (value > this.#best) this.#best = value;
      this.#report(ending, value);
    }
  }

  /** Element of the row at a depth, where the band reaches it. */
  #reached(at: number, j: number, depth: number): number {
    return Math.abs(j - depth) > BAND ? Number.NEGATIVE_INFINITY : this.#rows[at + j];
  }
}
