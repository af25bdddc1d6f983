/**
 * What a field of a CSV file stands for, kept by its bytes: columns hold few different values, or the same one in lines
 * that follow each other. A field seen lately costs a comparison; for another one the string and its value are made, and
 * take the place of one seen before.
 */
import type { CsvRecord } from './scan-csv.ts';

export class Cells<T> {
  readonly #texts: (string | undefined)[];
  readonly #values: T[];
  readonly #read: (text: string, record: CsvRecord) => T;

  /**
   * @param size places; a power of 2
   * @param read from the text of a field to its value; throws what is wrong with it
   */
  constructor(size: number, read: (text: string, record: CsvRecord) => T) {
    this.#texts = new Array(size).fill(undefined);
    this.#values = new Array(size).fill(undefined);
    this.#read = read;
  }

  of(record: CsvRecord, field: number): T {
    const hash = record.hashes[field]!;
    const place = (hash ^ (hash >>> 15)) & (this.#texts.length - 1);
    const known = this.#texts[place];
    // Other than plain ASCII is compared by characters, not bytes, and never equal.
    if (known !== undefined && record.reads(field, known)) return this.#values[place]!;
    const text = record.text(field);
    const value = this.#read(text, record);
    this.#texts[place] = text;
    this.#values[place] = value;
    return value;
  }
}
