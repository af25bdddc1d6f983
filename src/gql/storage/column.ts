/**
 * Shared, growing columns. Every number of the stored graph lives in one of these: a typed array over a
 * SharedArrayBuffer, so worker threads read the very memory the main thread writes. Once a column is larger than a
 * page or so its buffer is a growable one, and growing it copies nothing.
 *
 * The view is a fixed-length one that is made again after growth (a length-tracking view would be slower to
 * read: the engine would have to load the buffer's length on every access).
 */

/** Columns up to this many bytes are plain memory, made anew when they grow. */
const SMALL = 2 ** 16;
/** Address space reserved for a larger column; memory is only taken when it is written. */
const RESERVED = 2 ** 32 - 2 ** 16;
const STEP = 2 ** 16;

/** The two halves of a column that cross to a worker: the buffer, and how many bytes of it are in use. */
export interface ColumnParts {
  readonly buffer: SharedArrayBuffer;
}

/** 32-bit signed integers. */
export class IntColumn {
  view: Int32Array;
  buffer: SharedArrayBuffer;
  constructor(parts?: ColumnParts) {
    this.buffer = parts?.buffer ?? new SharedArrayBuffer(0);
    this.view = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
  }
  /** Takes over what the writer has made of the column since. */
  attach(parts: ColumnParts): void {
    this.buffer = parts.buffer;
    this.view = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
  }
  /** Makes room for `length` entries. */
  ensure(length: number): void {
    if (length <= this.view.length) return;
    this.buffer = grown(this.buffer, length * 4);
    this.view = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
  }
  /** Continues in new memory; holders of the previous buffer keep its current content. */
  fork(): void {
    this.attach({ buffer: copied(this.buffer, new SharedArrayBuffer(this.buffer.byteLength)) });
  }
}

/** Bytes. */
export class ByteColumn {
  view: Uint8Array;
  buffer: SharedArrayBuffer;
  constructor(parts?: ColumnParts) {
    this.buffer = parts?.buffer ?? new SharedArrayBuffer(0);
    this.view = new Uint8Array(this.buffer, 0, this.buffer.byteLength);
  }
  /** Takes over what the writer has made of the column since. */
  attach(parts: ColumnParts): void {
    this.buffer = parts.buffer;
    this.view = new Uint8Array(this.buffer, 0, this.buffer.byteLength);
  }
  /** Makes room for `length` entries. */
  ensure(length: number): void {
    if (length <= this.view.length) return;
    this.buffer = grown(this.buffer, length);
    this.view = new Uint8Array(this.buffer, 0, this.buffer.byteLength);
  }
}

/** Records of 32-bit words with doubles among them; a double is on an even word. */
export class WordColumn {
  words: Int32Array;
  doubles: Float64Array;
  buffer: SharedArrayBuffer;
  constructor(parts?: ColumnParts) {
    this.buffer = parts?.buffer ?? new SharedArrayBuffer(0);
    this.words = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
    this.doubles = new Float64Array(this.buffer, 0, this.buffer.byteLength >> 3);
  }
  /** Takes over what the writer has made of the column since. */
  attach(parts: ColumnParts): void {
    this.buffer = parts.buffer;
    this.words = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
    this.doubles = new Float64Array(this.buffer, 0, this.buffer.byteLength >> 3);
  }
  /** Makes room for `length` words. */
  ensure(length: number): void {
    if (length <= this.words.length) return;
    this.buffer = grown(this.buffer, length * 4);
    this.words = new Int32Array(this.buffer, 0, this.buffer.byteLength >> 2);
    this.doubles = new Float64Array(this.buffer, 0, this.buffer.byteLength >> 3);
  }
}

function grown(buffer: SharedArrayBuffer, needed: number): SharedArrayBuffer {
  if (needed <= SMALL)
    return copied(buffer, new SharedArrayBuffer(Math.max(256, 2 ** Math.ceil(Math.log2(needed)))));
  const wanted = Math.max(needed, Math.min(buffer.byteLength * 1.25, buffer.byteLength + 2 ** 24));
  const bytes = Math.min(RESERVED, Math.ceil(wanted / STEP) * STEP);
  if (needed > RESERVED) throw new RangeError(`A column of the graph would pass ${RESERVED} bytes`);
  if (!buffer.growable) return copied(buffer, new SharedArrayBuffer(bytes, { maxByteLength: RESERVED }));
  buffer.grow(bytes);
  return buffer;
}

function copied(from: SharedArrayBuffer, to: SharedArrayBuffer): SharedArrayBuffer {
  new Uint8Array(to).set(new Uint8Array(from));
  return to;
}
