import { createHash } from 'node:crypto';
import { readSync } from 'node:fs';
import type { MessagePort } from 'node:worker_threads';

/** Address space reserved for memory that may grow; it is only taken when it is written. */
const RESERVED = 2 ** 32 - 2 ** 16;
/** Bytes hashed and written at once, a few milliseconds of work. */
export const PIECE = 4 * 1024 * 1024;

/** What the thread that reads ahead is told. */
export interface ReadAhead {
  readonly fd: number;
  readonly sections: readonly {
    readonly name: string;
    readonly at: number;
    readonly length: number;
    readonly sha256: string;
    readonly isShared: boolean;
  }[];
  /** Where each goes once it is read. */
  readonly port: MessagePort;
  /** Goes up by one with each section, so that somebody can wait for it. */
  readonly count: Int32Array<SharedArrayBuffer>;
}

/** A section that was read; without content where it is not what the header says. */
export interface SectionRead {
  readonly name: string;
  readonly buffer: ArrayBuffer | SharedArrayBuffer | undefined;
}

/** Reads a section; undefined where it is not what the header says. */
export function readSection(
  fd: number,
  { at, length, sha256 }: { readonly at: number; readonly length: number; readonly sha256: string },
  isShared: boolean,
): ArrayBuffer | SharedArrayBuffer | undefined {
  const buffer = isShared
    ? new SharedArrayBuffer(length, { maxByteLength: RESERVED })
    : new ArrayBuffer(length);
  const bytes = new Uint8Array(buffer, 0, length);
  const digest = createHash('sha256');
  for (let done = 0; done < length; ) {
    const read = readSync(fd, bytes, done, Math.min(PIECE, length - done), at + done);
    if (read === 0) return undefined;
    digest.update(bytes.subarray(done, done + read));
    done += read;
  }
  return digest.digest('hex') === sha256 ? buffer : undefined;
}
