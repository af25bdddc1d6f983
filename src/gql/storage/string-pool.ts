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

export class StringPool {
  readonly #starts: IntColumn;
  readonly #bytes: ByteColumn;
  readonly #decoded: (string | undefined)[] = [];
  readonly #ids = new Map<string, number>();
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
    return this.#ids.get(text) ?? -1;
  }

  /** The number of a string, which is added when it is new. Main thread only. */
  intern(text: string): number {
    const known = this.#ids.get(text);
    if (known !== undefined) return known;
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

  /** Bytes taken in shared memory and, estimated, on the JavaScript heap. */
  bytesUsed(): number {
    return this.#starts.view[this.size]! + this.size * 4 + this.size * 64;
  }
}
