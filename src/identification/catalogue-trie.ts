import { ALPHABET } from './confusion.ts';
import { BREAK, DIGIT, FREE, LETTER, SYMBOLS, type Template } from './template.ts';

/** Where a known marking of a part ends. */
export interface Ending {
  /** Number of the part. */
  readonly part: number;
  /** The known marking, as the catalogue has it. */
  readonly template: string;
  /** Natural logarithm of how often the part is met with this text; not above 0. */
  readonly penalty: number;
  /** Whether anything may follow. */
  readonly open: boolean;
}

/** A known text, symbol by symbol, and what ends with it. */
export interface KnownText {
  /** One UTF-16 unit a symbol, so that texts sort and share beginnings as strings do. */
  readonly symbols: string;
  readonly ending: Ending;
}

/** All known texts with their beginnings shared. Node 0 is the root; children lie side by side, after their parents. */
export interface Trie {
  readonly size: number;
  /** The children of node n are those from first[n] up to, without, first[n + 1]. */
  readonly first: Int32Array;
  readonly symbol: Uint8Array;
  /** The endings of node n are those from firstEnding[n] up to, without, firstEnding[n + 1]. */
  readonly firstEnding: Int32Array;
  readonly endings: readonly Ending[];
  /**
   * Where one text alone is left below a node, closed and with one penalty for all that ends with it: the node at which
   * it ends, else 0.
   */
  readonly only: Int32Array;
  /** Symbols from a node to the one at which its only text ends. */
  readonly steps: Uint8Array;
}

/** A reader stops after a line that is not the last once in ten times (common practice, no source). */
const LOG_STOPPED_EARLY = Math.log(0.1);

/** A reader begins after the first line three times in a hundred (common practice, no source). */
const LOG_STARTED_LATE = Math.log(0.03);
/** Lines with fewer characters that are always the same say nothing by themselves. */
const TELLING = 3;

/** Characters of a text that are the same on every unit. */
export function fixedOf(symbols: string): number {
  let fixed = 0;
  for (let at = 0; at < symbols.length; at++)
    if (![FREE, DIGIT, LETTER, BREAK].includes(symbols.charCodeAt(at))) fixed++;
  return fixed;
}

/**
 * The texts that one known marking allows: all of it, or as far as the end of a line that is not the last, or from a later
 * line on, where that says anything by itself.
 */
export function textsOf(
  { symbols, lineEnds, open }: Template,
  ending: Omit<Ending, 'open'>,
  longest: number,
): readonly KnownText[] {
  const whole = String.fromCharCode(...symbols.slice(0, longest));
  const stopped = lineEnds
    .filter((end) => end < whole.length)
    .map((end) => ({
      symbols: whole.slice(0, end),
      ending: { ...ending, penalty: ending.penalty + LOG_STOPPED_EARLY, open: false },
    }));
  const late = lineEnds
    .map((end) => whole.slice(end + 1))
    .filter((rest) => fixedOf(rest) >= TELLING)
    .map((rest) => ({
      symbols: rest,
      ending: { ...ending, penalty: ending.penalty + LOG_STARTED_LATE, open },
    }));
  return [...late, ...stopped, { symbols: whole, ending: { ...ending, open } }];
}

/** The formats of known texts, and how often a further text follows none of them. */
export interface MarkingFormats {
  /** Each format once, with its share as penalty. */
  readonly texts: readonly KnownText[];
  /** Probability of a format not seen before, above 0 and below 1. */
  readonly unseen: number;
}

/**
 * The format of a text: any letter for each letter, any digit for each digit, fields as they are. A further text follows
 * no known format with the probability of texts whose format was seen only once (Good, Biometrika 40,
 * 1953, 237-264), here with one text of either sort added so that a small catalogue does not claim certainty.
 * @param weightOf how much the texts of each part count
 */
