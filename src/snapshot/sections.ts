/** Sections of a snapshot while it is written. */
export interface Writing {
  /** Plain data, as JSON holds it. */
  json(name: string, value: unknown): void;
  /** A list of plain data, in turns with other work. */
  list(name: string, items: Iterable<unknown>): Promise<void>;
  /** Bytes as they lie in memory, or several pieces of them. */
  bytes(name: string, content: ArrayBufferView | readonly Uint8Array[]): void;
  /** Gives others their turn when it is time. */
  rest(): Promise<void>;
}

/**
 * Sections of a snapshot while it is read.
 * @throws Unusable for a section that is missing or damaged
 */
export interface Reading {
  json(name: string): unknown;
  bytes(name: string): Uint8Array;
  words(name: string): Uint32Array;
  /** In memory that threads share, growable. */
  shared(name: string): SharedArrayBuffer;
}

/** Whether a section is read as memory of several threads: columns of the pattern engine's graph are. */
export function isShared(name: string): boolean {
  return name.includes('.patterns.graph.');
}

/** The same with a prefix before every name. */
export function writingUnder(prefix: string, writing: Writing): Writing {
  return {
    json: (name, value) => writing.json(`${prefix}.${name}`, value),
    list: (name, items) => writing.list(`${prefix}.${name}`, items),
    bytes: (name, content) => writing.bytes(`${prefix}.${name}`, content),
    rest: () => writing.rest(),
  };
}

/** The same with a prefix before every name. */
export function readingUnder(prefix: string, reading: Reading): Reading {
  return {
    json: (name) => reading.json(`${prefix}.${name}`),
    bytes: (name) => reading.bytes(`${prefix}.${name}`),
    words: (name) => reading.words(`${prefix}.${name}`),
    shared: (name) => reading.shared(`${prefix}.${name}`),
  };
}

/** Why a snapshot cannot be used; the archive is folded from its journal then. */
export class Unusable extends Error {
  override readonly name = 'Unusable';
}
