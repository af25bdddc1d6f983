/** Queries (ISO/IEC 39075:2024, clause 14): what a whole text is. */
import type {
  Expression,
  NumberLiteral,
  Parameter,
  Query,
  ReturnClause,
  ReturnItem,
  SortKey,
  Variable,
} from './ast.ts';
import { alt, byCommas, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { StatementGrammar } from './grammar-statements.ts';
import { NUMBER, S, W } from './tokens.ts';

const nothing = (): Expression => ({ kind: 'null', span: NOWHERE });
const noReturn = (): ReturnClause => ({
  kind: 'return',
  distinct: false,
  items: [],
  groupBy: undefined,
  span: NOWHERE,
});

class QueryGrammar extends StatementGrammar {
  constructor() {
    super();
    this.performSelfAnalysis();
  }

  /**
   * <linear query statement> ::= [ <simple linear query statement> ] <primitive result statement>
   * <primitive result statement> ::= <return statement> [ <order by and page statement> ]
   * <order by and page statement> ::= [ <order by clause> ] [ <offset clause> ] [ <limit clause> ]
   */
  readonly query: Rule<Query> = this.rule(
    'query',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const clauses = this.SUBRULE(this.statements);
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
