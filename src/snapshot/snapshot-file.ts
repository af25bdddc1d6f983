import { createHash, hash } from 'node:crypto';
import { closeSync, existsSync, fstatSync, openSync, readSync } from 'node:fs';
import { type FileHandle, open, rename, rm } from 'node:fs/promises';
import { MessageChannel, type MessagePort, receiveMessageOnPort } from 'node:worker_threads';
import { startThread } from '../threads/thread.ts';
import { partOf } from './leftovers.ts';
import { PIECE, type ReadAhead, readSection, type SectionRead } from './read-section.ts';
import { isShared, type Reading, Unusable, type Writing } from './sections.ts';

// A snapshot file, front to back: a mark, the sections one behind the other, a header of JSON, the SHA-256 of the header, its length (8
// bytes, little-endian), and the mark again. The header names every section with its length and SHA-256, so that each byte of the file is
// covered, and a section can be read and checked by itself.

const MARK = Buffer.from('caseback snapshot\n');
const DIGEST = 32;
const TAIL = DIGEST + 8 + MARK.length;
/** Version of this layout and of the names and forms of the sections. */
export const FORMAT = 1;

/** How long a thread that reads may be silent, ms, before what it reads is read without it. */
const PATIENCE = 10_000;
/** Characters that are made into bytes at once. */
const TEXT_PIECE = 2 ** 16;

/** What a snapshot was made of. */
export interface MadeOf {
  /** Digest of everything that decides what is derived: program, taxonomy and other tables. */
  readonly model: string;
  /** Identity of the archive. */
  readonly archive: string;
  /** The last entry in it. */
  readonly sequence: number;
  readonly hash: string;
  /** ISO 8601 in UTC. */
  readonly madeOn: string;
}

export interface SnapshotHeader extends MadeOf {
  readonly format: number;
  readonly sections: readonly SectionPlace[];
}

export type SectionPlace = readonly [name: string, length: number, sha256: string];

/** Sections as they are collected, to be written by {@link writeSnapshot}. */
export class Sections implements Writing {
  readonly all: { readonly name: string; readonly pieces: readonly Uint8Array[] }[] = [];
  readonly rest: () => Promise<void>;

  constructor(rest: () => Promise<void>) {
    this.rest = rest;
  }

  json(name: string, value: unknown): void {
    this.bytes(name, Buffer.from(JSON.stringify(value)));
  }

  async list(name: string, items: Iterable<unknown>): Promise<void> {
    const pieces: Uint8Array[] = [];
    let piece = '[';
    let isFirst = true;
    for (const item of items) {
      piece += `${isFirst ? '' : ','}${JSON.stringify(item)}`;
      isFirst = false;
      if (piece.length < TEXT_PIECE) continue;
      pieces.push(Buffer.from(piece));
      piece = '';
      await this.rest();
    }
    this.bytes(name, [...pieces, Buffer.from(`${piece}]`)]);
  }

  bytes(name: string, content: ArrayBufferView | readonly Uint8Array[]): void {
    const pieces = ArrayBuffer.isView(content)
      ? [new Uint8Array(content.buffer, content.byteOffset, content.byteLength)]
      : content;
    this.all.push({ name, pieces });
  }
}

/**
 * Writes a snapshot in turns with other work. It takes its place, and that of the one before, once it is whole and on disk.
 * @param isStill asked at the end: whether the memory that sections are views of has stayed as it was
 * @returns whether it was written
 */