export function formatsOf(
  texts: readonly KnownText[],
  weightOf: (part: number) => number = () => 1,
): MarkingFormats {
  const known = new Map<string, { readonly text: KnownText; share: number; weight: number; count: number }>();
  let [sum, whole] = [0, 0];
  for (const { symbols, ending } of texts) {
    const format = Array.from(symbols, (symbol) => FORMAT_SYMBOL[symbol.charCodeAt(0)]).join('');
    const key = `${ending.open} ${format}`;
    const weight = weightOf(ending.part);
    const share = weight * Math.exp(ending.penalty);
    sum += share;
    whole += weight;
    const one = known.get(key);
    if (one) {
      one.share += share;
      one.count++;
    } else known.set(key, { text: { symbols: format, ending }, share, weight, count: 1 });
  }
  const all = [...known.values()];
  const once = all.reduce((total, { weight, count }) => (count === 1 ? total + weight : total), 0);
  const one = texts.length === 0 ? 1 : whole / texts.length;
  return {
    texts: all.map(({ text: { symbols, ending }, share }) => ({
      symbols,
      ending: { ...ending, penalty: Math.log(share / sum) },
    })),
    unseen: (once + one) / (whole + 2 * one),
  };
}

const FORMAT_SYMBOL = Array.from({ length: SYMBOLS }, (_, symbol) => {
  const character = ALPHABET[symbol] ?? '';
  const kind = /\d/u.test(character) ? DIGIT : /[A-Zl]/u.test(character) ? LETTER : symbol;
  return String.fromCharCode(kind);
});

/** Builds the trie level by level from sorted texts. */
export function growTrie(texts: readonly KnownText[]): Trie {
  const sorted = texts.toSorted((a, b) => (a.symbols < b.symbols ? -1 : a.symbols > b.symbols ? 1 : 0));
  // A node is a range of texts that begin alike; texts that end there come first in it.
  const from = [0];
  const to = [sorted.length];
  const symbol = [0];
  const first: number[] = [];
  const firstEnding: number[] = [];
  const endings: Ending[] = [];
  let depth = 0;
  for (let level = 0, end = 1; level < end; level = end, end = from.length, depth++) {
    for (let node = level; node < end; node++) {
      let at = from[node];
      firstEnding.push(endings.length);
      for (; at < to[node] && sorted[at].symbols.length === depth; at++) endings.push(sorted[at].ending);
      first.push(from.length);
      while (at < to[node]) {
        const code = sorted[at].symbols.charCodeAt(depth);
        from.push(at);
        symbol.push(code);
        do at++;
        while (at < to[node] && sorted[at].symbols.charCodeAt(depth) === code);
        to.push(at);
      }
    }
  }
  first.push(from.length);
  firstEnding.push(endings.length);
  const trie = {
    size: from.length,
    first: Int32Array.from(first),
    symbol: Uint8Array.from(symbol),
    firstEnding: Int32Array.from(firstEnding),
    endings,
  };
  return { ...trie, ...onlyTexts(trie) };
}

function onlyTexts({ size, first, firstEnding, endings }: Omit<Trie, 'only' | 'steps'>) {
  const only = new Int32Array(size);
  const steps = new Uint8Array(size);
  // Children have higher numbers than their parents.
  for (let node = size - 1; node > 0; node--) {
    const children = first[node + 1] - first[node];
    const ending = endings.slice(firstEnding[node], firstEnding[node + 1]);
    if (children === 0 && ending.every(({ open, penalty }) => !open && penalty === ending[0].penalty))
      only[node] = node;
    else if (children === 1 && ending.length === 0 && only[first[node]] > 0) {
      only[node] = only[first[node]];
      steps[node] = steps[first[node]] + 1;
    }
  }
  return { only, steps };
}

/** The first place of a part, in an order given by its number, of all that ends at or below each node. */
export function firstBelow({ size, first, firstEnding, endings }: Trie, order: Int32Array): Int32Array {
  const least = new Int32Array(size).fill(order.length);
  // Children have higher numbers than their parents.
  for (let node = size - 1; node >= 0; node--) {
    for (let e = firstEnding[node]; e < firstEnding[node + 1]; e++)
      least[node] = Math.min(least[node], order[endings[e].part]);
    for (let one = first[node]; one < first[node + 1]; one++) least[node] = Math.min(least[node], least[one]);
  }
  return least;
}
