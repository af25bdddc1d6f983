/**
 * Shared, growing columns. Every number of the stored graph lives in one of these: a typed array over a growable
 * SharedArrayBuffer, so worker threads read the very memory the main thread writes and growing never copies.
 *
 * The view is a fixed-length one that is made again after growth (a length-tracking view would be slower to
 * read: the engine would have to load the buffer's length on every access).
 */

/** Address space reserved for one column, in bytes; memory is only taken when it is written. */
const RESERVED = 2 ** 28;
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
    this.buffer = parts?.buffer ?? reserve(0, RESERVED);
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
}

/** Bytes. */
export class ByteColumn {
  view: Uint8Array;
  buffer: SharedArrayBuffer;
  constructor(parts?: ColumnParts) {
    this.buffer = parts?.buffer ?? reserve(0, RESERVED);
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

/** Records of 32-bit words with doubles among them; a double stands on an even word. */
export class WordColumn {
  words: Int32Array;
  doubles: Float64Array;
  buffer: SharedArrayBuffer;
  constructor(parts?: ColumnParts) {
    this.buffer = parts?.buffer ?? reserve(0, RESERVED * 2);
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

function reserve(bytes: number, most: number): SharedArrayBuffer {
  return new SharedArrayBuffer(bytes, { maxByteLength: most });
}

function grown(buffer: SharedArrayBuffer, needed: number): SharedArrayBuffer {
  const wanted = Math.max(needed, Math.min(buffer.byteLength * 1.25, buffer.byteLength + 2 ** 24));
  const bytes = Math.ceil(wanted / STEP) * STEP;
  if (bytes <= buffer.maxByteLength) {
    buffer.grow(bytes);
    return buffer;
  }
  // Past the reserved address space: the one case that copies.
  const bigger = reserve(bytes, Math.max(buffer.maxByteLength * 4, bytes * 2));
  new Uint8Array(bigger).set(new Uint8Array(buffer));
  return bigger;
}