export async function writeSnapshot(
  file: string,
  madeOf: MadeOf,
  sections: Sections,
  isStill: () => boolean,
): Promise<boolean> {
  const part = partOf(file);
  let handle: FileHandle | undefined;
  try {
    handle = await open(part, 'w', 0o600);
    await handle.write(MARK);
    const places: SectionPlace[] = [];
    for (const { name, pieces } of sections.all) {
      const digest = createHash('sha256');
      let length = 0;
      for (const piece of gathered(pieces)) {
        // A copy, so that what is hashed is what is written.
        const bytes = Buffer.from(piece);
        digest.update(bytes);
        await handle.write(bytes);
        length += bytes.length;
        await sections.rest();
      }
      places.push([name, length, digest.digest('hex')]);
    }
    const header: SnapshotHeader = { format: FORMAT, ...madeOf, sections: places };
    const text = Buffer.from(JSON.stringify(header));
    const size = Buffer.alloc(8);
    size.writeBigUInt64LE(BigInt(text.length));
    await handle.write(Buffer.concat([text, hash('sha256', text, 'buffer'), size, MARK]));
    if (!isStill()) return false;
    await handle.sync();
    await handle.close();
    handle = undefined;
    await rename(part, file);
    return true;
  } catch (error) {
    // A process that does not see this one, as from another container, took the file for one that was left behind.
    if ((error as NodeJS.ErrnoException).code === 'ENOENT' && !existsSync(part)) return false;
    throw error;
  } finally {
    await handle?.close();
    await rm(part, { force: true });
  }
}

/** Pieces of moderate size: large ones cut, small ones put together. */
function* gathered(pieces: readonly Uint8Array[]): Generator<Uint8Array> {
  let small: Uint8Array[] = [];
  let length = 0;
  for (const piece of pieces) {
    if (piece.length < PIECE) {
      small.push(piece);
      length += piece.length;
      if (length < PIECE) continue;
    }
    if (small.length > 0) yield Buffer.concat(small);
    small = [];
    length = 0;
    if (piece.length >= PIECE)
      for (let at = 0; at < piece.length; at += PIECE) yield piece.subarray(at, at + PIECE);
  }
  if (small.length > 0) yield Buffer.concat(small);
}

/** An open snapshot; every section is checked when it is read. */
export class SnapshotFile implements Reading {
  readonly header: SnapshotHeader;
  readonly #fd: number;
  readonly #places = new Map<
    string,
    { readonly at: number; readonly length: number; readonly sha256: string }
  >();
  /** What was read ahead, by name. */
  readonly #ahead = new Map<string, SectionRead['buffer']>();
  /** What a thread is yet to read. */
  readonly #awaited = new Set<string>();
  #thread: { readonly port: MessagePort; readonly count: Int32Array<SharedArrayBuffer> } | undefined;
  #isOpen = true;

