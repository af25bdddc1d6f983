/** Statements of a linear query before its RETURN (ISO/IEC 39075:2024, 14.3 to 14.8). The production is above each rule. */
import type {
  Clause,
  Expression,
  FilterClause,
  ForClause,
  LetClause,
  MatchClause,
  MatchingClause,
  NumberLiteral,
  OptionalClause,
  PageClause,
  Parameter,
  SortKey,
} from './ast.ts';
import { alt, byCommas, NOWHERE, provided, type Rule, spanOf } from './grammar-base.ts';
import { nothing } from './grammar-calls.ts';
import { PatternGrammar } from './grammar-patterns.ts';
import { NUMBER, S, W } from './tokens.ts';

const noClause = (): OptionalClause => ({ kind: 'optional', clauses: [], span: NOWHERE });

const noCount = (): NumberLiteral => ({ kind: 'number', value: 0, span: NOWHERE });

export abstract class StatementGrammar extends PatternGrammar {
  /**
   * <simple linear query statement> ::= <simple query statement> …
   * <primitive query statement> ::= <match statement> | <let statement> | <for statement> | <filter statement> | <order by and page
   * statement>
   */
  readonly statements: Rule<Clause[]> = this.rule(
    'statements',
    () => {
      const clauses: Clause[] = [];
      this.MANY(() =>
        this.OR([
          alt(() => {
            clauses.push(this.SUBRULE(this.matchStatement));
          }),
          alt(() => {
            const definitions = this.SUBRULE(this.letStatement);
            this.ACTION(() => clauses.push(...definitions));
          }),
          alt(() => {
            clauses.push(this.SUBRULE(this.filterStatement));
          }),
          alt(() => {
            clauses.push(this.SUBRULE(this.forStatement));
          }),
          alt(() => {
            clauses.push(this.SUBRULE(this.pageStatement));
          }),
        ]),
      );
      return clauses;
    },
    () => [],
  );

  /** <match statement block> ::= <match statement> … */
  readonly matchBlock: Rule<MatchingClause[]> = this.rule(
    'matchBlock',
    () => {
      const clauses: MatchingClause[] = [];
      this.AT_LEAST_ONE(() => clauses.push(this.SUBRULE(this.matchStatement)));
      return clauses;
    },
    () => [],
  );

  /** <match statement> ::= <simple match statement> | OPTIONAL <optional operand> */
  readonly matchStatement: Rule<MatchingClause> = this.rule(
    'matchStatement',
    () => this.OR([alt(() => this.SUBRULE(this.simpleMatch)), alt(() => this.SUBRULE(this.optionalMatch))]),
    noClause,
  );

  /** <simple match statement> ::= MATCH <graph pattern binding table> */
  readonly simpleMatch: Rule<MatchClause> = this.rule(
    'simpleMatch',
    () => {
      const first = this.CONSUME(W.MATCH);
      const pattern = this.SUBRULE(this.graphPattern);
      return this.ACTION(() => ({ ...pattern, span: this.since(first) }));
    },
    () => ({ kind: 'match', mode: undefined, paths: [], where: undefined, span: NOWHERE }),
  );

  /** <optional operand> ::= <simple match statement> | { <match statement block> } | ( <match statement block> ) */
  readonly optionalMatch: Rule<OptionalClause> = this.rule(
    'optionalMatch',
    () => {
      const first = this.CONSUME(W.OPTIONAL);
      const clauses = this.OR([
        alt(() => {
          const match = this.SUBRULE(this.simpleMatch);
          return [match];
        }),
        alt(() => {
          this.CONSUME(S.leftBrace);
          const block = this.SUBRULE(this.matchBlock);
          this.CONSUME(S.rightBrace);
          return block;
        }),
        alt(() => {
          this.CONSUME(S.leftParenthesis);
          const block = this.SUBRULE2(this.matchBlock);
          this.CONSUME(S.rightParenthesis);
          return block;
        }),
      ]);
      return this.ACTION(() => ({ kind: 'optional', clauses, span: this.since(first) }));
    },
    noClause,
  );

  /** <let statement> ::= LET <let variable definition> { <comma> <let variable definition> }… */
  readonly letStatement: Rule<LetClause[]> = this.rule(
    'letStatement',
    () => {
      const clauses: LetClause[] = [];
      this.CONSUME(W.LET);
      this.AT_LEAST_ONE_SEP(byCommas(() => clauses.push(this.SUBRULE(this.letDefinition))));
      return clauses;
    },
    () => [],
  );

  /** <let variable definition> ::= [ VALUE ] <binding variable> <equals operator> <value expression> */
  readonly letDefinition: Rule<LetClause> = this.rule(
    'letDefinition',
    () => {
      const first = this.ACTION(() => this.LA(1));
      this.OPTION(
        provided(
          () => !this.is(this.LA(2), 'equals'),
          () => this.CONSUME(W.VALUE),
        ),
      );
      const variable = this.SUBRULE(this.variableName);
      this.CONSUME(S.equals);
      const value = this.SUBRULE(this.expression);
      return this.ACTION(() => ({ kind: 'let', variable, value, span: this.since(first) }));
    },
    () => ({ kind: 'let', variable: this.noName(), value: nothing(), span: NOWHERE }),
  );

  /** <filter statement> ::= FILTER ( <where clause> | <search condition> ) */
  readonly filterStatement: Rule<FilterClause> = this.rule(
    'filterStatement',
    () => {
      const first = this.CONSUME(W.FILTER);
      const condition: Expression = this.OR([
        alt(() => this.SUBRULE(this.whereClause)),
        alt(() => this.SUBRULE(this.expression)),
      ]);
      return this.ACTION(() => ({ kind: 'filter', condition, span: this.since(first) }));
    },
    () => ({ kind: 'filter', condition: nothing(), span: NOWHERE }),
  );

