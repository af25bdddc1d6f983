import { MAX_FILE_BYTES, tooLarge } from '../dossier/decode.ts';
import type { Problem } from '../model/problems.ts';
import { type Findings, quoted } from './board-design.ts';

// The text of a trade file. Which encoding it has is told by its bytes alone: nothing else says it.

/** Bytes looked at to tell UTF-16 without a byte-order mark. */
const SAMPLE = 4096;

/** A text, and the encoding that it was taken to have with the reason. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: string;
}

/**
 * The text of a trade file: UTF-8, UTF-16 with or without a byte-order mark, or else Windows-1252 with a caution, since
 * many design tools write µ, Ω and ± so. Bytes that fit none are problems with line and column, and the text has U+FFFD there.
 * @returns undefined, with a problem, for what is no text or beyond the size that is read
 */
export function decodeTradeText(
  bytes: Uint8Array,
  file: string,
  findings: Findings,
): DecodedText | undefined {
  if (bytes.byteLength > MAX_FILE_BYTES) {
    const { what, fix }: Problem = tooLarge(file, bytes.byteLength);
    findings.problem(undefined, what, fix ?? '');
    return undefined;
  }
  const utf16 = utf16Of(bytes);
  if (utf16) return inUtf16(bytes, utf16, findings);
  const nul = bytes.indexOf(0);
  if (nul !== -1) {
    findings.problem(lineOf(bytes, nul), 'holds a NUL character, as no text does', 'export it again as text');
    return undefined;
  }
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    const isAscii = text.length === bytes.byteLength;
    return {
      text,
      encoding: hasMark
        ? 'UTF-8, by its byte-order mark'
        : isAscii
          ? 'ASCII, which most encodings have alike'
          : 'UTF-8, which all of its bytes fit',
    };
  } catch {
    return notUtf8(bytes, hasMark, findings);
  }
}

/** UTF-8 with broken bytes, or Windows-1252, or neither. */
function notUtf8(bytes: Uint8Array, hasMark: boolean, findings: Findings): DecodedText {
  const { broken, first, whole } = utf8Sequences(bytes);
  if (hasMark || whole > broken) {
    const { line, column } = placeIn(bytes.subarray(0, first), 'utf-8');
    findings.problem(
      line,
      `is in UTF-8 ${hasMark ? 'by its byte-order mark' : `by ${whole} of its letters`}, and has ${broken === 1 ? 'a byte' : `${broken} bytes`} that are not; the first is ${hex(bytes[first])} in column ${column}`,
      'type the letter there again and save it as UTF-8',
    );
    return { text: new TextDecoder('utf-8').decode(bytes), encoding: 'UTF-8, with broken bytes' };
  }
  const text = new TextDecoder('windows-1252').decode(bytes);
  const undefinedAt = bytes.findIndex(isUndefined1252);
  if (undefinedAt >= 0) {
    const { line, column } = placeIn(bytes.subarray(0, undefinedAt), 'windows-1252');
    findings.problem(
      line,
      `is in an encoding that is not read here: neither UTF-8 nor Windows-1252 has the byte ${hex(bytes[undefinedAt])} that stands in column ${column}`,
      'open it in the program that wrote it and save it as UTF-8',
    );
    return { text, encoding: 'unknown' };
  }
  const { line, column } = placeIn(bytes.subarray(0, first), 'windows-1252');
  findings.caution(
    line,
    `holds bytes that are not UTF-8, the first in column ${column} (${quoted(
      (
        text
          .slice(0, first)
          .split(/[\r\n]/u)
          .at(-1) ?? ''
      ).slice(-8) + text.slice(first, first + 4),
    )}); it is read as Windows-1252`,
    'look at letters such as µ and Ω there; save it as UTF-8 if they are wrong',
  );
  return { text, encoding: 'Windows-1252, since it is not UTF-8' };
}

/** Bytes without a character in Windows-1252 (Microsoft, "Code page 1252", bestfit1252.txt: 81, 8D, 8F, 90, 9D). */
function isUndefined1252(byte: number): boolean {
  return (
    byte === 0x81 ||
    byte === 0x8d ||
    byte === 0x8f ||
    byte === 0x90 ||
    byte === 0x9d ||
    (byte < 0x20 && isControl(byte))
  );
}