  /** @throws Unusable when it is not a whole snapshot; an error of the system when it cannot be read */
  constructor(file: string) {
    this.#fd = openSync(file, 'r');
    try {
      const { size } = fstatSync(this.#fd);
      this.header = headerIn(this.#fd, size);
      let at = MARK.length;
      for (const [name, length, sha256] of this.header.sections) {
        this.#places.set(name, { at, length, sha256 });
        at += length;
      }
    } catch (error) {
      closeSync(this.#fd);
      throw error;
    }
  }

  has(name: string): boolean {
    return this.#places.has(name);
  }

  json(name: string): unknown {
    return JSON.parse(Buffer.from(this.#buffer(name) as ArrayBuffer).toString('utf8'));
  }

  bytes(name: string): Uint8Array {
    return new Uint8Array(this.#buffer(name));
  }

  words(name: string): Uint32Array {
    return new Uint32Array(this.#buffer(name));
  }

  shared(name: string): SharedArrayBuffer {
    const buffer = this.#buffer(name);
    if (!(buffer instanceof SharedArrayBuffer)) throw new Error(`${name} was read as memory of one thread`);
    return buffer;
  }

  /**
   * Reads sections on a thread of its own, in the order given. Whoever asks for one that is not there yet waits for it, and is told
   * then if it is damaged.
   * @returns resolves when all are read; rejects with Unusable when one that nobody has asked for so far is damaged
   */
  readAhead(names: readonly string[]): Promise<void> {
    const sections = names.flatMap((name) => {
      const place = this.#places.get(name);
      return place ? [{ name, ...place, isShared: isShared(name) }] : [];
    });
    for (const { name } of sections) this.#awaited.add(name);
    const { port1: port, port2 } = new MessageChannel();
    const count = new Int32Array(new SharedArrayBuffer(4));
    const task: ReadAhead = { fd: this.#fd, sections, port: port2, count };
    const worker = startThread(new URL('./read-ahead.ts', import.meta.url), task, { transferList: [port2] });
    port.on('message', (read: SectionRead) => this.#take(read));
    this.#thread = { port, count };
    const ended = new Promise<void>((resolve, reject) => {
      // What it could not read is read when it is asked for.
      worker.on('error', () => undefined);
      worker.on('exit', () => {
        while (this.#receive());
        this.#endReading();
        const wrong = [...this.#ahead].find(([, buffer]) => !buffer);
        if (wrong) reject(damaged(wrong[0]));
        else resolve();
      });
    });
    // Whoever awaits it learns of it; somebody who asks for a part may have been told before.
    ended.catch(() => undefined);
    // The thread keeps the process, since somebody may await it who has nothing else under way; what it sends need not.
    port.unref();
    return ended;
  }

  /** Reads a section now. @throws Unusable when it is damaged */
  check(name: string): void {
    this.#ahead.set(name, this.#buffer(name));
  }

  close(): void {
    if (this.#isOpen) closeSync(this.#fd);
    this.#isOpen = false;
    this.#endReading();
    this.#ahead.clear();
  }

  /** Takes up one section that the thread has read, if there is one. */
  #receive(): boolean {
    const received = this.#thread && receiveMessageOnPort(this.#thread.port);
    if (!received) return false;
    this.#take(received.message as SectionRead);
    return true;
  }

  #take({ name, buffer }: SectionRead): void {
    this.#awaited.delete(name);
    if (this.#isOpen) this.#ahead.set(name, buffer);
  }

  /** Holds this thread until a section is there that another one reads, unless that one is silent for too long. */
  #wait(name: string): void {
    while (this.#thread && this.#awaited.has(name)) {
      const { count } = this.#thread;
      const before = Atomics.load(count, 0);
      if (this.#receive()) continue;
      if (Atomics.wait(count, 0, before, PATIENCE) === 'timed-out') this.#endReading();
    }
  }

  #endReading(): void {
    this.#thread?.port.close();
    this.#thread = undefined;
    this.#awaited.clear();
  }

  #buffer(name: string): ArrayBuffer | SharedArrayBuffer {
    const place = this.#places.get(name);
    if (!place || !this.#isOpen) throw new Unusable(`it has no ${name}`);
    this.#wait(name);
    const isAhead = this.#ahead.has(name);
    const buffer = isAhead ? this.#ahead.get(name) : readSection(this.#fd, place, isShared(name));
    // Each is read once; whoever reads it has the memory from now on.
    this.#ahead.delete(name);
    if (!buffer) throw damaged(name);
    return buffer;
  }
}

function damaged(name: string): Unusable {
  return new Unusable(`its part ${name} is damaged`);
}

/** @throws Unusable */
function headerIn(fd: number, size: number): SnapshotHeader {
  const no = new Unusable('it is not a whole snapshot');
  if (size < MARK.length + TAIL) throw no;
  const read = (at: number, length: number) => {
    const bytes = Buffer.alloc(length);
    if (readSync(fd, bytes, 0, length, at) !== length) throw no;
    return bytes;
  };
  const tail = read(size - TAIL, TAIL);
  const length = Number(tail.readBigUInt64LE(DIGEST));
  if (!read(0, MARK.length).equals(MARK) || !tail.subarray(DIGEST + 8).equals(MARK)) throw no;
  if (length > size - TAIL - MARK.length) throw no;
  const text = read(size - TAIL - length, length);
  if (!hash('sha256', text, 'buffer').equals(tail.subarray(0, DIGEST))) throw no;
  const header = JSON.parse(text.toString('utf8')) as SnapshotHeader;
  if (header.format !== FORMAT) throw new Unusable('another version of the program wrote it');
  const content = header.sections.reduce((sum, [, one]) => sum + one, 0);
  if (MARK.length + content + length + TAIL !== size) throw no;
  return header;
}
