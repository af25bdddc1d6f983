/** Values of literals (ISO/IEC 39075:2024, 21.2 <literal>). */

/** The value of a literal's text, or what is wrong with it. */
export type Reading<T> = { readonly value: T } | { readonly wrong: string };

const ESCAPES: Readonly<Record<string, string>> = {
  '\\': '\\',
  "'": "'",
  '"': '"',
  '`': '`',
  t: '\t',
  b: '\b',
  n: '\n',
  r: '\r',
  f: '\f',
};

/**
 * The text between the quotes of a character string or delimited identifier, quotes included in the argument.
 * `\uXXXX` and `\UXXXXXX` name a code point; a doubled quote is a quote; `@` before the quote turns escapes off.
 */
export function readQuoted(image: string): Reading<string> {
  const plain = image.startsWith('@');
  const quote = image[plain ? 1 : 0]!;
  const body = image.slice(plain ? 2 : 1, -1);
  if (plain) return { value: body.replaceAll(quote + quote, quote) };
  let wrong: string | undefined;
  const value = body.replace(
    SPECIAL[quote]!,
    (piece, four: string | undefined, six: string | undefined, letter: string | undefined) => {
      const hex = four ?? six;
      if (hex !== undefined) {
        const point = Number.parseInt(hex, 16);
        if (point <= 0x10_ffff && (point < 0xd800 || point > 0xdfff)) return String.fromCodePoint(point);
        wrong ??= `"${piece}" names no Unicode character`;
        return '';
      }
      if (letter === undefined) return quote;
      const character = ESCAPES[letter];
      if (character === undefined) wrong ??= `"${piece}" is not an escape; write "\\\\" for a backslash`;
      return character ?? '';
    },
  );
  return wrong === undefined ? { value } : { wrong };
}

/** By quote: an escape, or the quote doubled. */
const SPECIAL: Readonly<Record<string, RegExp>> = {
  "'": /\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{6})|([\s\S]))|''/g,
  '"': /\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{6})|([\s\S]))|""/g,
  '`': /\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{6})|([\s\S]))|``/g,
};

const DECIMAL = /^(?:\d(?:_?\d)*(?:\.(?:\d(?:_?\d)*)?)?|\.\d(?:_?\d)*)(?:[eE][+-]?\d(?:_?\d)*)?[mMfFdD]?$/;
const RADIX = /^0(?:[xX](?:_?[0-9a-fA-F])+|[oO](?:_?[0-7])+|[bB](?:_?[01])+)$/;

/**
 * The value of an unsigned numeric literal. Exact and approximate numbers are both kept as 64-bit floating point
 * (IEEE 754), so integers beyond 2^53 are refused rather than rounded.
 */
export function readNumber(image: string): Reading<number> {
  const digits = image.replaceAll('_', '');
  if (RADIX.test(image)) return whole(Number(digits.toLowerCase()), image);
  if (!DECIMAL.test(image)) {
    return { wrong: `"${short(image)}" is not a number; leave a space between a number and what follows it` };
  }
  const value = Number.parseFloat(digits);
  if (!Number.isFinite(value))
    return { wrong: `${short(image)} is too large for a 64-bit floating point number` };
  return /^\d+$/.test(digits) ? whole(value, image) : { value };
}

function whole(value: number, image: string): Reading<number> {
  if (Number.isSafeInteger(value)) return { value };
  return {
    wrong: `${short(image)} is too large to be kept exactly; integers end at ${Number.MAX_SAFE_INTEGER}`,
  };
}

function short(image: string): string {
  return image.length > 30 ? `${image.slice(0, 30)}…` : image;
}
