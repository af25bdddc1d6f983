// Characters that are not seen but steer whoever shows them. Control characters move the cursor of a terminal and begin its
// escape sequences (ECMA-48, sections 5 and 8). Explicit bidirectional formatting (Unicode Standard Annex 9, section 2) shows
// characters in another order than they stand in, so that a name or a pattern is read as something it is not (Unicode
// Technical Standard 39; "Trojan Source", CVE-2021-42574). Implicit marks (U+200E, U+200F, U+061C) only help ordinary text
// of right-to-left scripts and are left alone.

/**
 * Control characters but tab, line feed and the carriage return before one; embeddings and overrides (U+202A to U+202E) and
 * isolates (U+2066 to U+2069).
 */
const STEERING = String.raw`(?!\r\n)[\u0000-\u0008\u000B-\u001F\u007F-\u009F\u202A-\u202E\u2066-\u2069]`;
const FIRST = new RegExp(STEERING, 'u');
const ALL = new RegExp(STEERING, 'gu');

/** The first character that steers, as people write it: `U+202E`; undefined where there is none. */
export function steeringCharacter(text: string): string | undefined {
  const found = FIRST.exec(text)?.[0];
  return found && `U+${hex(found).toUpperCase()}`;
}

/**
 * The text with every steering character written out, `\u001b`, so that it is seen and does nothing. JSON and quoted YAML
 * write characters the same way, so their content stays what it was.
 */
export function plainText(text: string): string {
  return text.replaceAll(ALL, (character) => `\\u${hex(character)}`);
}

const hex = (character: string) => character.charCodeAt(0).toString(16).padStart(4, '0');

/** A text on one line of at most so many characters, with `…` where it was cut. */
export function oneLine(text: string, most: number): string {
  // What is cut off need not be looked at.
  const line = text
    .slice(0, most * 2)
    .trim()
    .replaceAll(/\s+/gu, ' ');
  return line.length > most || text.length > most * 2 ? `${line.slice(0, most - 1)}…` : line;
}
