/** Queries (ISO/IEC 39075:2024, clause 14): what a whole text is. */
import type {
  Clause,
  Expression,
  MatchClause,
  NumberLiteral,
  OptionalClause,
  Parameter,
  Query,
  ReturnClause,
  ReturnItem,
  SortKey,
  Variable,
} from './ast.ts';
import { alt, byCommas, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { PatternGrammar } from './grammar-patterns.ts';
import { NUMBER, S, W } from './tokens.ts';

const nothing = (): Expression => ({ kind: 'null', span: NOWHERE });
const noReturn = (): ReturnClause => ({
  kind: 'return',
  distinct: false,
  items: [],
  groupBy: undefined,
  span: NOWHERE,
});
const noClause = (): OptionalClause => ({ kind: 'optional', clauses: [], span: NOWHERE });

class QueryGrammar extends PatternGrammar {
  constructor() {
    super();
    this.performSelfAnalysis();
  }

  /**
   * <linear query statement> ::= { <match statement> }… <primitive result statement>
   * <primitive result statement> ::= <return statement> [ <order by and page statement> ]
   * <order by and page statement> ::= [ <order by clause> ] [ <offset clause> ] [ <limit clause> ]
   */
  readonly query: Rule<Query> = this.rule(
    'query',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const clauses = this.SUBRULE(this.matchBlock);
      const result = this.SUBRULE(this.returnClause);
      const orderBy = this.OPTION(() => this.SUBRULE(this.orderByClause));
      const offset = this.OPTION2(() => {
        this.OR([alt(() => this.CONSUME(W.OFFSET)), alt(() => this.CONSUME(W.SKIP))]);
        return this.SUBRULE(this.count);
      });
      const limit = this.OPTION3(() => {
        this.CONSUME(W.LIMIT);
        return this.SUBRULE2(this.count);
      });
      const span = this.ACTION(() => this.since(first));
      this.OPTION4(() => this.CONSUME(S.semicolon));
      return { kind: 'query', clauses, result, orderBy: orderBy ?? [], offset, limit, span };
    },
    () => ({
      kind: 'query',
      clauses: [],
      result: noReturn(),
      orderBy: [],
      offset: undefined,
      limit: undefined,
      span: NOWHERE,
    }),
  );

  /** <match statement block> ::= <match statement> … */
  readonly matchBlock: Rule<Clause[]> = this.rule(
    'matchBlock',
    () => {
      const clauses: Clause[] = [];
      this.AT_LEAST_ONE(() => clauses.push(this.SUBRULE(this.matchStatement)));
      return clauses;
    },
    () => [],
  );

  /** <match statement> ::= <simple match statement> | OPTIONAL <optional operand> */
  readonly matchStatement: Rule<Clause> = this.rule(
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

  /** <return statement> ::= RETURN [ DISTINCT | ALL ] ( <asterisk> | <return item list> ) [ <group by clause> ] */
  readonly returnClause: Rule<ReturnClause> = this.rule(
    'returnClause',
    () => {
      const first = this.CONSUME(W.RETURN);
      const quantifier = this.OPTION(() =>
        this.OR([alt(() => this.CONSUME(W.DISTINCT)), alt(() => this.CONSUME(W.ALL))]),
      );
      const items = this.OR2([
        alt(() => {
          this.CONSUME(S.asterisk);
          return undefined;
        }),
        alt(() => {
          const list: ReturnItem[] = [];
          this.AT_LEAST_ONE_SEP(byCommas(() => list.push(this.SUBRULE(this.returnItem))));
          return list;
        }),
      ]);
      const groupBy = this.OPTION2(() => this.SUBRULE(this.groupByClause));
      return this.ACTION(() => ({
        kind: 'return',
        distinct: quantifier?.tokenType === W.DISTINCT,
        items,
        groupBy,
        span: this.since(first),
      }));
    },
    noReturn,
  );

  /** <return item> ::= <aggregating value expression> [ AS <identifier> ] */
  readonly returnItem: Rule<ReturnItem> = this.rule(
    'returnItem',
    () => {
      const value = this.SUBRULE(this.expression);
      const alias = this.OPTION(() => {
        this.CONSUME(W.AS);
        return this.SUBRULE(this.aliasName);
      });
      return this.ACTION(() => ({ kind: 'return-item', value, alias, span: this.since(value) }));
    },
    () => ({ kind: 'return-item', value: nothing(), alias: undefined, span: NOWHERE }),
  );

  /** <group by clause> ::= GROUP BY ( <binding variable reference> { <comma> … }… | <left paren> <right paren> ) */
  readonly groupByClause: Rule<Variable[]> = this.rule(
    'groupByClause',
    () => {
      const keys: Variable[] = [];
      this.CONSUME(W.GROUP);
      this.CONSUME(W.BY);
      this.OR([
        alt(() => {
          this.AT_LEAST_ONE_SEP(byCommas(() => keys.push(this.SUBRULE(this.variableReference))));
        }),
        alt(() => {
          this.CONSUME(S.leftParenthesis);
          this.CONSUME(S.rightParenthesis);
        }),
      ]);
      return keys;
    },
    () => [],
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
}

let shared: QueryGrammar | undefined;

/**
 * One parser for all texts: it holds no state between them but what `parse.ts` empties. Made when first asked for,
 * since its analysis takes some 0.3 s that programs without patterns need not spend.
 */
export function grammar(): QueryGrammar {
  shared ??= new QueryGrammar();
  return shared;
}
