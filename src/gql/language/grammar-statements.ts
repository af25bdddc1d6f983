/** Statements of a linear query before its RETURN (ISO/IEC 39075:2024, 14.3 to 14.8). The production is above each rule. */
import type { Clause, Expression, FilterClause, LetClause, MatchClause, OptionalClause } from './ast.ts';
import { alt, byCommas, NOWHERE, provided, type Rule } from './grammar-base.ts';
import { nothing } from './grammar-calls.ts';
import { PatternGrammar } from './grammar-patterns.ts';
import { S, W } from './tokens.ts';

const noClause = (): OptionalClause => ({ kind: 'optional', clauses: [], span: NOWHERE });

export abstract class StatementGrammar extends PatternGrammar {
  /**
   * <simple linear query statement> ::= <simple query statement> …
   * <primitive query statement> ::= <match statement> | <let statement> | <filter statement>
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
        ]),
      );
      return clauses;
    },
    () => [],
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
}
