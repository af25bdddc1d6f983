/**
 * Reads CSV (RFC 4180) from bytes, record by record. Nothing is made for a record: its fields are places in a buffer,
 * with a hash of each, so that whoever reads them makes a string or number only for what was not seen before. A general
 * parser, which makes an object or array for each line, takes eight to ten times as long on a file of millions of lines.
 *
 * The first line names the columns. Lines end as the first one does, in LF, CR LF or CR. Empty lines are left out.
 */
import { open } from 'node:fs/promises';

/** Has file and line. */
export class CsvError extends Error {
  override readonly name = 'CsvError';
}

const CHUNK = 2 ** 20;
const LF = 10;
const CR = 13;
const QUOTE = 34;
const COMMA = 44;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
/** 10 to the power of the index. */
const POWERS = Array.from({ length: 16 }, (_, i) => 10 ** i);
const BASIS = 0x811c9dc5 | 0;
const PRIME = 0x01000193;

/** The record that is being looked at. Contents change with each record. */
export class CsvRecord {
  readonly file: string;
  columns: readonly string[] = [];
  /** Line of the file, from 1, where it begins. */
  line = 1;
  /** How many fields. */
  size = 0;
  buffer: Buffer;
  /** Per field: first byte and the byte behind the last one, without quotes. */
  starts: Int32Array = new Int32Array(16);
  ends: Int32Array = new Int32Array(16);
  /** Per field, over its bytes: FNV-1a (Fowler, Noll and Vo; draft-eastlake-fnv). */
  hashes: Int32Array = new Int32Array(16);
  /** Per field: all its bytes by "or"; above 127 when it is not plain ASCII. */
  bits: Int32Array = new Int32Array(16);

  constructor(file: string, chunk: number) {
    this.file = file;
    // One byte more, for a line end behind the last one.
    this.buffer = Buffer.allocUnsafe(chunk + 1);
  }

  isEmpty(field: number): boolean {
    return this.starts[field] === this.ends[field];
  }

  /** A string of its own, which keeps no larger text in memory. */
  text(field: number): string {
    const encoding = this.bits[field]! > 127 ? 'utf8' : 'latin1';
    return this.buffer.toString(encoding, this.starts[field], this.ends[field]);
  }

  /**
   * A field of up to 15 digits as a number; NaN when it is longer, has an exponent or is no number as JSON (RFC 8259)
   * writes it. Digits below 2^53 and a power of ten up to 10^22 are exact, so that their quotient is rounded once
   * (Clinger, "How to read floating point numbers accurately", PLDI 1990).
   */
  number(field: number): number {
    const { buffer } = this;
    const end = this.ends[field]!;
    let at = this.starts[field]!;
    const isNegative = buffer[at] === MINUS;
    if (isNegative) at++;
    if (at >= end || end - at > 16) return Number.NaN;
    // No digit follows a zero in front.
    if (buffer[at] === ZERO && at + 1 < end && buffer[at + 1] !== POINT) return Number.NaN;
    const first = at;
    let digits = 0;
    let point = -1;
    for (; at < end; at++) {
      const byte = buffer[at]!;
      if (byte >= ZERO && byte < ZERO + 10) digits = digits * 10 + byte - ZERO;
      else if (byte === POINT && point < 0 && at > first && at + 1 < end) point = at;
      else return Number.NaN;
    }
    if (point < 0 && end - first > 15) return Number.NaN;
    const value = point < 0 ? digits : digits / POWERS[end - point - 1]!;
    return isNegative ? -value : value;
  }

  /** Whether a field reads like this text, of plain ASCII. */
  reads(field: number, text: string): boolean {
    const start = this.starts[field]!;
    if (this.ends[field]! - start !== text.length) return false;
    for (let i = 0; i < text.length; i++) if (this.buffer[start + i] !== text.charCodeAt(i)) return false;
    return true;
  }

