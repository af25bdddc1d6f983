import type { Trie } from './catalogue-trie.ts';
import { lost, type Reading } from './marking-model.ts';
import { FREE, KINDS, kindOf } from './template.ts';

// What may still come below a node of the trie, in outline: the exact symbols while the way down does not fork, kinds
// of symbols after that. Nodes with equal outlines share one, so a bound on what they can add is worked out once for each
// reading. The bound is never too low, for any symbol of a kind counts as the best of its kind.

const NEVER = Number.NEGATIVE_INFINITY;

/** One outline: the best penalty of what ends here, closed and open, and the outlines below by kind or symbol. */
interface Outline {
  readonly closed: number;
  readonly open: number;
  readonly kinds: readonly number[];
  readonly below: readonly number[];
}

/** Outlines of all nodes of a trie. */
export interface Outlines {
  readonly of: Int32Array;
  /** For each node the outline with kinds for symbols throughout: less precise, and shared by many more nodes. */
  readonly blurred: Int32Array;
  readonly all: readonly Outline[];
}

/** Finds the outline of every node. */
export function outlinesOf(trie: Trie): Outlines {
  const table = new OutlineTable();
  const of = new Int32Array(trie.size);
  for (let node = trie.size - 1; node >= 0; node--) of[node] = table.ofNode(trie, node, of);
  const blurred = of.map((outline) => table.blur(outline));
  return { of, blurred, all: table.all };
}

class OutlineTable {
  readonly all: Outline[] = [];
  readonly #known = new Map<string, number>();
  /** Outlines of one symbol and nothing that ends, by symbol and outline below: most nodes of a large trie. */
  readonly #chains = new Map<number, number>();
  readonly #blurred = new Map<number, number>();
  readonly #joined = new Map<string, number>();

  ofNode({ first, symbol, firstEnding, endings }: Trie, node: number, of: Int32Array): number {
    let [closed, open] = [NEVER, NEVER];
    for (let at = firstEnding[node]; at < firstEnding[node + 1]; at++) {
      const { penalty, open: isOpen } = endings[at];
      if (isOpen) open = Math.max(open, penalty);
      else closed = Math.max(closed, penalty);
    }
    const [start, end] = [first[node], first[node + 1]];
    if (end - start === 1) {
      if (closed > NEVER || open > NEVER) return this.#make(closed, open, [[symbol[start], of[start]]]);
      const key = of[start] * KINDS + symbol[start];
      let chain = this.#chains.get(key);
      if (chain === undefined) {
        chain = this.#make(closed, open, [[symbol[start], of[start]]]);
        this.#chains.set(key, chain);
      }
      return chain;
    }
    const below = new Map<number, number>();
    let last = -1;
    let lastKind = -1;
    for (let one = start; one < end; one++) {
      const kind = kindOf[symbol[one]];
      // Neighbours are mostly alike.
      if (of[one] === last && kind === lastKind) continue;
      [last, lastKind] = [of[one], kind];
      const outline = this.blur(last);
      const before = below.get(kind);
      below.set(kind, before === undefined ? outline : this.#join(before, outline));
    }
    return this.#make(closed, open, [...below]);
  }

  #make(closed: number, open: number, below: readonly (readonly [kind: number, outline: number])[]): number {
    const sorted = below.toSorted(([a], [b]) => a - b);
    const key = `${closed} ${open} ${sorted.join(' ')}`;
    let outline = this.#known.get(key);
    if (outline === undefined) {
      outline = this.all.length;
      this.all.push({
        closed,
        open,
        kinds: sorted.map(([kind]) => kind),
        below: sorted.map(([, one]) => one),
      });
      this.#known.set(key, outline);
    }
    return outline;
  }