/** Control characters that no list has: all but tab, line feed, form feed, carriage return, and the end-of-file of old systems. */
function isControl(byte: number): boolean {
  return byte !== 0x09 && byte !== 0x0a && byte !== 0x0b && byte !== 0x0c && byte !== 0x0d && byte !== 0x1a;
}

/** Letters of several bytes that are whole, bytes that are not UTF-8, and where the first of these is (RFC 3629, section 4). */
function utf8Sequences(bytes: Uint8Array): {
  readonly whole: number;
  readonly broken: number;
  readonly first: number;
} {
  let [whole, broken, first] = [0, 0, bytes.byteLength];
  for (let at = 0; at < bytes.byteLength; ) {
    const length = sequenceAt(bytes, at);
    if (length === 0) {
      broken++;
      first = Math.min(first, at);
      at++;
    } else {
      if (length > 1) whole++;
      at += length;
    }
  }
  return { whole, broken, first };
}

/** Bytes of the character there; 0 for a byte that begins none. */
function sequenceAt(bytes: Uint8Array, at: number): number {
  const lead = bytes[at] as number;
  if (lead < 0x80) return 1;
  const length =
    lead >= 0xc2 && lead <= 0xdf
      ? 2
      : lead >= 0xe0 && lead <= 0xef
        ? 3
        : lead >= 0xf0 && lead <= 0xf4
          ? 4
          : 0;
  if (length === 0 || at + length > bytes.byteLength) return 0;
  const second = bytes[at + 1] as number;
  const least = lead === 0xe0 ? 0xa0 : lead === 0xf0 ? 0x90 : 0x80;
  const most = lead === 0xed ? 0x9f : lead === 0xf4 ? 0x8f : 0xbf;
  if (second < least || second > most) return 0;
  for (let more = 2; more < length; more++) if (((bytes[at + more] as number) & 0xc0) !== 0x80) return 0;
  return length;
}

function inUtf16(bytes: Uint8Array, { of, why }: Utf16, findings: Findings): DecodedText {
  const encoding = `${of.toUpperCase()}, ${why}`;
  try {
    return { text: new TextDecoder(of, { fatal: true }).decode(bytes), encoding };
  } catch {
    const text = new TextDecoder(of).decode(bytes);
    const at = text.indexOf('\ufffd');
    const before = text.slice(0, Math.max(0, at)).split(/\r\n?|\n/u);
    findings.problem(
      before.length,
      `is in ${encoding}, and ${bytes.byteLength % 2 === 1 ? 'ends in half a character' : 'has half a character'} in column ${(before.at(-1)?.length ?? 0) + 1}`,
      'it may be cut off; save it again as UTF-8',
    );
    return { text, encoding };
  }
}

interface Utf16 {
  readonly of: 'utf-16le' | 'utf-16be';
  readonly why: string;
}

/** Encoding of a UTF-16 text, by its mark or because nearly every other byte of its beginning is 0. */
function utf16Of(bytes: Uint8Array): Utf16 | undefined {
  const [first, second] = bytes;
  const byMark = 'by its byte-order mark';
  if (first === 0xff && second === 0xfe) return { of: 'utf-16le', why: byMark };
  if (first === 0xfe && second === 0xff) return { of: 'utf-16be', why: byMark };
  const length = Math.min(bytes.byteLength, SAMPLE) & ~1;
  if (length < 8) return undefined;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i += 2) {
    if (bytes[i] === 0) even++;
    if (bytes[i + 1] === 0) odd++;
  }
  const half = length / 2;
  const why = 'since every other byte is 0';
  if (odd > 0.7 * half && even < 0.1 * half) return { of: 'utf-16le', why };
  if (even > 0.7 * half && odd < 0.1 * half) return { of: 'utf-16be', why };
  return undefined;
}

/** Line and column, from 1, just behind a text. */
function placeIn(before: Uint8Array, encoding: string): { readonly line: number; readonly column: number } {
  const lines = new TextDecoder(encoding).decode(before).split(/\r\n?|\n/u);
  return { line: lines.length, column: (lines.at(-1)?.length ?? 0) + 1 };
}

function hex(byte: number | undefined): string {
  return `0x${(byte ?? 0).toString(16).toUpperCase().padStart(2, '0')}`;
}

function lineOf(bytes: Uint8Array, at: number): number {
  let line = 1;
  for (let i = 0; i < at; i++) if (bytes[i] === 0x0a) line++;
  return line;
}
