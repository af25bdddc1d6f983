import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { CasebackError } from '../../model/problems.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import { UsageError } from './exit.ts';
import type { Terminal } from './terminal.ts';

/**
 * Text of a file; `-` is standard input.
 * @throws CasebackError BAD_FILE that names the file and why
 */
export function readText(file: string, terminal: Terminal): string {
  try {
    return file === '-' ? terminal.input() : readFileSync(file, 'utf8');
  } catch (error) {
    throw fileRefusal(file === '-' ? 'standard input' : file, 'read', error);
  }
}

/**
 * Writes a file piece by piece as these are made, making its folder where it is missing.
 * @throws CasebackError BAD_FILE that names the file and why; what making them throws
 */
export async function writePieces(file: string, pieces: AsyncIterable<string | Uint8Array>): Promise<void> {
  let at: number | undefined;
  const attempt = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw fileRefusal(file, 'written', error);
    }
  };
  try {
    attempt(() => mkdirSync(dirname(file), { recursive: true }));
    const opened = attempt(() => openSync(file, 'w'));
    at = opened;
    // A write may take less than all of it.
    for await (const piece of pieces) if (piece.length > 0) attempt(() => writeFileSync(opened, piece));
  } finally {
    if (at !== undefined) closeSync(at);
  }
}

/**
 * Writes a file, making its folder where it is missing.
 * @throws CasebackError BAD_FILE that names the file and why
 */
export function writeText(file: string, text: string | Uint8Array): void {
  try {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  } catch (error) {
    throw fileRefusal(file, 'written', error);
  }
}

/** A failure of the file system as a CasebackError BAD_FILE that names the file and why; anything else as it is. */
export function fileRefusal(file: string, participle: 'read' | 'written', error: unknown): unknown {
  const trouble = systemTrouble(error);
  if (!trouble) return error;
  const { path, what } = trouble;
  const subject = path === undefined || path === file ? 'it' : path;
  return new CasebackError('BAD_FILE', `${file} cannot be ${participle}: ${subject} ${what}`);
}

/** @throws UsageError for a folder that has something in it */
export function refuseFilled(out: string): void {
  let isFilled = false;
  try {
    isFilled = existsSync(out) && readdirSync(out).length > 0;
  } catch {
    // A file of that name, which writing will refuse with its reason.
  }
  if (isFilled) throw new UsageError(`${out} is not empty; name a new or empty folder with --out`);
}
