/**
 * Tokens of the pattern language (ISO/IEC 39075:2024, 21.2 and 21.3). Arrows and brackets of edges are not tokens
 * of their own, as they are in the standard: `<`, `-`, `[` are read one by one and the parser makes sure that they
 * are adjacent. So `a <-1` compares, as its writer meant.
 */
import { createToken, type ILexerConfig, type IToken, Lexer, type TokenType } from 'chevrotain';
import { CONTEXTUAL_WORDS, STRUCTURAL_WORDS } from './words.ts';

type StructuralWord = (typeof STRUCTURAL_WORDS)[number];
type ContextualWord = (typeof CONTEXTUAL_WORDS)[number];

/** What may name a variable or function. */
export const NAME = createToken({ name: 'NAME', label: 'a name', pattern: Lexer.NA });
/** What may name a label or property: any word, since nothing else is allowed there. */
export const KEY = createToken({ name: 'KEY', label: 'a name', pattern: Lexer.NA });
export const STRING = createToken({ name: 'STRING', label: 'a text in quotes', pattern: Lexer.NA });

/** A pattern that the lexer tries at an offset, for expressions that need the `u` flag. */
function at(expression: RegExp) {
  const sticky = new RegExp(expression.source, 'uy');
  return (text: string, offset: number): RegExpExecArray | null => {
    sticky.lastIndex = offset;
    return sticky.exec(text);
  };
}

/**
 * Numbers of the characters that a token with such a pattern begins with, as the lexer wants them for its table: it has a
 * place for each of the first 256 and one for every 255 of the others.
 */
function beginnings(character: RegExp, isBeyond: boolean): number[] {
  const first = Array.from({ length: 256 }, (_, code) => code);
  const others = Array.from({ length: 257 }, (_, place) => Math.min(256 + place * 255, 0xff_ff));
  return [...first.filter((code) => character.test(String.fromCharCode(code))), ...(isBeyond ? others : [])];
}

const WORD = createToken({
  name: 'WORD',
  label: 'a name',
  pattern: at(/[\p{ID_Start}\p{Pc}]\p{ID_Continue}*/u),
  start_chars_hint: beginnings(/[\p{ID_Start}\p{Pc}]/u, true),
  line_breaks: false,
  categories: [NAME, KEY],
});

/** `` `name` ``: always a name. */
export const ACCENT_QUOTED = createToken({
  name: 'ACCENT_QUOTED',
  label: 'a name in backticks',
  pattern: /@`(?:[^`\r\n]|``)*`|`(?:[^`\\\r\n]|``|\\[^\r\n])*`/,
  line_breaks: false,
  categories: [NAME, KEY],
});

/** `"text"`: a text where a value stands, a name where a label, property or alias stands. */
export const DOUBLE_QUOTED = createToken({
  name: 'DOUBLE_QUOTED',
  label: 'a text in quotes',
  pattern: /@"(?:[^"\r\n]|"")*"|"(?:[^"\\\r\n]|""|\\[^\r\n])*"/,
  line_breaks: false,
  categories: [STRING, KEY],
});

const SINGLE_QUOTED = createToken({
  name: 'SINGLE_QUOTED',
  label: 'a text in quotes',
  pattern: /@'(?:[^'\r\n]|'')*'|'(?:[^'\\\r\n]|''|\\[^\r\n])*'/,
  line_breaks: false,
  categories: [STRING],
});

