/** Graph patterns and label expressions (ISO/IEC 39075:2024, clause 16). The production is above each rule. */
import type { IToken } from 'chevrotain';
import type {
  EdgePattern,
  MatchClause,
  MatchingClause,
  MatchMode,
  Name,
  NodePattern,
  ParenthesizedPath,
  PathFactor,
  PathMode,
  PathPattern,
  PathSearch,
  PathTerm,
} from './ast.ts';
import { alt, altWhen, byCommas, NOWHERE, provided, type Rule, spanOf } from './grammar-base.ts';
import { ElementGrammar, noNode } from './grammar-elements.ts';
import { HIGHEST_BOUND } from './limits.ts';
import { NUMBER, S, W } from './tokens.ts';

interface Quantifier {
  readonly min: number;
  /** Undefined: no upper bound; `questioned` is the `?` form, which is not a quantifier in the standard's words. */
  readonly max: number | undefined;
  readonly questioned: boolean;
}

const noMatch = (): MatchClause => ({
  kind: 'match',
  mode: undefined,
  paths: [],
  where: undefined,
  span: NOWHERE,
});

export abstract class PatternGrammar extends ElementGrammar {
  abstract readonly matchBlock: Rule<MatchingClause[]>;

  /** <exists predicate> holds a <graph pattern> or a <match statement block>. */
  readonly existsBody: Rule<MatchingClause[]> = this.rule(
    'existsBody',
    () =>
      this.OR([
        alt(() => this.SUBRULE(this.matchBlock)),
        alt(() => {
          const pattern = this.SUBRULE(this.graphPattern);
          return [pattern];
        }),
      ]),
    () => [],
  );