  /** A problem with this record, for the caller to throw. */
  problem(message: string): CsvError {
    return new CsvError(`${this.file}:${this.line}: ${message}`);
  }
}

/**
 * Calls back once with the columns, for what is then called with each record. A file without a line has neither.
 * Throws CsvError where it is not CSV, or lines differ in their number of fields.
 * @param chunk bytes that are read at once, unless a record is longer
 */
export async function scanCsv(
  file: string,
  begin: (header: CsvRecord) => Each,
  chunk = CHUNK,
): Promise<void> {
  const scanner = new Scanner(new CsvRecord(file, chunk), begin);
  const handle = await open(file);
  try {
    for (;;) {
      const { bytesRead } = await handle.read(scanner.room());
      if (bytesRead === 0) break;
      scanner.take(bytesRead);
    }
    scanner.end();
  } finally {
    await handle.close();
  }
}

type Each = (record: CsvRecord) => void;

class Scanner {
  readonly #record: CsvRecord;
  readonly #begin: (header: CsvRecord) => Each;
  #each: Each | undefined;
  /** Bytes of the buffer that were read from the file and not yet scanned: from 0 on. */
  #filled = 0;
  /** LF or CR; 0 while no line has ended. */
  #lineEnd = 0;

  constructor(record: CsvRecord, begin: (header: CsvRecord) => Each) {
    this.#record = record;
    this.#begin = begin;
  }

