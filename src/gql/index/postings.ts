/**
 * The segments that have one feature. Few: a sorted array; many: a bitmap; the two containers of a Roaring bitmap
 * (Chambi, Lemire, Kaser and Godin, "Better bitmap performance with Roaring bitmaps", Software: Practice and
 * Experience 46, 2016), with one chunk.
 */
const NONE = new Int32Array(0);

export class Postings {
  /** Occurrences in all segments together: nodes of a label set, edges of a shape. */
  total = 0;
  /** Segments. */
  size = 0;
  #sorted: Int32Array = NONE;
  #bits: Uint32Array | undefined;

  add(segment: number): void {
    if (this.#bits) {
      this.#fit(segment);
      const word = segment >>> 5;
      const bit = 1 << (segment & 31);
      if ((this.#bits[word]! & bit) === 0) {
        this.#bits[word]! |= bit;
        this.size++;
      }
      return;
    }
    const n = this.size;
    const list = this.#sorted;
    let at = n;
    if (n > 0 && list[n - 1]! >= segment) {
      if (list[n - 1] === segment) return;
      at = lowerBound(list, n, segment);
      if (list[at] === segment) return;
    }
    let target = list;
    if (n === list.length) {
      target = new Int32Array(Math.ceil(n * 1.5) + 1);
      target.set(list);
    }
    if (at < n) target.copyWithin(at + 1, at, n);
    target[at] = segment;
    this.#sorted = target;
    this.size++;
    // A bitmap is smaller once a segment in 32 has the feature.
    if (this.size > 64 && this.size * 32 > target[this.size - 1]!) this.#toBits();
  }

  delete(segment: number): void {
    if (this.#bits) {
      const word = segment >>> 5;
      const bit = 1 << (segment & 31);
      if (word < this.#bits.length && (this.#bits[word]! & bit) !== 0) {
        this.#bits[word]! &= ~bit;
        this.size--;
      }
      return;
    }
    const at = lowerBound(this.#sorted, this.size, segment);
    if (at < this.size && this.#sorted[at] === segment) {
      this.#sorted.copyWithin(at, at + 1, this.size);
      this.size--;
    }
  }

  has(segment: number): boolean {
    if (this.#bits) return ((this.#bits[segment >>> 5] ?? 0) & (1 << (segment & 31))) !== 0;
    const at = lowerBound(this.#sorted, this.size, segment);
    return at < this.size && this.#sorted[at] === segment;
  }

  /** Sets the bits of all segments here in `target`. */
  orInto(target: Uint32Array): void {
    if (this.#bits) {
      const n = Math.min(this.#bits.length, target.length);
      for (let i = 0; i < n; i++) target[i]! |= this.#bits[i]!;
      return;
    }
    for (let i = 0; i < this.size; i++) {
      const segment = this.#sorted[i]!;
      target[segment >>> 5]! |= 1 << (segment & 31);
    }
  }

  /** Words that {@link save} writes. */
  get savedWords(): number {
    return 3 + (this.#bits?.length ?? this.size);
  }

  /** Writes it into a row of words; answers where the next one begins. */
  save(words: Int32Array, at: number): number {
    const held = this.#bits ?? this.#sorted.subarray(0, this.size);
    words[at] = this.total;
    words[at + 1] = this.size;
    words[at + 2] = this.#bits ? held.length : ~held.length;
    words.set(held, at + 3);
    return at + 3 + held.length;
  }

  /** What was saved in a row of words, of which it takes its part over as memory of its own. */
  static restored(words: Int32Array, at: number): { readonly postings: Postings; readonly next: number } {
    const postings = new Postings();
    const length = words[at + 2]!;
    const [isBits, count] = length >= 0 ? [true, length] : [false, ~length];
    postings.total = words[at]!;
    postings.size = words[at + 1]!;
    const next = at + 3 + count;
    const held = words.subarray(at + 3, next);
    if (isBits) postings.#bits = new Uint32Array(held.buffer, held.byteOffset, count);
    else postings.#sorted = held;
    return { postings, next };
  }

  bytesUsed(): number {
    return (this.#bits?.byteLength ?? this.#sorted.byteLength) + 180;
  }

  #toBits(): void {
    const bits = new Uint32Array(((this.#sorted[this.size - 1]! * 1.25) >>> 5) + 8);
    this.orInto(bits);
    this.#bits = bits;
    this.#sorted = new Int32Array(0);
  }

  #fit(segment: number): void {
    const word = segment >>> 5;
    if (word < this.#bits!.length) return;
    const bigger = new Uint32Array(Math.ceil(word * 1.25) + 1);
    bigger.set(this.#bits!);
    this.#bits = bigger;
  }
}

function lowerBound(list: Int32Array, length: number, value: number): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (list[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
