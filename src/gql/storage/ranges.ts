/** Ranges at rest: first entry never handed out, and starts of free ranges by size. */
export interface SavedRanges {
  readonly end: number;
  readonly free: readonly (readonly [size: number, starts: readonly number[]])[];
}

/**
 * Hands out ranges of a column and takes them back. A segment owns one range in each column; when the segment is
 * replaced, its ranges return here and are used again, so nothing else in the archive has to move.
 * Segregated free lists with splitting (Wilson et al., "Dynamic Storage Allocation: A Survey", 1995, section 3.5).
 */
export class Ranges {
  /** First entry that was never handed out. */
  end = 0;
  /** Entries now on the free lists. */
  free = 0;
  readonly #bySize = new Map<number, number[]>();
  readonly #byClass: number[][] = [];
  readonly #align: number;

  /** @param align every range starts on, and is rounded up to, a multiple of this */
  constructor(align = 1) {
    this.#align = align;
  }

  /** Takes `count` entries (0 is allowed and costs nothing); returns the first. */
  take(count: number): number {
    const size = this.#rounded(count);
    if (size === 0) return 0;
    const exact = this.#bySize.get(size)?.pop();
    if (exact !== undefined) {
      this.free -= size;
      return exact;
    }
    for (let c = 32 - Math.clz32(size - 1); c < this.#byClass.length; c++) {
      const sizes = this.#byClass[c];
      while (sizes && sizes.length > 0) {
        const found = sizes[sizes.length - 1]!;
        const start = this.#bySize.get(found)?.pop();
        if (start === undefined) {
          sizes.pop();
          continue;
        }
        this.free -= found;
        if (found > size) this.give(start + size, found - size);
        return start;
      }
    }
    const start = this.end;
    this.end += size;
    return start;
  }

  /** Gives back what `take(count)` answered. */
  give(start: number, count: number): void {
    const size = this.#rounded(count);
    if (size === 0) return;
    this.free += size;
    const starts = this.#bySize.get(size);
    if (starts) starts.push(start);
    else this.#bySize.set(size, [start]);
    const c = 31 - Math.clz32(size);
    let sizes = this.#byClass[c];
    if (!sizes) {
      for (let i = this.#byClass.length; i <= c; i++) this.#byClass.push([]);
      sizes = this.#byClass[c]!;
    }
    if (sizes[sizes.length - 1] !== size) sizes.push(size);
  }

  /** End and free ranges, to be taken up by {@link restore}. */
  save(): SavedRanges {
    return { end: this.end, free: [...this.#bySize].filter(([, starts]) => starts.length > 0) };
  }

  /** Takes up what another one saved. */
  restore({ end, free }: SavedRanges): void {
    this.end = end;
    for (const [size, starts] of free) for (const start of starts) this.give(start, size);
  }

  #rounded(count: number): number {
    return Math.ceil(count / this.#align) * this.#align;
  }
}
