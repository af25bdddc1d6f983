import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { CasebackError } from '../../model/problems.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import type { Terminal } from './terminal.ts';

/**
 * Text of a file; `-` is standard input.
 * @throws CasebackError BAD_FILE that names the file and why
 */
export function readText(file: string, terminal: Terminal): string {
  try {
    return file === '-' ? terminal.input() : readFileSync(file, 'utf8');
  } catch (error) {
    throw refused(file === '-' ? 'standard input' : file, 'read', error);
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
    throw refused(file, 'written', error);
  }
}

function refused(file: string, participle: 'read' | 'written', error: unknown): unknown {
  const trouble = systemTrouble(error);
  if (!trouble) return error;
  const { path, what } = trouble;
  const subject = path === undefined || path === file ? 'it' : path;
  return new CasebackError('BAD_FILE', `${file} cannot be ${participle}: ${subject} ${what}`);
}
