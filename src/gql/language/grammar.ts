/** Queries (ISO/IEC 39075:2024, clause 14): what a whole text is. */
import type {
  Conjunction,
  Expression,
  Query,
  ReturnClause,
  ReturnItem,
  Span,
  TableClause,
  TablePart,
  Variable,
} from './ast.ts';
import { alt, byCommas, NOWHERE, type Rule } from './grammar-base.ts';
import { noQuery } from './grammar-calls.ts';
import { StatementGrammar } from './grammar-statements.ts';
import { S, W } from './tokens.ts';

const nothing = (): Expression => ({ kind: 'null', span: NOWHERE });
const noReturn = (): ReturnClause => ({
  kind: 'return',
  distinct: false,
  items: [],
  groupBy: undefined,
  span: NOWHERE,
});

export class QueryGrammar extends StatementGrammar {
  constructor(isChecked = false) {
    super(isChecked);
    this.performSelfAnalysis();
  }

  /** A whole text; the semicolon is what programs that read several at once put behind each. */
  readonly query: Rule<Query> = this.rule(
    'query',
    () => {
      const query = this.SUBRULE(this.statementBlock);
      this.OPTION(() => this.CONSUME(S.semicolon));
      return query;
    },
    noQuery,
  );

  /**
   * <statement block> ::= <statement> { NEXT <statement> }…
   * <statement> ::= <composite query statement>
   */
  readonly statementBlock: Rule<Query> = this.rule(
    'statementBlock',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const statements: TablePart[][] = [];
      statements.push(this.SUBRULE(this.composite));
      this.MANY(() => {
        this.CONSUME(W.NEXT);
        statements.push(this.SUBRULE2(this.composite));
      });
      return this.ACTION(() => queryOf(statements, this.since(first)));
    },
    noQuery,
  );

  /**
   * <composite query expression> ::= <linear query statement> { <query conjunction> <linear query statement> }…
   */
  readonly composite: Rule<TablePart[]> = this.rule(
    'composite',
    () => {
      const first = this.SUBRULE(this.linearQuery);
      const parts: TablePart[] = [];
      this.ACTION(() =>
        parts.push({ kind: 'table-part', conjunction: undefined, query: first, span: first.span }),
      );
      this.MANY(() => {
        const token = this.ACTION(() => this.LA(1));
        const conjunction = this.SUBRULE(this.queryConjunction);
        const query = this.SUBRULE2(this.linearQuery);
        this.ACTION(() => parts.push({ kind: 'table-part', conjunction, query, span: this.since(token) }));
      });
      return parts;
    },
    () => [],
  );

  /**
   * <query conjunction> ::= ( UNION | EXCEPT | INTERSECT ) [ DISTINCT | ALL ] | OTHERWISE
   */
  readonly queryConjunction: Rule<Conjunction> = this.rule(
    'queryConjunction',
    () =>
      this.OR([
        alt((): Conjunction => {
          this.CONSUME(W.OTHERWISE);
          return 'OTHERWISE';
        }),
        alt((): Conjunction => {
          const token = this.OR2([
            alt(() => this.CONSUME(W.UNION)),
            alt(() => this.CONSUME(W.EXCEPT)),
            alt(() => this.CONSUME(W.INTERSECT)),
          ]);
          const quantifier = this.OPTION(() =>
            this.OR3([alt(() => this.CONSUME(W.DISTINCT)), alt(() => this.CONSUME(W.ALL))]),
          );
          return this.ACTION((): Conjunction => {
            const word =
              token.tokenType === W.UNION ? 'UNION' : token.tokenType === W.EXCEPT ? 'EXCEPT' : 'INTERSECT';
            return quantifier?.tokenType === W.ALL ? `${word} ALL` : word;
          });
        }),
      ]),
    () => 'UNION',
  );

  /**
   * <linear query statement> ::= [ <simple linear query statement> ] <primitive result statement>
   * <primitive result statement> ::= <return statement> [ <order by and page statement> ]
   */
  readonly linearQuery: Rule<Query> = this.rule(
    'linearQuery',
    () => {
      const first = this.ACTION(() => this.LA(1));
      const clauses = this.SUBRULE(this.statements);
      const result = this.SUBRULE(this.returnClause);
      const orderBy = this.OPTION(() => this.SUBRULE(this.orderByClause));
      const offset = this.OPTION2(() => this.SUBRULE(this.offsetClause));
      const limit = this.OPTION3(() => this.SUBRULE(this.limitClause));
      const span = this.ACTION(() => this.since(first));
      return { kind: 'query', clauses, result, orderBy: orderBy ?? [], offset, limit, span };
    },
    noQuery,
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
}

/** Statements that each go on from the rows of the one before, as one query; see `TableClause`. */
function queryOf(statements: readonly (readonly TablePart[])[], span: Span): Query {
  const table = (input: TableClause | undefined, parts: readonly TablePart[]): TableClause => {
    const [first, ...others] = parts as [TablePart, ...TablePart[]];
    const whole = { start: (input ?? first).span.start, end: parts.at(-1)!.span.end };
    if (others.length > 0) return { kind: 'table', input, parts, span: whole };
    const part = { ...first, query: behind(input, first.query) };
    return { kind: 'table', input: undefined, parts: [part], span: whole };
  };
  const [last] = statements.slice(-1) as [readonly TablePart[]];
  if (last.length === 0) return noQuery();
  const input = statements
    .slice(0, -1)
    .reduce<TableClause | undefined>(
      (before, parts) => (parts.length > 0 ? table(before, parts) : before),
      undefined,
    );
  if (last.length === 1) return { ...behind(input, last[0]!.query), span };
  return {
    ...noQuery(),
    clauses: [table(input, last)],
    result: { ...noReturn(), implied: true, items: undefined },
    span,
  };
}

function behind(input: TableClause | undefined, query: Query): Query {
  return input ? { ...query, clauses: [input, ...query.clauses] } : query;
}

let shared: QueryGrammar | undefined;

/**
 * One parser for all texts: it holds no state between them but what `parse.ts` empties. Made when first asked for,
 * since its analysis takes time that programs without patterns need not spend.
 */
export function grammar(): QueryGrammar {
  shared ??= new QueryGrammar();
  return shared;
}
