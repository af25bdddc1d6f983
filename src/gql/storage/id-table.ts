/**
 * Node ids to numbers, by their bytes: the ids of a whole graph while it is loaded, without a string for each. Open
 * addressing; ids are never removed.
 */
const EMPTY = -1;

export class IdTable {
  #table: Int32Array = new Int32Array(1024).fill(EMPTY);
  #bytes: Buffer = Buffer.allocUnsafe(2 ** 14);
  /** First byte of each id; one more for the end of the last. */
  #starts: Int32Array = new Int32Array(1025);
  #hashes: Int32Array = new Int32Array(1024);
  /** Ids so far; the next new one has this number. */
  size = 0;
  #last = 0;

  /**
   * The number of an id, which is added when it is new.
   * @param hash depends on the bytes alone
   */
  add(from: Buffer, start: number, end: number, hash: number): number {
    // The edges of a node mostly follow each other.
    const last = this.#last;
    if (this.#hashes[last] === hash && this.size > 0 && this.#is(last, from, start, end)) return last;
    const mask = this.#table.length - 1;
    let place = mixed(hash) & mask;
    for (let id = this.#table[place]!; id !== EMPTY; id = this.#table[place]!) {
      if (this.#hashes[id] === hash && this.#is(id, from, start, end)) {
        this.#last = id;
        return id;
      }
      place = (place + 1) & mask;
    }
    const id = this.size++;
    this.#table[place] = id;
    this.#keep(id, from, start, end, hash);
    return id;
  }

  text(id: number): string {
    const start = this.#starts[id]!;
    const end = this.#starts[id + 1]!;
    for (let i = start; i < end; i++)
      if (this.#bytes[i]! > 127) return this.#bytes.toString('utf8', start, end);
    return this.#bytes.toString('latin1', start, end);
  }

  #is(id: number, from: Buffer, start: number, end: number): boolean {
    const first = this.#starts[id]!;
    if (this.#starts[id + 1]! - first !== end - start) return false;
    const bytes = this.#bytes;
    for (let i = start, j = first; i < end; i++, j++) if (from[i] !== bytes[j]) return false;
    return true;
  }

  #keep(id: number, from: Buffer, start: number, end: number, hash: number): void {
    const first = this.#starts[id]!;
    const next = first + end - start;
    if (next > this.#bytes.length) {
      const bigger = Buffer.allocUnsafe(Math.max(next, this.#bytes.length * 2));
      this.#bytes.copy(bigger, 0, 0, first);
      this.#bytes = bigger;
    }
    if (id === this.#hashes.length) {
      this.#starts = longer(this.#starts, id * 2 + 1);
      this.#hashes = longer(this.#hashes, id * 2);
    }
    for (let i = start, j = first; i < end; i++, j++) this.#bytes[j] = from[i]!;
    this.#hashes[id] = hash;
    this.#starts[id + 1] = next;
    if (this.size * 2 > this.#table.length) this.#spread();
  }

  #spread(): void {
    const table = new Int32Array(this.#table.length * 4).fill(EMPTY);
    const mask = table.length - 1;
    for (let id = 0; id < this.size; id++) {
      let place = mixed(this.#hashes[id]!) & mask;
      while (table[place] !== EMPTY) place = (place + 1) & mask;
      table[place] = id;
    }
    this.#table = table;
  }
}

function longer(numbers: Int32Array, length: number): Int32Array {
  const copy = new Int32Array(length);
  copy.set(numbers);
  return copy;
}

/** Murmur3's finisher: the last bytes of FNV-1a reach the low bits alone. */
function mixed(value: number): number {
  let hash = value;
  hash ^= hash >>> 16;
  hash = Math.imul(hash, 0x85ebca6b);
  return hash ^ (hash >>> 13);
}
