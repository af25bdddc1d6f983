import type { Problem } from '../model/problems.ts';
import { fixed } from '../text/rounding.ts';

/** Largest file that is read, in bytes. */
export const MAX_FILE_BYTES = 20 * 1024 * 1024;

/** The text of a file in UTF-8, or the problem that keeps it from being one. */
export function decodeText(
  bytes: Uint8Array,
  file: string,
): { readonly text: string } | { readonly problem: Problem } {
  if (bytes.byteLength > MAX_FILE_BYTES) return { problem: tooLarge(file, bytes.byteLength) };
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) {
    return { problem: { file, what: 'is in UTF-16', fix: 'save it as UTF-8' } };
  }
  // Text in UTF-16 without a byte-order mark passes for UTF-8 with a NUL beside every letter.
  const nul = bytes.indexOf(0);
  if (nul !== -1) {
    const what = 'holds a NUL character, as no text in UTF-8 does';
    return { problem: { file, line: lineOf(bytes, nul), what, fix: 'save it as UTF-8' } };
  }
  try {
    // `fatal` refuses invalid UTF-8; a byte-order mark is dropped.
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    const at = firstBadByte(bytes);
    return {
      problem: {
        file,
        line: lineOf(bytes, at),
        what: 'holds bytes that are not UTF-8',
        fix: 'save it as UTF-8',
      },
    };
  }
}

export function tooLarge(file: string, size: number): Problem {
  const mib = (bytes: number) => `${fixed(bytes / 1024 / 1024, 1)} MiB`;
  return {
    file,
    what: `is ${mib(size)} large; at most ${mib(MAX_FILE_BYTES)} are read`,
    fix: 'split it into several files; photos belong beside the dossier, not in it',
  };
}

/** Place of the first byte that is not valid UTF-8 there, by bisection. */
function firstBadByte(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.byteLength;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    try {
      // `stream` allows a character cut off at the end.
      new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(0, middle), { stream: true });
      good = middle;
    } catch {
      bad = middle;
    }
  }
  return good;
}

function lineOf(bytes: Uint8Array, at: number): number {
  let line = 1;
  for (let i = 0; i < at; i++) if (bytes[i] === 0x0a) line++;
  return line;
}
