/** Names, texts and numbers as the lexer reads them back. */
import { CONTEXTUAL_WORDS, RESERVED_WORDS, STRUCTURAL_WORDS } from './words.ts';

const REGULAR = /^[\p{ID_Start}\p{Pc}]\p{ID_Continue}*$/u;
const structural: ReadonlySet<string> = new Set(STRUCTURAL_WORDS);
const contextual: ReadonlySet<string> = new Set(CONTEXTUAL_WORDS);

/** A variable or alias; in backticks when GQL could read it as a keyword. */
export function variableText(name: string): string {
  const upper = name.toUpperCase();
  const plain = REGULAR.test(name) && ![RESERVED_WORDS, structural, contextual].some((set) => set.has(upper));
  return plain ? name : quoted(name, '`');
}

/** A label or property. */
export function keyText(name: string): string {
  const upper = name.toUpperCase();
  return REGULAR.test(name) && !RESERVED_WORDS.has(upper) && !structural.has(upper)
    ? name
    : quoted(name, '`');
}

/** A function's name. */
export function functionText(name: string): string {
  return REGULAR.test(name) && !structural.has(name) ? name : quoted(name, '`');
}

export function parameterText(name: string): string {
  return /^\p{ID_Continue}+$/u.test(name) ? `$${name}` : `$${quoted(name, '`')}`;
}

export function stringText(value: string): string {
  return quoted(value, "'");
}

/** Large whole numbers as approximate ones, since exact integers end at 2^53 - 1. */
export function numberText(value: number): string {
  return value > Number.MAX_SAFE_INTEGER ? value.toExponential() : String(value);
}

const ESCAPES: Readonly<Record<string, string>> = { '\n': '\\n', '\r': '\\r', '\t': '\\t', '\\': '\\\\' };

function quoted(text: string, quote: "'" | '`'): string {
  const body = text.replace(/[\n\r\t\\'`]/g, (character) => {
    if (character === "'" || character === '`') return character === quote ? `\\${quote}` : character;
    return ESCAPES[character]!;
  });
  return quote + body + quote;
}
