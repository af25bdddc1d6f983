/** The parser toolkit's mistakes as problems that people can act on. */
import { EOF, type IRecognitionException, type IToken, tokenLabel } from 'chevrotain';
import { nearNames } from '../../text/near.ts';
import type { Source } from '../../text/source.ts';
import type { Mistake } from './grammar-base.ts';
import { type Problem, problemAt } from './problem.ts';
import { ALL_TOKENS, UNCLOSED_COMMENT, UNCLOSED_QUOTE } from './tokens.ts';
import { CONTEXTUAL_WORDS, LEFT_OUT, STRUCTURAL_WORDS } from './words.ts';

const labels: ReadonlyMap<string, string> = new Map(
  [...ALL_TOKENS, EOF].map((token) => [token.name, token === EOF ? 'the end' : tokenLabel(token)]),
);
const words: readonly string[] = [...STRUCTURAL_WORDS, ...CONTEXTUAL_WORDS];
const wordSet: ReadonlySet<string> = new Set(words);
const structuralWords: ReadonlySet<string> = new Set(STRUCTURAL_WORDS);

/** Rules in which a variable could have stood. */
const TAKES_NAMES: ReadonlySet<string> = new Set([
  ...['nodePattern', 'edgePattern', 'pathTerm', 'pathPrimary', 'variableName', 'aliasName', 'pathVariable'],
  ...['returnClause', 'returnItem', 'sortKey', 'groupByClause', 'orderByClause', 'variableReference'],
  ...['argumentList', 'primary', 'wordedPrimary', 'whenOperand', 'elementPredicate', 'list', 'parenthesized'],
]);

/** What else could have come where the toolkit names only one token, by the rule it was in. */
const ALSO: Readonly<Record<string, readonly string[]>> = {
  returnClause: ['WHERE', 'MATCH', 'OPTIONAL MATCH'],
  nodePattern: ['":"', 'WHERE', '"{"'],
  edgePattern: ['":"', 'WHERE', '"{"'],
};

/** What a rule takes, where the list of its first tokens would be long. */
const WHOLE: Readonly<Record<string, readonly string[]>> = {
  primary: ['a value'],
  wordedPrimary: ['a value'],
  whenOperand: ['a value'],
  literal: ['a value'],
  pathPrimary: ['a node such as (a:Label)', 'an edge such as -[:LABEL]->'],
  pathTerm: ['a node such as (a:Label)'],
  matchBlock: ['MATCH'],
  existsBody: ['MATCH', 'a node such as (a:Label)'],
};

const END: Pick<IToken, 'tokenType' | 'startOffset' | 'image'> = {
  tokenType: EOF,
  startOffset: Number.NaN,
  image: '',
};

/** Tokens that begin a value; a list of them all would hide what else is allowed. */
const STARTS_VALUE: ReadonlySet<string> = new Set([
  ...['NOT', 'PLUS', 'MINUS', 'NUMBER', 'STRING', 'TRUE', 'FALSE', 'NULL', 'UNKNOWN', 'LEFT_PARENTHESIS'],
  ...[
    'LEFT_BRACKET',
    'PARAMETER',
    'NAME',
    'CASE',
    'EXISTS',
    'ALL_DIFFERENT',
    'SAME',
    'PROPERTY_EXISTS',
    'TRIM',
    'CAST',
  ],
]);

/** A mistake of the toolkit, at the token where the text goes wrong. */
interface Located extends Mistake {
  readonly token: Pick<IToken, 'tokenType' | 'startOffset' | 'image'>;
  /** Position of the token among all; their number for the end. */
  readonly index: number;
}

/**
 * The problems behind the toolkit's exceptions. A mistake next to the one before, or before it, is left out: it comes
 * from going on after that one.
 */
