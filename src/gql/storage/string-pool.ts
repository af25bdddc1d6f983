/**
 * Interned strings in shared memory: a string is stored once, as UTF-8, and everything else holds its number.
 * Only the main thread adds; workers read the bytes and keep what they decoded.
 */
import { ByteColumn, type ColumnParts, IntColumn } from './column.ts';

/** Writes a text as UTF-8; answers its bytes. Most texts are short and plain ASCII, where encoders are slow. */
function written(text: string, bytes: Uint8Array, at: number): number {
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code > 127) return encoder.encodeInto(text, bytes.subarray(at)).written;
    bytes[at + i] = code;
  }
  return text.length;
}

/** What a worker needs to read the pool. */
export interface StringPoolParts {
  readonly starts: ColumnParts;
  readonly bytes: ColumnParts;
  readonly size: number;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** Gives others their turn when it is time. */
export type Rest = () => Promise<void>;

/** A pool at rest. */
export interface SavedStrings {
  readonly size: number;
  readonly starts: Int32Array;
  readonly bytes: Uint8Array;
  /** Numbers by text, a hash table. */
  readonly table: Int32Array;
}

export interface RestoredStrings {
  readonly size: number;
  readonly starts: SharedArrayBuffer;
  readonly bytes: SharedArrayBuffer;
  readonly table: Int32Array;
}

const EMPTY = -1;

/** Numbers of strings by their text: open addressing, so that it can be stored as it is. */
class StringTable {
  readonly places: Int32Array;

  constructor(places: Int32Array) {
    this.places = places;
  }

  static async of(pool: StringPool, strings: number, rest: Rest): Promise<StringTable> {
    let size = 16;
    while (size < strings * 2) size *= 2;
    const places = new Int32Array(size).fill(EMPTY);
    for (let id = 0; id < strings; id++) {
      if (id % 1024 === 0) await rest();
      let place = hashOf(pool.text(id)) & (size - 1);
      while (places[place] !== EMPTY) place = (place + 1) & (size - 1);
      places[place] = id;
    }
    return new StringTable(places);
  }

  /** The number of a string, or undefined. */
  find(text: string, pool: StringPool): number | undefined {
    const { places } = this;
    const mask = places.length - 1;
    for (let place = hashOf(text) & mask; places[place] !== EMPTY; place = (place + 1) & mask)
      if (pool.text(places[place]!) === text) return places[place]!;
    return undefined;
  }
}

/** FNV-1a over UTF-16 code units (Fowler, Noll and Vo), finished by Murmur3's mixer. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5 | 0;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  hash ^= hash >>> 16;
  hash = Math.imul(hash, 0x85ebca6b);
  return (hash ^ (hash >>> 13)) >>> 0;
}

export class StringPool {
  readonly #starts: IntColumn;
  readonly #bytes: ByteColumn;
  readonly #decoded: (string | undefined)[] = [];
  readonly #ids = new Map<string, number>();
  /** Numbers of the strings that came from elsewhere, by their text; these are not in `#ids`. */
  #restored: StringTable | undefined;
  /** How many strings are interned. */
  size: number;

  constructor(parts?: StringPoolParts) {
    this.#starts = new IntColumn(parts?.starts);
    this.#bytes = new ByteColumn(parts?.bytes);
    this.size = parts?.size ?? 0;
    if (!parts) this.#starts.ensure(1);
  }

  /** The number of a string, or -1 when no stored value holds it. Main thread only. */
  find(text: string): number {
    return this.#ids.get(text) ?? this.#restored?.find(text, this) ?? -1;
  }

  /** The number of a string, which is added when it is new. Main thread only. */
  intern(text: string): number {
    const known = this.#ids.get(text) ?? this.#restored?.find(text, this) ?? -1;
    if (known >= 0) return known;
    const id = this.size++;
    const start = this.#starts.view[id]!;
    this.#bytes.ensure(start + text.length * 3);
    this.#starts.ensure(id + 2);
    this.#starts.view[id + 1] = start + written(text, this.#bytes.view, start);
    this.#ids.set(text, id);
    this.#decoded[id] = text;
    return id;
  }

  /** The string with this number. */
  text(id: number): string {
    const known = this.#decoded[id];
    if (known !== undefined) return known;
    // A copy: decoders refuse shared memory.
    const text = decoder.decode(this.#bytes.view.slice(this.#starts.view[id], this.#starts.view[id + 1]));
    this.#decoded[id] = text;
    return text;
  }

  /** Brings a worker's view up to date. */
  update(parts: StringPoolParts): void {
    this.#starts.attach(parts.starts);
    this.#bytes.attach(parts.bytes);
    this.size = parts.size;
  }

  /** What to hand to a worker. */
  parts(): StringPoolParts {
    return {
      starts: { buffer: this.#starts.buffer },
      bytes: { buffer: this.#bytes.buffer },
      size: this.size,
    };
  }

  /**
   * Everything, to be taken up by {@link restore}. Strings that come later are not in it. Main thread only.
   * @param rest called often, so that others have their turn
   */
  async save(rest: Rest): Promise<SavedStrings> {
    const { size } = this;
    const table = await StringTable.of(this, size, rest);
    return {
      size,
      starts: this.#starts.view.subarray(0, size + 1),
      bytes: this.#bytes.view.subarray(0, this.#starts.view[size]!),
      table: table.places,
    };
  }

  /** Makes an empty pool the one that another one saved. No text is decoded before it is wanted. */
  restore({ size, starts, bytes, table }: RestoredStrings): void {
    this.#starts.attach({ buffer: starts });
    this.#bytes.attach({ buffer: bytes });
    this.size = size;
    this.#restored = new StringTable(table);
  }

  /** Bytes taken in shared memory and, estimated, on the JavaScript heap. */
  bytesUsed(): number {
    return this.#starts.view[this.size]! + this.size * 4 + this.size * 64;
  }
}