  /** <graph pattern> ::= [ <match mode> ] <path pattern list> [ <graph pattern where clause> ] */
  readonly graphPattern: Rule<MatchClause> = this.rule(
    'graphPattern',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const mode = this.OPTION(
        provided(
          () => !this.is(this.LA(2), 'equals'),
          () => this.SUBRULE(this.matchMode),
        ),
      );
      const paths: PathPattern[] = [];
      this.AT_LEAST_ONE_SEP(byCommas(() => paths.push(this.SUBRULE(this.pathPattern))));
      const where = this.OPTION2(() => this.SUBRULE(this.whereClause));
      return this.ACTION(() => ({ kind: 'match', mode, paths, where, span: this.since(first) }));
    },
    noMatch,
  );

  /**
   * <match mode> ::= REPEATABLE ( ELEMENT [ BINDINGS ] | ELEMENTS ) | DIFFERENT ( <edge synonym> [ BINDINGS ] | <edges
   * synonym> )
   */
  readonly matchMode: Rule<MatchMode> = this.rule(
    'matchMode',
    () =>
      this.OR([
        alt((): MatchMode => {
          this.CONSUME(W.REPEATABLE);
          this.OR2([
            alt(() => this.CONSUME(W.ELEMENTS)),
            alt(() => {
              this.CONSUME(W.ELEMENT);
              this.OPTION(
                provided(
                  () => !this.is(this.LA(2), 'equals'),
                  () => this.CONSUME(W.BINDINGS),
                ),
              );
            }),
          ]);
          return 'REPEATABLE ELEMENTS';
        }),
        alt((): MatchMode => {
          this.CONSUME(W.DIFFERENT);
          this.OR3([
            alt(() => this.CONSUME(W.EDGES)),
            alt(() => this.CONSUME(W.RELATIONSHIPS)),
            alt(() => {
              this.OR4([alt(() => this.CONSUME(W.EDGE)), alt(() => this.CONSUME(W.RELATIONSHIP))]);
              this.OPTION2(
                provided(
                  () => !this.is(this.LA(2), 'equals'),
                  () => this.CONSUME2(W.BINDINGS),
                ),
              );
            }),
          ]);
          return 'DIFFERENT EDGES';
        }),
      ]),
    () => 'DIFFERENT EDGES',
  );

  /**
   * <path pattern> ::= [ <path variable> <equals operator> ] [ <path pattern prefix> ] <path pattern expression>
   * <path pattern prefix> ::= <path mode prefix> | <path search prefix>
   */
  readonly pathPattern: Rule<PathPattern> = this.rule(
    'pathPattern',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const variable = this.OPTION(
        provided(
          () => this.is(this.LA(2), 'equals'),
          () => this.SUBRULE(this.pathVariable),
        ),
      );
      const search = this.OPTION3(() => this.SUBRULE(this.pathSearch));
      const mode = this.OPTION2(() => this.SUBRULE(this.pathMode));
      this.OPTION4(
        provided(
          () => search !== undefined,
          () => this.SUBRULE(this.pathsWord),
        ),
      );
      const factors = this.SUBRULE(this.pathExpression);
      return this.ACTION(() => ({
        kind: 'path-pattern',
        variable,
        search,
        mode,
        factors,
        span: this.since(first),
      }));
    },
    () => ({
      kind: 'path-pattern',
      variable: undefined,
      search: undefined,
      mode: undefined,
      factors: [],
      span: NOWHERE,
    }),
  );

  /**
   * <path search prefix> ::= ALL … | ANY … | ALL SHORTEST … | ANY SHORTEST …, each with [ <path mode> ] [ PATH | PATHS ].
   * The ones with numbers (ANY 3, SHORTEST 2, SHORTEST 2 GROUPS) are read and reported as not supported.
   */
  readonly pathSearch: Rule<PathSearch> = this.rule(
    'pathSearch',
    () =>
      this.OR([
        alt(() => {
          const all = this.CONSUME(W.ALL);
          const shortest = this.OPTION(() => this.CONSUME(W.SHORTEST));
          return this.ACTION((): PathSearch => (all && shortest ? 'ALL SHORTEST' : 'ALL'));
        }),
        alt(() => {
          this.CONSUME(W.ANY);
          const number = this.OPTION2(() => this.CONSUME(NUMBER));
          if (number) this.counted(number);
          const shortest = this.OPTION3(() => this.CONSUME2(W.SHORTEST));
          return this.ACTION((): PathSearch => (shortest ? 'ANY SHORTEST' : 'ANY'));
        }),
        alt(() => {
          const word = this.CONSUME3(W.SHORTEST);
          const number = this.OPTION4(() => this.CONSUME2(NUMBER));
          this.counted(number ?? word);
          return this.ACTION((): PathSearch => 'ANY SHORTEST');
        }),
      ]),
    () => 'ALL',
  );

  /** PATH or PATHS after a search prefix; a mode after the prefix reads its own. */
  readonly pathsWord: Rule<void> = this.rule(
    'pathsWord',
    () => {
      this.OR([
        alt(() => this.CONSUME(W.PATH)),
        alt(() => this.CONSUME(W.PATHS)),
        // SHORTEST 2 GROUPS: reported already.
        alt(() => this.CONSUME(W.GROUP)),
        alt(() => this.CONSUME(W.GROUPS)),
      ]);
    },
    () => undefined,
  );

  /** <path variable declaration> ::= <path variable> <equals operator> */
  readonly pathVariable: Rule<Name> = this.rule(
    'pathVariable',
    () => {
      const name = this.SUBRULE(this.variableName);
      this.CONSUME(S.equals);
      return name;
    },
    () => this.noName(),
  );

  /** <path mode prefix> ::= <path mode> [ PATH | PATHS ] */
  readonly pathMode: Rule<PathMode> = this.rule(
    'pathMode',
    () => {
      const word = this.OR([
        alt(() => this.CONSUME(W.WALK)),
        alt(() => this.CONSUME(W.TRAIL)),
        alt(() => this.CONSUME(W.SIMPLE)),
        alt(() => this.CONSUME(W.ACYCLIC)),
      ]);
      this.OPTION(() => this.OR2([alt(() => this.CONSUME(W.PATH)), alt(() => this.CONSUME(W.PATHS))]));
      return this.ACTION(() => word.tokenType.name as PathMode);
    },
    () => 'WALK',
  );

  /**
   * <path pattern expression> ::= <path term> | <path multiset alternation> | <path pattern union>, which are path terms with
   * |+| or | between them
   */
  readonly pathExpression: Rule<PathFactor[]> = this.rule(
    'pathExpression',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const branches = [this.SUBRULE(this.pathTerm)];
      const bars: { readonly bar: IToken; readonly multiset: boolean }[] = [];
      this.MANY(() => {
        const bar = this.CONSUME(S.bar);
        let multiset = false;
        this.OPTION(() => {
          this.CONSUME(S.plus);
          this.CONSUME2(S.bar);
          multiset = true;
        });
        bars.push({ bar, multiset });
        branches.push(this.SUBRULE2(this.pathTerm));
      });
      return this.ACTION((): PathFactor[] => {
        const [only] = bars;
        if (!only) return [...branches[0]!.factors];
        const other = bars.find(({ multiset }) => multiset !== only.multiset);
        if (other)
          this.report('syntax', spanOf(other.bar), 'Put parentheses where | and |+| stand side by side');
        return [{ kind: 'path-alternation', multiset: only.multiset, branches, span: this.since(first) }];
      });
    },
    () => [],
  );

  /** <path term> ::= <path factor> … */
  readonly pathTerm: Rule<PathTerm> = this.rule(
    'pathTerm',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const factors: PathFactor[] = [];
      this.AT_LEAST_ONE(() => factors.push(this.SUBRULE(this.pathFactor)));
      return this.ACTION((): PathTerm => ({ kind: 'path-term', factors, span: this.since(first) }));
    },
    () => ({ kind: 'path-term', factors: [], span: NOWHERE }),
  );

  /** <path factor> ::= <path primary> | <path primary> <graph pattern quantifier> | <path primary> <question mark> */
  readonly pathFactor: Rule<PathFactor> = this.rule(
    'pathFactor',
    () => {
      const path = this.SUBRULE(this.pathPrimary);
      const quantifier = this.OPTION(() => this.SUBRULE(this.quantifier));
      return this.ACTION((): PathFactor => {
        if (!quantifier) return path;
        const span = this.since(path);
        if (path.kind === 'node-pattern') {
          this.report(
            'syntax',
            span,
            'A node cannot be repeated; put the quantifier after an edge, or after ( … ) around an edge and its nodes',
          );
          return path;
        }
        if (quantifier.questioned) return { kind: 'questioned-path', path, span };
        return { kind: 'quantified-path', path, min: quantifier.min, max: quantifier.max, span };
      });
    },
    noNode,
  );

  /** <path primary> ::= <node pattern> | <edge pattern> | <parenthesized path pattern expression> */
  readonly pathPrimary: Rule<NodePattern | EdgePattern | ParenthesizedPath> = this.rule(
    'pathPrimary',
    () =>
      this.OR([
        altWhen(
          () => this.opensPath(),
          () => this.SUBRULE(this.parenthesizedPath),
        ),
        { ...alt(() => this.SUBRULE(this.nodePattern)), IGNORE_AMBIGUITIES: true },
        alt(() => this.SUBRULE(this.edgePattern)),
      ]),
    noNode,
  );

  /**
   * <parenthesized path pattern expression> ::= <left paren> [ <subpath variable> <equals operator> ]
   *   [ <path mode prefix> ] <path pattern expression> [ WHERE <search condition> ] <right paren>
   */
  readonly parenthesizedPath: Rule<ParenthesizedPath> = this.rule(
    'parenthesizedPath',
    () => {
      const open = this.CONSUME(S.leftParenthesis);
      const variable = this.OPTION(
        provided(
          () => this.is(this.LA(2), 'equals'),
          () => this.SUBRULE(this.pathVariable),
        ),
      );
      const mode = this.OPTION2(() => this.SUBRULE(this.pathMode));
      const factors = this.SUBRULE(this.pathExpression);
      const where = this.OPTION3(() => this.SUBRULE(this.whereClause));
      this.CONSUME(S.rightParenthesis);
      return this.ACTION(() => ({
        kind: 'parenthesized-path',
        variable,
        mode,
        factors,
        where,
        span: this.since(open),
      }));
    },
    () => ({
      kind: 'parenthesized-path',
      variable: undefined,
      mode: undefined,
      factors: [],
      where: undefined,
      span: NOWHERE,
    }),
  );

  /** <graph pattern quantifier> ::= * | + | { m } | { [ m ] , [ n ] }, and the question mark */
  readonly quantifier: Rule<Quantifier> = this.rule(
    'quantifier',
    () =>
      this.OR([
        alt(() => {
          this.CONSUME(S.asterisk);
          return { min: 0, max: undefined, questioned: false };
        }),
        alt(() => {
          this.CONSUME(S.plus);
          return { min: 1, max: undefined, questioned: false };
        }),
        alt(() => {
          this.CONSUME(S.question);
          return { min: 0, max: 1, questioned: true };
        }),
        alt(() => this.SUBRULE(this.bounds)),
      ]),
    () => ({ min: 0, max: 1, questioned: false }),
  );

  /** <fixed quantifier> ::= { m }; <general quantifier> ::= { [ m ] , [ n ] } */
  readonly bounds: Rule<Quantifier> = this.rule(
    'bounds',
    () => {
      const open = this.CONSUME(S.leftBrace);
      const lower = this.OPTION(() => this.CONSUME(NUMBER));
      let comma: IToken | undefined;
      let upper: IToken | undefined;
      this.OPTION2(() => {
        comma = this.CONSUME(S.comma);
        upper = this.OPTION3(() => this.CONSUME2(NUMBER));
      });
      this.CONSUME(S.rightBrace);
      return this.ACTION(() => {
        if (!lower && !comma) this.report('syntax', this.since(open), 'Write {2}, {1,3}, {1,} or {,3}');
        const min = lower ? this.bound(lower) : 0;
        const max = comma ? (upper ? this.bound(upper) : undefined) : min;
        return { min, max, questioned: false };
      });
    },
    () => ({ min: 0, max: 1, questioned: false }),
  );

  private counted(place: IToken): void {
    this.ACTION(() =>
      this.report(
        'not-supported',
        spanOf(place),
        'A number of paths is not part of the supported subset; write ANY or ANY SHORTEST for one, ALL SHORTEST for all of the shortest',
      ),
    );
  }

  /** Whether the parenthesis that comes next holds a path, and is not that of a node. */
  private opensPath(): boolean {
    const [first, second] = [this.LA(2), this.LA(3)];
    if (this.startsFactor(first)) return true;
    if (this.is(second, 'equals')) return true;
    if (![W.WALK, W.TRAIL, W.SIMPLE, W.ACYCLIC].includes(first.tokenType)) return false;
    return this.startsFactor(second) || [W.PATH, W.PATHS].includes(second.tokenType);
  }

  private startsFactor(token: IToken): boolean {
    return this.is(token, 'leftParenthesis', 'minus', 'tilde', 'less');
  }

  private bound(token: IToken): number {
    const value = this.numberOf(token);
    if (Number.isInteger(value) && value <= HIGHEST_BOUND) return value;
    this.report(
      'quantifier-bounds',
      spanOf(token),
      `A bound of a quantifier is a whole number up to ${HIGHEST_BOUND}`,
    );
    return 0;
  }
}