export function problemsOf(
  source: Source,
  exceptions: readonly IRecognitionException[],
  tokens: readonly IToken[],
): Problem[] {
  const problems: Problem[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const exception of exceptions) {
    const mistake = JSON.parse(exception.message) as Mistake;
    const named = tokens.indexOf(exception.token);
    const index = (named < 0 ? tokens.length : named) + mistake.skip;
    if (index > last + 1)
      problems.push(problemOf(source, { ...mistake, index, token: tokens[index] ?? END }));
    last = Math.max(last, index);
  }
  return problems;
}

function problemOf(source: Source, { rule, skip, expected: names, token }: Located): Problem {
  const end = source.text.trimEnd().length;
  if (token.tokenType === EOF) {
    const expected = wanted(rule, names);
    const span = { start: end, end };
    return problemAt(source, 'syntax', span, 'The text ends too early.', { expected });
  }
  const span = { start: token.startOffset, end: token.startOffset + token.image.length };
  if (token.tokenType === UNCLOSED_QUOTE) {
    const quote = token.image.replace('@', '')[0]!;
    return problemAt(
      source,
      'unterminated',
      span,
      `Nothing closes this quote; a closing ${quote} is missing on its line.`,
    );
  }
  if (token.tokenType === UNCLOSED_COMMENT) {
    const open = { start: span.start, end: span.start + 2 };
    return problemAt(source, 'unterminated', open, 'Nothing closes this comment; */ is missing.');
  }
  const upper = token.image.toUpperCase();
  const isName =
    structuralWords.has(upper) && TAKES_NAMES.has(rule) && (skip > 0 || !rule.startsWith('path'));
  const leftOut = !isName && Object.hasOwn(LEFT_OUT, upper) ? LEFT_OUT[upper] : undefined;
  if (leftOut !== undefined) return problemAt(source, 'not-supported', span, `${leftOut}.`);
  const special = tailored(token, names);
  if (special) return problemAt(source, 'syntax', span, special);
  const expected = wanted(rule, names);
  const near = wordSet.has(upper) ? [] : nearWords(token.image, [...names, ...expected]);
  const accents = TAKES_NAMES.has(rule) && structuralWords.has(upper);
  const fix = accents
    ? ` It is a word of the language; as a name, write it in backticks: \`${token.image}\`.`
    : '';
  const message = `"${short(token.image)}" is not allowed here.${fix}`;
  return problemAt(source, 'syntax', span, message, { expected, near });
}

/** Mistakes that a list of expected tokens would not explain. */
function tailored(token: Pick<IToken, 'image'>, expected: readonly string[]): string | undefined {
  if (token.image === '!' || (token.image === '=' && expected.includes('NUMBER'))) {
    return 'In conditions "not equal" is written <>, and "not" is written NOT.';
  }
  if (/^not$/i.test(token.image) && expected.includes('NUMBER')) {
    return 'NOT negates a condition, not a value; put NOT and what it negates in parentheses.';
  }
  if (token.image === '[' && expected.includes('RIGHT_PARENTHESIS')) {
    return 'A label follows a colon, such as (a:Label); brackets belong to edges.';
  }
  return undefined;
}

function wanted(rule: string, names: readonly string[]): string[] {
  if (names.length === 1) return [...(ALSO[rule] ?? []), labels.get(names[0]!) ?? names[0]!];
  const whole = WHOLE[rule];
  if (whole) return [...whole];
  const value = names.includes('NUMBER') && names.includes('STRING');
  const listed = names
    .filter((name) => !value || !STARTS_VALUE.has(name))
    .map((name) => labels.get(name) ?? name);
  return [...new Set(value ? [...listed, 'a value'] : listed)];
}

/** Words similar to a mistyped word, first those that are allowed here. */
function nearWords(typed: string, expected: readonly string[]): readonly string[] {
  if (!/^[\p{L}_]{2,}$/u.test(typed)) return [];
  const here = nearNames(
    typed,
    words.filter((word) => expected.includes(word)),
  );
  return here.length > 0 ? here : nearNames(typed, words);
}

function short(image: string): string {
  const line = image.split(/[\r\n]/, 1)[0]!;
  return line.length > 30 ? `${line.slice(0, 30)}…` : line;
}
