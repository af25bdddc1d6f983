/** Text to syntax tree: read tokens, bound the nesting, parse, look at the depth; every problem with its place. */
import { EOF, type IRecognitionException, type IToken } from 'chevrotain';
import { Source } from '../../text/source.ts';
import type { Query } from './ast.ts';
import { tooDeep } from './children.ts';
import { grammar } from './grammar.ts';
import { type Finding, TooManyMistakes } from './grammar-base.ts';
import { DEEPEST_NESTING, DEEPEST_TREE, LONGEST_TEXT, MAX_PROBLEMS } from './limits.ts';
import { problemsOf } from './mistakes.ts';
import { type Problem, problemAt } from './problem.ts';
import { type Lexed, S, tokenize, W } from './tokens.ts';

export interface Parsed {
  /** Present when there is no error. */
  readonly query: Query | undefined;
  /** In the order of the text; at most MAX_PROBLEMS. */
  readonly errors: readonly Problem[];
  /** What other readers of GQL would take differently. */
  readonly warnings: readonly Problem[];
}

/**
 * Reads a query. Never throws; a text that cannot be read has at least one error, and as many as could be found in
 * one go.
 */
export function parsePattern(text: string): Parsed {
  const source = new Source(text.slice(0, LONGEST_TEXT + 1));
  if (text.length > LONGEST_TEXT) {
    const message = `The text has ${text.length} characters; at most ${LONGEST_TEXT} are read.`;
    return failed([problemAt(source, 'text-too-long', { start: LONGEST_TEXT, end: LONGEST_TEXT }, message)]);
  }
  const lexed = tokenize(text);
  const before = lexicalProblems(source, lexed);
  const deep = deepNesting(source, lexed.tokens);
  if (deep) return failed([...before, deep]);
  try {
    return parsed(source, lexed, before);
  } catch (error) {
    // The bound on nesting keeps well clear of the stack's end; a caller deep in its own stack may still reach it.
    if (!(error instanceof RangeError)) throw error;
    const start = { start: 0, end: 0 };
    return failed([problemAt(source, 'nested-too-deeply', start, 'The text is nested too deeply.')]);
  }
}

function parsed(source: Source, lexed: Lexed, before: readonly Problem[]): Parsed {
  const parser = grammar();
  parser.begin(lexed.tokens);
  const query = readQuery(parser);
  const found = limited(parser.findings).map(({ code, severity, span, message }) =>
    problemAt(source, code, span, `${message}.`, { severity }),
  );
  const mistakes = problemsOf(source, withoutFollowUps(parser.errors, before), lexed.tokens);
  const all = inOrder([...before, ...mistakes, ...found]);
  const errors = all.filter(({ severity }) => severity === 'error');
  const warnings = all.filter(({ severity }) => severity === 'warning');
  if (errors.length > 0 || !query)
    return { query: undefined, errors: errors.slice(0, MAX_PROBLEMS), warnings };
  const deepest = tooDeep(query, DEEPEST_TREE);
  if (!deepest) return { query, errors, warnings: warnings.slice(0, MAX_PROBLEMS) };
  const message = `More than ${DEEPEST_TREE} operations are chained here.`;
  return failed([problemAt(source, 'nested-too-deeply', deepest.span, message)]);
}

/** The tree, complete only when the parser has no errors; undefined when there were too many. */
function readQuery(parser: ReturnType<typeof grammar>): Query | undefined {
  try {
    return parser.query();
  } catch (error) {
    if (error instanceof TooManyMistakes) return undefined;
    throw error;
  }
}

/** Mistakes without those that only follow from others. */
function withoutFollowUps(
  exceptions: readonly IRecognitionException[],
  before: readonly Problem[],
): readonly IRecognitionException[] {
  const hidden = before.some(({ code }) => code === 'comment-for-edge');
  const own = exceptions.filter(
    ({ name, token }) => name !== 'NotAllInputParsedException' && !(hidden && token.tokenType === EOF),
  );
  return own.length > 0 || hidden ? own : exceptions;
}

/** The findings that will be shown at most; calculating a place takes time. */
function limited(findings: readonly Finding[]): readonly Finding[] {
  const errors = findings.filter(({ severity }) => severity === 'error').slice(0, MAX_PROBLEMS);
  return [...errors, ...findings.filter(({ severity }) => severity === 'warning').slice(0, MAX_PROBLEMS)];
}

function failed(errors: readonly Problem[]): Parsed {
  return { query: undefined, errors: errors.slice(0, MAX_PROBLEMS), warnings: [] };
}

/** Sorted by place; one problem a place, since a mistake often shows twice. */
function inOrder(problems: readonly Problem[]): Problem[] {
  const sorted = [...problems].sort((a, b) => a.span.start - b.span.start);
  const seen = new Set<string>();
  return sorted.filter(({ severity, span }) => {
    const key = `${severity} ${span.start}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function lexicalProblems(source: Source, { strays, comments }: Lexed): Problem[] {
  const problems = strays.slice(0, MAX_PROBLEMS).map(({ offset, length }) => {
    const character = String.fromCodePoint(source.text.codePointAt(offset)!);
    const span = { start: offset, end: offset + length };
    return problemAt(source, 'unexpected-character', span, `"${character}" has no meaning here.`);
  });
  for (const comment of comments) {
    const { startOffset: start, image } = comment;
    // `--` begins a comment in GQL, also where other languages have an edge.
    if (!image.startsWith('--') || !(/^--[>([]/.test(image) || /[)\]<]$/.test(source.text.slice(0, start))))
      continue;
    const message = '"--" begins a comment in GQL; an edge is written -, -> or <-, and with brackets -[…]-.';
    problems.push(problemAt(source, 'comment-for-edge', { start, end: start + 2 }, message));
  }
  return problems;
}

const OPENING: ReadonlySet<unknown> = new Set([S.leftParenthesis, S.leftBracket, S.leftBrace, W.CASE]);
const CLOSING: ReadonlySet<unknown> = new Set([S.rightParenthesis, S.rightBracket, S.rightBrace, W.END]);

/** The parser recurses once for every open bracket or CASE and nowhere else, so this bounds its stack. */
function deepNesting(source: Source, tokens: readonly IToken[]): Problem | undefined {
  let depth = 0;
  for (const { tokenType, startOffset, image } of tokens) {
    if (OPENING.has(tokenType)) depth++;
    else if (CLOSING.has(tokenType)) depth = Math.max(0, depth - 1);
    if (depth <= DEEPEST_NESTING) continue;
    const span = { start: startOffset, end: startOffset + image.length };
    const message = `More than ${DEEPEST_NESTING} brackets or CASE expressions are open here.`;
    return problemAt(source, 'nested-too-deeply', span, message);
  }
  return undefined;
}
