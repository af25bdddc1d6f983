/**
 * What all parts of the grammar share: the toolkit's parser with recovery, spans, names, and problems that are found
 * while reading but do not stop the reading.
 */
import {
  EmbeddedActionsParser,
  type IParserErrorMessageProvider,
  type IToken,
  type ParserMethod,
  type TokenType,
  tokenMatcher,
} from 'chevrotain';
import type { Name, Span } from './ast.ts';
import { MAX_PROBLEMS } from './limits.ts';
import { readNumber, readQuoted } from './literals.ts';
import type { ProblemCode } from './problem.ts';
import { ACCENT_QUOTED, ALL_TOKENS, DOUBLE_QUOTED, KEY, NAME, S } from './tokens.ts';
import { RESERVED_WORDS } from './words.ts';

/** A rule of the grammar that answers a `T`. */
export type Rule<T> = ParserMethod<[], T>;

/** A problem whose place is known by offsets only. */
export interface Finding {
  readonly code: ProblemCode;
  readonly severity: 'error' | 'warning';
  readonly span: Span;
  readonly message: string;
  readonly expected?: readonly string[];
}

/** What the toolkit knows about a mistake; it travels as JSON, since the toolkit only lets us shape a text. */
export interface Mistake {
  readonly rule: string;
  /** How many tokens after the one that the toolkit names the text goes wrong: it looks more than one ahead. */
  readonly skip: number;
  /** Names of token types that could have stood there. */
  readonly expected: readonly string[];
}

/** Ends the reading of a text with so many mistakes that going on would only cost time. */
export class TooManyMistakes extends Error {
  override readonly name = 'TooManyMistakes';
}

/** The toolkit asks it once for every mistake, so it is also the place to count them. */
class Mistakes implements IParserErrorMessageProvider {
  count = 0;

  buildMismatchTokenMessage({ expected, ruleName }: { expected: TokenType; ruleName: string }): string {
    return this.#mistake(ruleName, 0, [expected]);
  }

  buildNotAllInputParsedMessage({ ruleName }: { ruleName: string }): string {
    return this.#mistake(ruleName, 0, []);
  }

  buildNoViableAltMessage(options: {
    expectedPathsPerAlt: TokenType[][][];
    actual: IToken[];
    ruleName: string;
  }): string {
    const { skip, expected } = divergence(options.expectedPathsPerAlt.flat(), options.actual);
    return this.#mistake(options.ruleName, skip, expected);
  }

  buildEarlyExitMessage(options: {
    expectedIterationPaths: TokenType[][];
    actual: IToken[];
    ruleName: string;
  }): string {
    const { skip, expected } = divergence(options.expectedIterationPaths, options.actual);
    return this.#mistake(options.ruleName, skip, expected);
  }

  #mistake(rule: string, skip: number, expected: readonly TokenType[]): string {
    if (++this.count > MAX_PROBLEMS) throw new TooManyMistakes();
    return JSON.stringify({ rule, skip, expected: expected.map(({ name }) => name) } satisfies Mistake);
  }
}

/** Where the tokens leave all of the paths that they could have taken, and what those go on with there. */
function divergence(
  paths: readonly (readonly TokenType[])[],
  actual: readonly IToken[],
): { readonly skip: number; readonly expected: TokenType[] } {
  let open = paths;
  for (let skip = 0; ; skip++) {
    const token = actual[skip];
    const onward = token ? open.filter((path) => path[skip] && tokenMatcher(token, path[skip])) : [];
    if (onward.length > 0 && onward.some((path) => path[skip + 1])) open = onward;
    else return { skip, expected: [...new Set(open.flatMap((path) => path.slice(skip, skip + 1)))] };
  }
}

/** One alternative of a choice. */
export function alt<T>(read: () => T): { readonly ALT: () => T } {
  return { ALT: read };
}

/** An alternative that is only taken when a condition holds. */
export function altWhen<T>(
  holds: () => boolean,
  read: () => T,
): { readonly GATE: () => boolean; readonly ALT: () => T } {
  return { GATE: holds, ALT: read };
}

/** A list with commas. */
export function byCommas<T>(read: () => T): { readonly SEP: TokenType; readonly DEF: () => T } {
  return { SEP: S.comma, DEF: read };
}

/** Something optional that is only looked for when a condition holds. */
export function provided<T>(
  holds: () => boolean,
  read: () => T,
): { readonly GATE: () => boolean; readonly DEF: () => T } {
  return { GATE: holds, DEF: read };
}

export const NOWHERE: Span = { start: 0, end: 0 };

export abstract class GrammarBase extends EmbeddedActionsParser {
  /** Problems of the text that is being read. */
  readonly findings: Finding[] = [];
  /** Predicates that stand without parentheses. */
  protected readonly bare = new Set<object>();
  /** Variables in parentheses. */
  protected readonly enclosed = new Set<object>();
  readonly #mistakes: Mistakes;