  /**
   * <for statement> ::= FOR <binding variable> IN <list value expression> [ WITH ( ORDINALITY | OFFSET ) <binding variable> ]
   */
  readonly forStatement: Rule<ForClause> = this.rule(
    'forStatement',
    () => {
      const first = this.CONSUME(W.FOR);
      const variable = this.SUBRULE(this.variableName);
      this.CONSUME(W.IN);
      const list = this.SUBRULE(this.expression);
      const position = this.OPTION(() => {
        this.CONSUME(W.WITH);
        const token = this.OR([alt(() => this.CONSUME(W.ORDINALITY)), alt(() => this.CONSUME(W.OFFSET))]);
        const name = this.SUBRULE2(this.variableName);
        return this.ACTION((): ForClause['position'] => ({
          kind: token.tokenType === W.OFFSET ? 'OFFSET' : 'ORDINALITY',
          variable: name,
        }));
      });
      return this.ACTION(() => ({ kind: 'for', variable, list, position, span: this.since(first) }));
    },
    () => ({ kind: 'for', variable: this.noName(), list: nothing(), position: undefined, span: NOWHERE }),
  );

  /**
   * <order by and page statement> ::= <order by clause> [ <offset clause> ] [ <limit clause> ] | <offset clause> [ <limit
   * clause> ] | <limit clause>
   */
  readonly pageStatement: Rule<PageClause> = this.rule(
    'pageStatement',
    () => {
      const first = this.ACTION(() => this.LA(1));
      let orderBy: SortKey[] | undefined;
      let offset: PageClause['offset'];
      let limit: PageClause['limit'];
      this.OR([
        alt(() => {
          orderBy = this.SUBRULE(this.orderByClause);
          offset = this.OPTION(() => this.SUBRULE(this.offsetClause));
          limit = this.OPTION2(() => this.SUBRULE(this.limitClause));
        }),
        alt(() => {
          offset = this.SUBRULE2(this.offsetClause);
          limit = this.OPTION3(() => this.SUBRULE2(this.limitClause));
        }),
        alt(() => {
          limit = this.SUBRULE3(this.limitClause);
        }),
      ]);
      return this.ACTION(() => ({
        kind: 'page',
        orderBy: orderBy ?? [],
        offset,
        limit,
        span: this.since(first),
      }));
    },
    () => ({ kind: 'page', orderBy: [], offset: undefined, limit: undefined, span: NOWHERE }),
  );

  /** <order by clause> ::= ORDER BY <sort specification> { <comma> <sort specification> }… */
  readonly orderByClause: Rule<SortKey[]> = this.rule(
    'orderByClause',
    () => {
      const keys: SortKey[] = [];
      this.CONSUME(W.ORDER);
      this.CONSUME(W.BY);
      this.AT_LEAST_ONE_SEP(byCommas(() => keys.push(this.SUBRULE(this.sortKey))));
      return keys;
    },
    () => [],
  );

  /** <sort specification> ::= <sort key> [ ASC | ASCENDING | DESC | DESCENDING ] [ NULLS FIRST | NULLS LAST ] */
  readonly sortKey: Rule<SortKey> = this.rule(
    'sortKey',
    () => {
      const value = this.SUBRULE(this.expression);
      const direction = this.OPTION(() =>
        this.OR([
          alt(() => this.CONSUME(W.ASC)),
          alt(() => this.CONSUME(W.ASCENDING)),
          alt(() => this.CONSUME(W.DESC)),
          alt(() => this.CONSUME(W.DESCENDING)),
        ]),
      );
      const nulls = this.OPTION2(() => {
        this.CONSUME(W.NULLS);
        return this.OR2([alt(() => this.CONSUME(W.FIRST)), alt(() => this.CONSUME(W.LAST))]);
      });
      return this.ACTION((): SortKey => {
        const descending = direction?.tokenType === W.DESC || direction?.tokenType === W.DESCENDING;
        const place = nulls && (nulls.tokenType === W.FIRST ? 'FIRST' : 'LAST');
        return { kind: 'sort-key', value, descending, nulls: place, span: this.since(value) };
      });
    },
    () => ({ kind: 'sort-key', value: nothing(), descending: false, nulls: undefined, span: NOWHERE }),
  );

  /** <non-negative integer specification> ::= <unsigned integer> | <dynamic parameter specification> */
  readonly count: Rule<NumberLiteral | Parameter> = this.rule(
    'count',
    () =>
      this.OR([
        alt(() => {
          const token = this.CONSUME(NUMBER);
          return this.ACTION((): NumberLiteral => {
            const value = this.numberOf(token);
            if (!Number.isInteger(value))
              this.report('page', spanOf(token), 'Rows are counted in whole numbers');
            return { kind: 'number', value, span: spanOf(token) };
          });
        }),
        alt(() => this.SUBRULE(this.parameter)),
      ]),
    () => ({ kind: 'number', value: 0, span: NOWHERE }),
  );

  /** <offset clause> ::= ( OFFSET | SKIP ) <non-negative integer specification> */
  readonly offsetClause: Rule<NumberLiteral | Parameter> = this.rule(
    'offsetClause',
    () => {
      this.OR([alt(() => this.CONSUME(W.OFFSET)), alt(() => this.CONSUME(W.SKIP))]);
      return this.SUBRULE(this.count);
    },
    noCount,
  );

  /** <limit clause> ::= LIMIT <non-negative integer specification> */
  readonly limitClause: Rule<NumberLiteral | Parameter> = this.rule(
    'limitClause',
    () => {
      this.CONSUME(W.LIMIT);
      return this.SUBRULE(this.count);
    },
    noCount,
  );
}