  /** Where the next bytes of the file are to be put. */
  room(): Buffer {
    const record = this.#record;
    if (this.#filled * 2 >= record.buffer.length) {
      const bigger = Buffer.allocUnsafe(record.buffer.length * 2);
      record.buffer.copy(bigger, 0, 0, this.#filled);
      record.buffer = bigger;
    }
    return record.buffer.subarray(this.#filled, record.buffer.length - 1);
  }

  take(bytes: number): void {
    this.#filled += bytes;
    this.#scan(false);
  }

  end(): void {
    if (this.#filled > 0) this.#scan(true);
  }

  /** Scans the records that are complete; puts what is left at the front of the buffer. */
  #scan(isLast: boolean): void {
    const { buffer } = this.#record;
    let at = 0;
    let end = this.#filled;
    if (this.#lineEnd === 0) {
      if (buffer[0] === 0xef && buffer[1] === 0xbb && buffer[2] === 0xbf && end >= 3) at = 3;
      this.#lineEnd = lineEndOf(buffer, at, end, isLast);
      if (this.#lineEnd === 0) return;
    }
    // The scan needs no test for the end of the buffer where it ends with a line.
    if (isLast && buffer[end - 1] !== this.#lineEnd) buffer[end++] = this.#lineEnd;
    const last = isLast ? end - 1 : buffer.lastIndexOf(this.#lineEnd, end - 1);
    while (at <= last) {
      const next = this.#recordAt(at, last);
      if (next < 0) break;
      at = next;
    }
    if (isLast && at < end) throw this.#record.problem('a quote is opened that is not closed');
    buffer.copyWithin(0, at, end);
    this.#filled = end - at;
  }

  /**
   * Finds the fields of the record that begins at a byte, and hands it on.
   * @param last place of a line end, with nothing behind it that is looked at
   * @returns where the next record begins; -1 when this one goes on behind `last`
   */
  #recordAt(begin: number, last: number): number {
    const record = this.#record;
    const { buffer } = record;
    const lineEnd = this.#lineEnd;
    let { starts, ends, hashes, bits } = record;
    let at = begin;
    let size = 0;
    let lines = 1;
    let hasEscapes = false;
    for (;;) {
      if (size === starts.length) {
        grow(record);
        ({ starts, ends, hashes, bits } = record);
      }
      let hash = BASIS;
      let or = 0;
      let byte = buffer[at]!;
      if (byte === QUOTE) {
        starts[size] = ++at;
        for (;;) {
          if (at > last) return -1;
          byte = buffer[at++]!;
          if (byte === QUOTE) {
            if (buffer[at] !== QUOTE) break;
            at++;
            hasEscapes = true;
          } else if (byte === lineEnd) lines++;
          hash = Math.imul(hash ^ byte, PRIME);
          or |= byte;
        }
        ends[size] = at - 1;
        byte = buffer[at]!;
        if (byte === CR && lineEnd === LF && buffer[at + 1] === LF) byte = buffer[++at]!;
        if (byte !== COMMA && byte !== lineEnd)
          throw record.problem(
            'a quoted field has text behind its closing quote; a quote inside is written ""',
          );
      } else {
        starts[size] = at;
        for (;;) {
          if (byte <= COMMA && (byte === COMMA || byte === lineEnd || byte === QUOTE)) break;
          hash = Math.imul(hash ^ byte, PRIME);
          or |= byte;
          byte = buffer[++at]!;
        }
        if (byte === QUOTE) throw record.problem('a quote stands inside a field that is not quoted');
        ends[size] = at;
        if (byte === LF && at > starts[size]! && buffer[at - 1] === CR) {
          ends[size] = at - 1;
          // The hash of what stands before the CR.
          hash = BASIS;
          for (let i = starts[size]!; i < at - 1; i++) hash = Math.imul(hash ^ buffer[i]!, PRIME);
        }
      }
      hashes[size] = hash;
      bits[size] = or;
      size++;
      at++;
      if (byte !== COMMA) break;
    }
    record.size = size;
    if (hasEscapes) joinQuotes(record);
    if (size > 1 || starts[0]! < ends[0]! || buffer[begin] === QUOTE) this.#hand();
    record.line += lines;
    return at;
  }

  #hand(): void {
    const record = this.#record;
    const { columns, size } = record;
    if (!this.#each) {
      record.columns = Array.from({ length: size }, (_, field) => record.text(field));
      record.columns.forEach((column, i) => {
        if (column === '') throw record.problem(`column ${i + 1} has no name`);
        if (record.columns.indexOf(column) < i) throw record.problem(`two columns are named ${column}`);
      });
      this.#each = this.#begin(record);
      return;
    }
    if (size !== columns.length)
      throw record.problem(
        `the line has ${size} ${size === 1 ? 'field' : 'fields'}, but there are ${columns.length} columns`,
      );
    this.#each(record);
  }
}

/** The hash that a record has of a field with these bytes. */
export function hashOf(bytes: Uint8Array): number {
  let hash = BASIS;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, PRIME);
  return hash;
}

/** How lines end, by the first one outside quotes; 0 when that cannot be seen yet. */
function lineEndOf(buffer: Buffer, from: number, to: number, isLast: boolean): number {
  let quoted = false;
  for (let i = from; i < to; i++) {
    const byte = buffer[i]!;
    if (byte === QUOTE) quoted = !quoted;
    else if (!quoted && byte === LF) return LF;
    else if (!quoted && byte === CR) {
      if (i + 1 < to) return buffer[i + 1] === LF ? LF : CR;
      return isLast ? CR : 0;
    }
  }
  return isLast ? LF : 0;
}

/** Makes one quote of two in quoted fields. Only once the record is complete, since it is scanned again otherwise. */
function joinQuotes({ buffer, size, starts, ends }: CsvRecord): void {
  for (let field = 0; field < size; field++) {
    const start = starts[field]!;
    const end = ends[field]!;
    // A quote within a field is one of two, so no other field is changed.
    let to = start;
    for (let i = start; i < end; i++) {
      const byte = buffer[i]!;
      buffer[to++] = byte;
      if (byte === QUOTE) i++;
    }
    ends[field] = to;
  }
}

function grow(record: CsvRecord): void {
  const bigger = (column: Int32Array) => {
    const copy = new Int32Array(column.length * 2);
    copy.set(column);
    return copy;
  };
  record.starts = bigger(record.starts);
  record.ends = bigger(record.ends);
  record.hashes = bigger(record.hashes);
  record.bits = bigger(record.bits);
}
