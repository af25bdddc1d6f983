import { MAX_FILE_BYTES, tooLarge } from '../dossier/decode.ts';
import type { Problem } from '../model/problems.ts';
import type { Findings } from './board-design.ts';

/** Bytes looked at to tell UTF-16 without a byte-order mark. */
const SAMPLE = 4096;

/**
 * The text of a trade file: UTF-8, UTF-16 with or without a byte-order mark, or else Windows-1252 with a caution, since
 * many design tools write µ, Ω and ± so.
 * @returns undefined with a problem for what is no text or beyond the size that is read
 */
export function decodeTradeText(bytes: Uint8Array, file: string, findings: Findings): string | undefined {
  if (bytes.byteLength > MAX_FILE_BYTES) {
    const { what, fix }: Problem = tooLarge(file, bytes.byteLength);
    findings.problem(undefined, what, fix ?? '');
    return undefined;
  }
  const utf16 = utf16Of(bytes);
  if (utf16) return textOf(bytes, utf16, findings);
  const nul = bytes.indexOf(0);
  if (nul !== -1) {
    findings.problem(lineOf(bytes, nul), 'holds a NUL character, as no text does', 'export it again as text');
    return undefined;
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const line = firstBadLine(bytes);
    findings.caution(
      line,
      'holds bytes that are not UTF-8; it is read as Windows-1252',
      'look at letters such as µ and Ω there; save it as UTF-8 if they are wrong',
    );
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

function textOf(bytes: Uint8Array, encoding: string, findings: Findings): string | undefined {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    findings.problem(
      undefined,
      `is not valid ${encoding.toUpperCase()}; it may be cut off`,
      'save it as UTF-8',
    );
    return undefined;
  }
}

/** Encoding of a UTF-16 text, by its mark or because nearly every other byte of its beginning is 0. */
function utf16Of(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  if (first === 0xfe && second === 0xff) return 'utf-16be';
  const length = Math.min(bytes.byteLength, SAMPLE) & ~1;
  if (length < 8) return undefined;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i += 2) {
    if (bytes[i] === 0) even++;
    if (bytes[i + 1] === 0) odd++;
  }
  const half = length / 2;
  if (odd > 0.7 * half && even < 0.1 * half) return 'utf-16le';
  if (even > 0.7 * half && odd < 0.1 * half) return 'utf-16be';
  return undefined;
}

function firstBadLine(bytes: Uint8Array): number {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let line = 1;
  let start = 0;
  while (start < bytes.byteLength) {
    const end = bytes.indexOf(0x0a, start);
    const stop = end === -1 ? bytes.byteLength : end + 1;
    try {
      decoder.decode(bytes.subarray(start, stop));
    } catch {
      return line;
    }
    start = stop;
    line++;
  }
  return line;
}

function lineOf(bytes: Uint8Array, at: number): number {
  let line = 1;
  for (let i = 0; i < at; i++) if (bytes[i] === 0x0a) line++;
  return line;
}
