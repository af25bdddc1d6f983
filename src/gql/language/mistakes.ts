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
  ...['letStatement', 'letDefinition', 'forStatement'],
]);

/** What else could have come where the toolkit names only one token, by the rule it was in. */
const ALSO: Readonly<Record<string, readonly string[]>> = {
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

/** Words that begin a part of a query. */
const CLAUSES: ReadonlySet<string> = new Set(
  'MATCH WHERE LET FILTER FOR ORDER OFFSET SKIP LIMIT RETURN NEXT UNION EXCEPT INTERSECT OTHERWISE'.split(
    ' ',
  ),
);

/** A mistake of the toolkit, at the token where the text goes wrong. */
interface Located extends Mistake {
  readonly token: Pick<IToken, 'tokenType' | 'startOffset' | 'image'>;
  /** Position of the token among all; their number for the end. */
  readonly index: number;
  /** The tokens of the text. */
  readonly tokens: readonly IToken[];
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
      problems.push(problemOf(source, { ...mistake, index, tokens, token: tokens[index] ?? END }));
    last = Math.max(last, index);
  }
  return problems;
}

function problemOf(source: Source, located: Located): Problem {
  const { rule, skip, expected: names, token } = located;
  const end = source.text.trimEnd().length;
  if (token.tokenType === EOF) {
    const expected = wanted(located);
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
  const special = tailored(located);
  if (special) return problemAt(source, 'syntax', span, special);
  const lacking = unsupported(located);
  if (lacking) return problemAt(source, 'not-supported', span, lacking);
  const expected = wanted(located);
  const near = wordSet.has(upper) ? [] : nearWords(token.image, [...names, ...expected]);
  const accents = TAKES_NAMES.has(rule) && structuralWords.has(upper) && isUsedAsName(located);
  const fix = accents
    ? ` It is a word of the language; as a name, write it in backticks: \`${token.image}\`.`
    : '';
  const message = `"${short(token.image)}" is not allowed here.${fix}`;
  return problemAt(source, 'syntax', span, message, { expected, near });
}

/** Whether what comes behind a word, if anything, is what comes behind a name. */
function isUsedAsName({ tokens, index }: Located): boolean {
  const next = tokens[index + 1]?.image;
  return next === undefined || /^(?:[.,:=)\]}]|AS|IN)$/i.test(next);
}

/** Mistakes that a list of expected tokens would not explain. */
function tailored({ tokens, index, token, expected }: Located): string | undefined {
  const before = tokens[index - 1];
  const isValueWanted = expected.includes('NUMBER');
  const pair = `${before?.image ?? ''}${token.image}`;
  if (token.image === '!' || (token.image === '=' && isValueWanted)) {
    return 'In conditions "not equal" is written <>, and "not" is written NOT.';
  }
  if (isValueWanted && (pair === '=>' || pair === '=<')) {
    return `"${pair[1]}" is not allowed here; write ${pair[1]}= for "${pair === '=>' ? 'at least' : 'at most'}".`;
  }
  if (isValueWanted && pair === '><') return '"<" is not allowed here; "not equal" is written <>.';
  if (/^not$/i.test(token.image) && isValueWanted) {
    return 'NOT negates a condition, not a value; put NOT and what it negates in parentheses.';
  }
  if (token.image === '[' && expected.includes('RIGHT_PARENTHESIS')) {
    return 'A label follows a colon, such as (a:Label); brackets belong to edges.';
  }
  if (token.image === ':' && /^[-~]$/.test(before?.image ?? '')) {
    const stroke = before!.image;
    return `The label of an edge stands in brackets, as in ${stroke}[:LABEL]${stroke}>.`;
  }
  if (/^is$/i.test(before?.image ?? '') && expected.includes('NULL') && /^["'\d$]/.test(token.image)) {
    return 'IS asks for NULL, a truth value, a label or a direction; equality is written =.';
  }
  if (before?.image === ';') return 'A text holds one query; NEXT goes on with the rows of the one before.';
  const isLast = expected.length < 2 && nearWords(token.image, expected).length === 0;
  if (isLast) return between(tokens, index);
  return undefined;
}

/** Two values side by side. */
function between(tokens: readonly IToken[], index: number): string | undefined {
  const [before, token] = [tokens[index - 1], tokens[index]];
  if (!before || !token) return undefined;
  const isValue = ({ image }: IToken): boolean =>
    /^[\p{L}_`"'\d$]/u.test(image) && !wordSet.has(image.toUpperCase());
  if (!isValue(before) || !isValue(token)) return undefined;
  return `Something is missing between "${short(before.image)}" and "${short(token.image)}": a comma, an operator, or AS before the name of a column.`;
}

/** What GQL has and this subset leaves out, where the parser stopped at it. */
function unsupported({ tokens, index, token, expected }: Located): string | undefined {
  const before = tokens[index - 1]?.image.toUpperCase() ?? '';
  if (token.image === '/' && /^[-~]$/.test(before)) {
    return 'Simplified path patterns -/…/-> are not part of the supported subset; write -[:LABEL]->.';
  }
  if (token.image === '[' && before === 'PATH') {
    return 'PATH[…] is not part of the supported subset; a path is named in the pattern, as in p = (a)->(b).';
  }
  if (/^(?:NFK?[CD]|NORMALIZED)$/i.test(token.image) && /^(?:IS|NOT)$/.test(before)) {
    return 'IS NORMALIZED is not part of the supported subset; compare with NORMALIZE(text).';
  }
  if (before === 'LET' && expected.length === 0) {
    return 'LET … IN … END is not part of the supported subset; write a LET statement before RETURN.';
  }
  return undefined;
}

function wanted({ rule, expected: names, tokens, index }: Located): string[] {
  if (names.length === 1) {
    const also = rule === 'returnClause' ? statementsAt(tokens, index) : (ALSO[rule] ?? []);
    return [...also, labels.get(names[0]!) ?? names[0]!];
  }
  const whole = WHOLE[rule];
  if (whole) return [...whole];
  const value = names.includes('NUMBER') && names.includes('STRING');
  const listed = names
    .filter((name) => !value || !STARTS_VALUE.has(name))
    .map((name) => labels.get(name) ?? name);
  return [...new Set(value ? [...listed, 'a value'] : listed)];
}

/** What may stand where RETURN is due. */
function statementsAt(tokens: readonly IToken[], index: number): readonly string[] {
  const before = tokens.slice(0, index).findLast(({ tokenType }) => CLAUSES.has(tokenType.name));
  return [...(before?.tokenType.name === 'MATCH' ? ['WHERE'] : []), 'MATCH', 'OPTIONAL MATCH'];
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