  /** @param isChecked whether the toolkit asks if the grammar is right by its rules, which each thread would spend time on */
  constructor(isChecked = false) {
    const mistakes = new Mistakes();
    super([...ALL_TOKENS], {
      recoveryEnabled: true,
      maxLookahead: 2,
      errorMessageProvider: mistakes,
      skipValidations: !isChecked,
    });
    this.#mistakes = mistakes;
  }

  /** Turns to a new text. */
  begin(tokens: IToken[]): void {
    this.findings.length = 0;
    this.bare.clear();
    this.enclosed.clear();
    this.#mistakes.count = 0;
    this.input = tokens;
  }

  /** A rule that answers a stand-in when the toolkit has skipped over a mistake; such trees are thrown away. */
  protected rule<T>(name: string, read: () => NoInfer<T>, standIn: () => NoInfer<T>): Rule<T> {
    return this.RULE(name, read, { recoveryValueFunc: standIn });
  }

  /** From the start of a token (or node) to the end of the last token read. */
  protected since(first: IToken | { readonly span: Span }): Span {
    const start = 'span' in first ? first.span.start : first.startOffset;
    const last = this.LA(0);
    const end = last.startOffset + last.image.length;
    // Tokens that the toolkit inserted to recover from a mistake have no place.
    return Number.isInteger(start) && Number.isInteger(end) ? { start, end: Math.max(start, end) } : NOWHERE;
  }

  protected report(
    code: ProblemCode,
    span: Span,
    message: string,
    severity: 'error' | 'warning' = 'error',
  ): void {
    this.findings.push({ code, severity, span, message });
  }

  /** <binding variable>; also names of functions. */
  readonly variableName: Rule<Name> = this.rule(
    'variableName',
    () => {
      const token = this.CONSUME(NAME);
      return this.ACTION(() => this.named(token));
    },
    () => this.noName(),
  );

  /**
   * <label name>, <property name>: any word, or a delimited name. The graph gave the name and not the writer of the text,
   * so that a reserved word is no matter for a warning.
   */
  readonly keyName: Rule<Name> = this.rule(
    'keyName',
    () => {
      const token = this.CONSUME(KEY);
      return this.ACTION(() => ({ kind: 'name', text: this.textOfName(token), span: spanOf(token) }));
    },
    () => this.noName(),
  );

  /** <identifier> as the name of a column. */
  readonly aliasName: Rule<Name> = this.rule(
    'aliasName',
    () => {
      const token = this.OR([alt(() => this.CONSUME(NAME)), alt(() => this.CONSUME(DOUBLE_QUOTED))]);
      return this.ACTION(() => this.named(token));
    },
    () => this.noName(),
  );

  /** The text of a name token, without delimiters. */
  protected textOfName(token: IToken): string {
    if (token.tokenType !== ACCENT_QUOTED && token.tokenType !== DOUBLE_QUOTED) return token.image;
    const text = this.textOf(token);
    if (text === '') this.report('bad-literal', spanOf(token), 'A name must have at least one character');
    return text;
  }

  protected named(token: IToken): Name {
    const span = spanOf(token);
    if (token.tokenType === ACCENT_QUOTED || token.tokenType === DOUBLE_QUOTED) {
      return { kind: 'name', text: this.textOfName(token), span };
    }
    const upper = token.image.toUpperCase();
    if (RESERVED_WORDS.has(upper)) {
      this.report(
        'reserved-word',
        span,
        `GQL reserves the word ${upper}; other programs that read GQL want \`${token.image}\` in backticks here`,
        'warning',
      );
    }
    return { kind: 'name', text: token.image, span };
  }

  /** The value of a NUMBER token; 0, with a finding, when it is none. */
  protected numberOf(token: IToken): number {
    if (token.isInsertedInRecovery) return 0;
    const reading = readNumber(token.image);
    if ('value' in reading) return reading.value;
    this.report('bad-literal', spanOf(token), reading.wrong);
    return 0;
  }

  protected textOf(token: IToken): string {
    if (token.isInsertedInRecovery) return '';
    const reading = readQuoted(token.image);
    if ('value' in reading) return reading.value;
    this.report('bad-literal', spanOf(token), reading.wrong);
    return '';
  }

  protected isBare(node: object): boolean {
    return this.bare.has(node);
  }

  protected upper(token: IToken): string {
    return token.image.toUpperCase();
  }

  protected noName(): Name {
    return { kind: 'name', text: '', span: NOWHERE };
  }

  /** Whether a token is one of these symbols. */
  protected is(token: IToken, ...symbols: readonly (keyof typeof S)[]): boolean {
    return symbols.some((symbol) => token.tokenType === S[symbol]);
  }
}

export function spanOf(token: IToken): Span {
  const { startOffset, image } = token;
  return Number.isInteger(startOffset) ? { start: startOffset, end: startOffset + image.length } : NOWHERE;
}