/** A quote that nothing closes on its line; tried after the closed ones. */
export const UNCLOSED_QUOTE = createToken({
  name: 'UNCLOSED_QUOTE',
  pattern: /@?['"`][^\r\n]*/,
  line_breaks: false,
});

/** Digits with whatever is stuck to them, so that `12abc` is one mistake and not two tokens. */
export const NUMBER = createToken({
  name: 'NUMBER',
  label: 'a number',
  pattern: at(
    /(?:\d[\p{ID_Continue}]*(?:\.(?!\.)[\p{ID_Continue}]*)?|\.\d[\p{ID_Continue}]*)(?:(?<=\d[\d_]*(?:\.[\d_]*)?[eE]|\.[\d_]+[eE])[+-][\p{ID_Continue}]*)?/u,
  ),
  start_chars_hint: beginnings(/[\d.]/u, false),
  line_breaks: false,
});

/** `$name`. */
export const PARAMETER = createToken({
  name: 'PARAMETER',
  label: 'a parameter',
  pattern: at(/\$(?:\p{ID_Continue}+|`(?:[^`\\\r\n]|``|\\[^\r\n])*`|"(?:[^"\\\r\n]|""|\\[^\r\n])*")/u),
  start_chars_hint: ['$'],
  line_breaks: false,
});

const SPACE = createToken({
  name: 'SPACE',
  pattern: at(/[\s\uFEFF]+/u),
  start_chars_hint: beginnings(/[\s\uFEFF]/u, true),
  line_breaks: true,
  group: Lexer.SKIPPED,
});
export const COMMENTS = 'comments';
const LINE_COMMENT = createToken({
  name: 'LINE_COMMENT',
  pattern: /(?:--|\/\/)[^\r\n]*/,
  line_breaks: false,
  group: COMMENTS,
});
const BLOCK_COMMENT = createToken({
  name: 'BLOCK_COMMENT',
  pattern: /\/\*(?:[^*]|\*(?!\/))*\*\//,
  line_breaks: true,
  group: COMMENTS,
});
export const UNCLOSED_COMMENT = createToken({
  name: 'UNCLOSED_COMMENT',
  pattern: /\/\*[\s\S]*/,
  line_breaks: true,
});

function symbol(name: string, text: string): TokenType {
  return createToken({ name, label: `"${text}"`, pattern: text, line_breaks: false });
}

/** Longer symbols first. */
export const S = {
  concatenate: symbol('CONCATENATE', '||'),
  notEquals: symbol('NOT_EQUALS', '<>'),
  lessOrEqual: symbol('LESS_OR_EQUAL', '<='),
  greaterOrEqual: symbol('GREATER_OR_EQUAL', '>='),
  less: symbol('LESS', '<'),
  greater: symbol('GREATER', '>'),
  equals: symbol('EQUALS', '='),
  plus: symbol('PLUS', '+'),
  minus: symbol('MINUS', '-'),
  asterisk: symbol('ASTERISK', '*'),
  solidus: symbol('SOLIDUS', '/'),
  percent: symbol('PERCENT', '%'),
  bar: symbol('BAR', '|'),
  ampersand: symbol('AMPERSAND', '&'),
  exclamation: symbol('EXCLAMATION', '!'),
  question: symbol('QUESTION', '?'),
  tilde: symbol('TILDE', '~'),
  leftParenthesis: symbol('LEFT_PARENTHESIS', '('),
  rightParenthesis: symbol('RIGHT_PARENTHESIS', ')'),
  leftBracket: symbol('LEFT_BRACKET', '['),
  rightBracket: symbol('RIGHT_BRACKET', ']'),
  leftBrace: symbol('LEFT_BRACE', '{'),
  rightBrace: symbol('RIGHT_BRACE', '}'),
  comma: symbol('COMMA', ','),
  colon: symbol('COLON', ':'),
  semicolon: symbol('SEMICOLON', ';'),
  period: symbol('PERIOD', '.'),
} as const;

/** Tokens of the words with a meaning, by the word. */
export const W = Object.fromEntries([
  ...STRUCTURAL_WORDS.map((word) => [
    word,
    createToken({ name: word, label: word, pattern: Lexer.NA, categories: [KEY] }),
  ]),
  ...CONTEXTUAL_WORDS.map((word) => [
    word,
    createToken({ name: word, label: word, pattern: Lexer.NA, categories: [NAME, KEY] }),
  ]),
]) as Readonly<Record<StructuralWord | ContextualWord, TokenType>>;

const wordTokens: ReadonlyMap<string, TokenType> = new Map(Object.entries(W));

export const ALL_TOKENS: readonly TokenType[] = [
  SPACE,
  LINE_COMMENT,
  BLOCK_COMMENT,
  UNCLOSED_COMMENT,
  NUMBER,
  PARAMETER,
  SINGLE_QUOTED,
  DOUBLE_QUOTED,
  ACCENT_QUOTED,
  UNCLOSED_QUOTE,
  WORD,
  ...Object.values(S),
  ...Object.values(W),
  NAME,
  KEY,
  STRING,
];

/** How texts are split. That the tokens are right by the toolkit's rules is asked by tests, not at each start. */
export const LEXER_OPTIONS: ILexerConfig = {
  positionTracking: 'onlyOffset',
  ensureOptimizations: true,
  skipValidations: true,
};

const lexer = new Lexer([...ALL_TOKENS], LEXER_OPTIONS);

export interface Lexed {
  readonly tokens: IToken[];
  readonly comments: readonly IToken[];
  /** Runs of characters that begin no token. */
  readonly strays: readonly { readonly offset: number; readonly length: number }[];
}

/** Splits a text into tokens; never throws. */
export function tokenize(text: string): Lexed {
  const { tokens, groups, errors } = lexer.tokenize(text);
  for (const token of tokens) {
    if (token.tokenType !== WORD) continue;
    const word = wordTokens.get(token.image.toUpperCase());
    if (!word) continue;
    token.tokenType = word;
    token.tokenTypeIdx = word.tokenTypeIdx!;
  }
  return {
    tokens,
    comments: groups[COMMENTS] ?? [],
    strays: errors.map(({ offset, length }) => ({ offset, length })),
  };
}
