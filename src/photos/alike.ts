import { HASH_BITS, MOST_BITS_APART, ones } from './likeness.ts';

/** A photo in an index, with what it is there for. */
export interface Hashed {
  /** 64 hexadecimal digits. */
  readonly likeness: string;
}

/** Words of a hash, of 32 bits each. */
const WORDS = HASH_BITS / 32;
/** Parts that a hash is cut into: one more than copies differ in bits, so that copies have at least one part in common. */
const PARTS = MOST_BITS_APART + 1;

/** Beginning of each part and of the one behind the last, bits; the first ones are a bit longer where they do not come out even. */
const CUTS = Array.from({ length: PARTS + 1 }, (_, i) => Math.ceil((i * HASH_BITS) / PARTS));

/**
 * Finds pictures whose hashes differ in few bits without comparing all with all: hashes that differ in no more bits than a copy may have at
 * least one of their parts in common, so that only those are compared that share one (multi-index hashing; Norouzi, Punjani and Fleet,
 * "Fast exact search in Hamming space with multi-index hashing", 2014, with a search radius of 0 in each part). It misses none.
 */
export class AlikeIndex<T extends Hashed> {
  readonly #items: readonly T[];
  readonly #words: Uint32Array;
  /** The last search that each item was compared in, so that none is compared twice in one. */
  readonly #seen: Uint32Array;
  #round = 0;
  /** By part: places in the list of items, sorted by the value of the part, and where each value begins. */
  readonly #tables: readonly { readonly order: Uint32Array; readonly starts: Uint32Array }[];

  constructor(items: readonly T[]) {
    this.#items = items;
    this.#words = new Uint32Array(WORDS * items.length);
    const cut = items.map(({ likeness }, at) => {
      const words = wordsOf(likeness);
      this.#words.set(words, WORDS * at);
      return partsOf(words);
    });
    this.#seen = new Uint32Array(items.length);
    this.#tables = Array.from({ length: PARTS }, (_, part) => {
      const values = 2 ** (CUTS[part + 1] - CUTS[part]);
      const starts = new Uint32Array(values + 1);
      for (const parts of cut) starts[parts[part] + 1]++;
      for (let value = 0; value < values; value++) starts[value + 1] += starts[value];
      const next = starts.slice();
      const order = new Uint32Array(items.length);
      for (const [at, parts] of cut.entries()) order[next[parts[part]]++] = at;
      return { order, starts };
    });
  }

  /** What is so alike that one is likely a copy of the other, with the number of bits in which they differ; in the order of the items. */
  near(likeness: string): readonly { readonly item: T; readonly bits: number }[] {
    const wanted = wordsOf(likeness);
    const round = ++this.#round;
    const found: { readonly at: number; readonly bits: number }[] = [];
    for (const [part, value] of partsOf(wanted).entries()) {
      const { order, starts } = this.#tables[part];
      for (let i = starts[value]; i < starts[value + 1]; i++) {
        const at = order[i];
        if (this.#seen[at] === round) continue;
        this.#seen[at] = round;
        let bits = 0;
        for (let word = 0; word < WORDS; word++) bits += ones(wanted[word] ^ this.#words[at * WORDS + word]);
        if (bits <= MOST_BITS_APART) found.push({ at, bits });
      }
    }
    return found.sort((a, b) => a.at - b.at).map(({ at, bits }) => ({ item: this.#items[at], bits }));
  }
}

/** A hash in words of 32 bits. */
function wordsOf(likeness: string): Uint32Array {
  return Uint32Array.from({ length: WORDS }, (_, i) => Number.parseInt(likeness.slice(8 * i, 8 * i + 8), 16));
}

function partsOf(words: Uint32Array): Uint16Array {
  const parts = new Uint16Array(PARTS);
  for (let part = 0; part < PARTS; part++)
    for (let bit = CUTS[part]; bit < CUTS[part + 1]; bit++)
      parts[part] = (parts[part] << 1) | ((words[bit >>> 5] >>> (31 - (bit & 31))) & 1);
  return parts;
}
