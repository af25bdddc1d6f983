import { ALPHABET, placeOf } from './confusion.ts';

/** Symbol of a true text for any letter or digit. */
export const FREE = ALPHABET.length;
/** Symbol of a true text for any digit. */
export const DIGIT = ALPHABET.length + 1;
/** Symbol of a true text for any letter. */
export const LETTER = ALPHABET.length + 2;
/** Symbol of a true text where a line ends and another follows. */
export const BREAK = ALPHABET.length + 3;
/** Number of symbols: the characters of ALPHABET by their place, then FREE, DIGIT, LETTER and BREAK. */
export const SYMBOLS = ALPHABET.length + 4;

/** Kinds of symbols, for bounds: what the best of them would add. They are numbered after the symbols themselves. */
const BEST_LETTER = SYMBOLS;
const BEST_DIGIT = SYMBOLS + 1;
const BEST_OTHER = SYMBOLS + 2;
/** Number of symbols and kinds. */
export const KINDS = SYMBOLS + 3;

/** The kind of each symbol; fields and kinds are kinds themselves. */
export const kindOf = Uint8Array.from({ length: KINDS }, (_, symbol) => {
  if (symbol >= ALPHABET.length) return symbol;
  if (/\d/u.test(ALPHABET[symbol])) return BEST_DIGIT;
  return /[A-Zl]/u.test(ALPHABET[symbol]) ? BEST_LETTER : BEST_OTHER;
});

/**
 * A known marking of a part: characters that are always the same, and fields that vary from unit to unit.
 *
 *     QWR4T10{lot:3}      three free letters or digits
 *     QWR4T10{date:YWW}   a date code: digits
 *     QWR4T*              anything may follow
 */
export interface Template {
  /** Characters, fields and, between lines, breaks. */
  readonly symbols: readonly number[];
  /** Numbers of symbols after which a line ends, the last line left out: a reader may stop there. */
  readonly lineEnds: readonly number[];
  /** Whether further characters may follow. */
  readonly open: boolean;
}

export class TemplateError extends Error {
  override readonly name = 'TemplateError';
}

/**
 * Reads a marking template. Blanks part fields to the eye and are passed over.
 * @throws TemplateError that names the field it does not know
 */
export function parseTemplate(written: string): Template {
  const symbols: number[] = [];
  const lineEnds: number[] = [];
  let open = false;
  for (const [token] of written.matchAll(/\{[^}]*\}|./gsu)) {
    if (token === '\n' && symbols.length > 0 && symbols.at(-1) !== BREAK) {
      lineEnds.push(symbols.length);
      symbols.push(BREAK);
    }
    if (/^\s$/u.test(token)) continue;
    if (token === '*') open = true;
    else if (token.startsWith('{')) symbols.push(...field(token));
    else if (placeOf(token) >= 0) symbols.push(placeOf(token));
  }
  if (symbols.at(-1) === BREAK) {
    symbols.pop();
    lineEnds.pop();
  }
  return { symbols, lineEnds, open };
}

function field(token: string): number[] {
  const free = /^\{(?:lot|code):(\d{1,2})\}$/u.exec(token);
  if (free) return Array.from({ length: Number(free[1]) }, () => FREE);
  const date = /^\{date:(Y{1,4}(?:WW|MM|M)?(?:DD)?)\}$/u.exec(token);
  if (date) return Array.from(date[1], () => DIGIT);
  throw new TemplateError(
    `"${token}" is not a valid marking field; write {lot:3}, {code:2}, {date:YWW}, {date:YYWW}, or * for anything`,
  );
}
