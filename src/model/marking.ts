import { oneLine } from '../text/plain-text.ts';

/**
 * Marking text as read at the bench, with doubt kept character by character:
 *
 *     A?1       an unread character between A and 1
 *     A[8B]1    either 8 or B, the likelier first
 *     \?  \[    a real question mark or bracket; inside brackets \] and \\ likewise
 *
 * Lines of the marking are separated by line breaks.
 */
export interface MarkingCharacter {
  /** Characters it may be, likeliest first; empty when it could not be read at all. */
  readonly options: readonly string[];
}

/** One array a line of the marking. */
export type MarkingText = readonly (readonly MarkingCharacter[])[];

export class MarkingError extends Error {
  override readonly name = 'MarkingError';
}

/** Characters of a line that a message repeats. */
const QUOTED = 60;

/**
 * Reads a written marking.
 * @throws MarkingError for a bracket left open, an empty one, or a lone backslash at the end.
 */
export function parseMarking(written: string): MarkingText {
  return written.normalize('NFC').split(/\r?\n/u).map(parseLine);
}

function parseLine(line: string): MarkingCharacter[] {
  const characters = [...line];
  const read: MarkingCharacter[] = [];
  for (let i = 0; i < characters.length; i++) {
    const character = characters[i];
    if (character === '?') read.push({ options: [] });
    else if (character === '\\') {
      if (i + 1 === characters.length)
        throw new MarkingError(
          `"${oneLine(line, QUOTED)}" ends in a lone backslash; write "\\\\" for a real one`,
        );
      read.push({ options: [characters[++i]] });
    } else if (character === '[') {
      const options = new Set<string>();
      for (i++; i < characters.length && characters[i] !== ']'; i++) {
        if (characters[i] === '\\' && i + 1 < characters.length) i++;
        options.add(characters[i]);
      }
      if (i >= characters.length)
        throw new MarkingError(
          `"${oneLine(line, QUOTED)}" has "[" without "]"; close it behind the characters that it may be, such as "[02]", or write "\\[" for a real bracket`,
        );
      if (options.size === 0)
        throw new MarkingError(
          `"${oneLine(line, QUOTED)}" has empty brackets; write "?" for an unread character`,
        );
      read.push({ options: [...options] });
    } else read.push({ options: [character] });
  }
  return read;
}

/** The written form that {@link parseMarking} reads back. */
export function formatMarking(marking: MarkingText): string {
  return marking.map((line) => line.map(formatCharacter).join('')).join('\n');
}

function formatCharacter({ options }: MarkingCharacter): string {
  if (options.length === 0) return '?';
  if (options.length > 1) {
    return `[${options.map((one) => (one === ']' || one === '\\' ? `\\${one}` : one)).join('')}]`;
  }
  return '?[\\'.includes(options[0]) ? `\\${options[0]}` : options[0];
}

/** True when every character was read without doubt. */
export function isCertain(marking: MarkingText): boolean {
  return marking.every((line) => line.every(({ options }) => options.length === 1));
}