  /** The same with kinds for symbols throughout. */
  blur(outline: number): number {
    const ready = this.#blurred.get(outline);
    if (ready !== undefined) return ready;
    const { closed, open, kinds, below } = this.all[outline];
    const blurred = new Map<number, number>();
    kinds.forEach((one, i) => {
      const kind = kindOf[one];
      const before = blurred.get(kind);
      const next = this.blur(below[i]);
      blurred.set(kind, before === undefined ? next : this.#join(before, next));
    });
    const made = this.#make(closed, open, [...blurred]);
    this.#blurred.set(outline, made);
    return made;
  }

  /** An outline that allows what either of two blurred ones allows. */
  #join(a: number, b: number): number {
    if (a === b) return a;
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    const ready = this.#joined.get(key);
    if (ready !== undefined) return ready;
    const [one, other] = [this.all[a], this.all[b]];
    const below = new Map(one.kinds.map((kind, i) => [kind, one.below[i]]));
    other.kinds.forEach((kind, i) => {
      const before = below.get(kind);
      below.set(kind, before === undefined ? other.below[i] : this.#join(before, other.below[i]));
    });
    const made = this.#make(Math.max(one.closed, other.closed), Math.max(one.open, other.open), [...below]);
    this.#joined.set(key, made);
    return made;
  }
}

/** Bounds of one reading after another share their memory: searches never overlap. */
let memory = new Float64Array();
let worked = new Int32Array();
let run = 0;

/** The most that an outline can add to a reading from each of its characters on. */
export class Outlook {
  readonly #reading: Reading;
  readonly #outlines: Outlines;
  readonly #run: number;
  /**
   * Bounds, at {@link of} an outline + j for the characters from j on, three times length + 1 for each outline: as it is,
   * after a character of a field, and where the next symbol is character j - 2 and the one before it was character j - 1.
   */
  readonly most: Float64Array;

  constructor(reading: Reading, outlines: Outlines) {
    this.#reading = reading;
    this.#outlines = outlines;
    const { length } = reading;
    const size = outlines.all.length;
    const needed = size * 3 * (length + 1);
    if (memory.length < needed) memory = new Float64Array(needed);
    if (worked.length < size) worked = new Int32Array(size);
    this.#run = ++run;
    this.most = memory;
  }

  /** Place of an outline's bounds in {@link most}. */
  of(outline: number): number {
    const at = outline * 3 * (this.#reading.length + 1);
    if (worked[outline] !== this.#run) this.#work(outline, at);
    return at;
  }

  #work(outline: number, at: number): void {
    worked[outline] = this.#run;
    const reading = this.#reading;
    const { length, emit, imagined, fieldLonger, transposed } = reading;
    const { most } = this;
    const { closed, open, kinds, below } = this.#outlines.all[outline];
    const afterField = at + length + 1;
    const due = afterField + length + 1;
    for (let j = 0; j < length; j++) most[at + j] = open;
    most[at + length] = Math.max(closed, open);
    most.fill(Number.NEGATIVE_INFINITY, due, due + length + 1);
    for (let i = 0; i < kinds.length; i++) {
      const node = this.of(below[i]);
      const kind = kinds[i];
      const next = kind === FREE ? node + length + 1 : node;
      const nextDue = node + 2 * (length + 1);
      for (let j = 0; j <= length; j++) {
        let better = lost(reading, kind, j) + most[next + j];
        if (j < length) better = Math.max(better, emit[j * KINDS + kind] + most[next + j + 1]);
        if (j + 2 <= length)
          better = Math.max(better, transposed + emit[(j + 1) * KINDS + kind] + most[nextDue + j + 2]);
        if (better > most[at + j]) most[at + j] = better;
        if (j < 2) continue;
        const second = emit[(j - 2) * KINDS + kind] + most[next + j];
        if (second > most[due + j]) most[due + j] = second;
      }
    }
    most[afterField + length] = most[at + length];
    for (let j = length - 1; j >= 0; j--) {
      most[afterField + j] = Math.max(most[at + j], fieldLonger[j] + most[afterField + j + 1]);
      most[at + j] = Math.max(most[at + j], imagined[j] + most[at + j + 1]);
    }
  }
}
