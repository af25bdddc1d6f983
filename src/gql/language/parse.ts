/** Text to syntax tree: read tokens, bound the nesting, parse, look at the depth; every problem with its place. */
import type { IRecognitionException, IToken } from 'chevrotain';
import { Source } from '../../text/source.ts';
import type { Query } from './ast.ts';
import { tooDeep } from './children.ts';
import { grammar } from './grammar.ts';
import { type Finding, TooManyMistakes } from './grammar-base.ts';
import { DEEPEST_NESTING, DEEPEST_TREE, LONGEST_TEXT, MAX_PROBLEMS } from './limits.ts';
import { problemsOf } from './mistakes.ts';
import { olderConstructs } from './older-dialect.ts';
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
  const { lexed, edges } = tokensOf(text);
  const before = [
    ...strayProblems(source, lexed),
    ...edges.map((start) =>
      problemAt(source, 'comment-for-edge', { start, end: start + 2 }, COMMENT_FOR_EDGE),
    ),
  ];
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
  // What recovery made up has no place.
  const lost = parser.errors.length > 0;
  const placed = parser.findings.filter(({ span }) => !lost || span.start > 0);
  const found = limited(placed).map(({ code, severity, span, message }) =>
    problemAt(source, code, span, `${message}.`, { severity }),
  );
  const mistakes = problemsOf(source, withoutFollowUps(parser.errors), lexed.tokens);
  const all = inOrder(withOlder(source, lexed, before, [...mistakes, ...found]));
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

/** Mistakes without that of the end of the text, where there are others. */
function withoutFollowUps(exceptions: readonly IRecognitionException[]): readonly IRecognitionException[] {
  const own = exceptions.filter(({ name }) => name !== 'NotAllInputParsedException');
  return own.length > 0 ? own : exceptions;
}

/**
 * The problems, with those of constructs of the older dialect in place of what the parser says from the first of them
 * on, which is about its being lost.
 */
function withOlder(
  source: Source,
  { tokens, strays }: Lexed,
  lexical: readonly Problem[],
  others: readonly Problem[],
): readonly Problem[] {
  const isRead = [...lexical, ...others].every(({ severity }) => severity === 'warning');
  const older = isRead ? [] : olderConstructs(source.text, tokens, strays);
  const [first] = older;
  if (!first) return [...lexical, ...others];
  const inside = ({ span }: Problem): boolean =>
    older.some(({ start, end }) => span.start >= start && span.start < end);
  return [
    ...lexical.filter((problem) => !inside(problem)),
    ...others.filter(({ severity, span }) => severity === 'warning' || span.start < first.start),
    ...older.map(({ code, start, end, message }) => problemAt(source, code, { start, end }, `${message}.`)),
  ];
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

function strayProblems(source: Source, { strays }: Lexed): Problem[] {
  return strays.slice(0, MAX_PROBLEMS).map(({ offset, length }) => {
    const character = String.fromCodePoint(source.text.codePointAt(offset)!);
    const span = { start: offset, end: offset + length };
    const fix = /[‘’‚‛“”„‟«»‹›´]/.test(character) ? ` Texts are written in ' or ".` : '';
    return problemAt(source, 'unexpected-character', span, `"${character}" has no meaning here.${fix}`);
  });
}

const COMMENT_FOR_EDGE =
  '"--" begins a comment in GQL; an edge is written -, -> or <-, and with brackets -[…]-.';

/**
 * The tokens, and where `--` begins a comment that was meant as an edge, as other languages write it. Such an edge is
 * read as one, without moving anything, so that what comes behind it is not lost.
 */
function tokensOf(text: string): { readonly lexed: Lexed; readonly edges: readonly number[] } {
  const edges: number[] = [];
  for (let read = text; ; ) {
    const lexed = tokenize(read);
    const edge = lexed.comments.find(
      ({ startOffset: start, image }) =>
        image.startsWith('--') && (/^--[>([]/.test(image) || /[)\]<]$/.test(read.slice(0, start))),
    );
    if (!edge || edges.length >= MAX_PROBLEMS) return { lexed, edges };
    const { startOffset: start } = edge;
    edges.push(start);
    read = withEdge(read, start);
  }
}

/** The text with an edge of the same length in place of `--`, `-->`, `<--` or `<-->`. */
function withEdge(text: string, at: number): string {
  const [start, end] = [text[at - 1] === '<' ? at - 1 : at, text[at + 2] === '>' ? at + 3 : at + 2];
  const edge = text.slice(start, end).replace('--', '-');
  // Behind a bracket the stroke stays beside it, before one it goes there.
  const moved = text[start - 1] === ']' ? edge.padEnd(end - start) : edge.padStart(end - start);
  return text.slice(0, start) + moved + text.slice(end);
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
