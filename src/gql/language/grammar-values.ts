/**
 * Value expressions up to predicates: arithmetic, references, literals (ISO/IEC 39075:2024, clause 20 and
 * 21.2). The production is above each rule.
 */
import type { IToken } from 'chevrotain';
import type { Expression } from './ast.ts';
import { alt, byCommas, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { CallGrammar, nothing } from './grammar-calls.ts';
import { printExpression } from './print.ts';
import { NUMBER, PARAMETER, S, STRING, W } from './tokens.ts';

export abstract class ValueGrammar extends CallGrammar {
  /** CASE, EXISTS, ALL_DIFFERENT, SAME, PROPERTY_EXISTS. */
  abstract readonly wordedPrimary: Rule<Expression>;
  /** A value, or a predicate about one value without an operator, such as `x IS NULL`. */
  abstract readonly tested: Rule<Expression>;

  /** <character string concatenation>, <list concatenation> ::= … <concatenation operator> … */
  readonly value: Rule<Expression> = this.rule(
    'value',
    () => {
      let left = this.SUBRULE(this.sum);
      this.MANY(() => {
        this.CONSUME(S.concatenate);
        const right = this.SUBRULE2(this.sum);
        left = this.ACTION(() => {
          if (this.isBare(right)) this.tooTight(right, '||');
          return { kind: 'concatenation', left, right, span: this.since(left) };
        });
      });
      return left;
    },
    nothing,
  );

  /** <numeric value expression> ::= <term> { ( <plus sign> | <minus sign> ) <term> }… */
  readonly sum: Rule<Expression> = this.rule(
    'sum',
    () => {
      let left = this.SUBRULE(this.term);
      this.MANY(() => {
        const sign = this.OR([alt(() => this.CONSUME(S.plus)), alt(() => this.CONSUME(S.minus))]);
        const right = this.SUBRULE2(this.term);
        left = this.ACTION(() => {
          const operator = sign.tokenType === S.plus ? '+' : '-';
          if (this.isBare(right)) this.tooTight(right, operator);
          return { kind: 'arithmetic', operator, left, right, span: this.since(left) };
        });
      });
      return left;
    },
    nothing,
  );

  /** <term> ::= <factor> { ( <asterisk> | <solidus> ) <factor> }… */
  readonly term: Rule<Expression> = this.rule(
    'term',
    () => {
      let left = this.SUBRULE(this.factor);
      this.MANY(() => {
        const sign = this.OR([alt(() => this.CONSUME(S.asterisk)), alt(() => this.CONSUME(S.solidus))]);
        const right = this.SUBRULE2(this.factor);
        left = this.ACTION(() => {
          const operator = sign.tokenType === S.asterisk ? '*' : '/';
          if (this.isBare(right)) this.tooTight(right, operator);
          return { kind: 'arithmetic', operator, left, right, span: this.since(left) };
        });
      });
      return left;
    },
    nothing,
  );

  /** <factor> ::= [ <sign> ] <numeric primary>; the published grammar has any number of signs */
  readonly factor: Rule<Expression> = this.rule(
    'factor',
    () => {
      const signs: IToken[] = [];
      this.MANY(() =>
        this.OR([alt(() => signs.push(this.CONSUME(S.plus))), alt(() => signs.push(this.CONSUME(S.minus)))]),
      );
      const operand = this.SUBRULE(this.tested);
      return this.ACTION((): Expression => {
        if (signs.length > 0 && this.isBare(operand))
          this.tooTight(operand, signs.at(-1)!.image, signs.at(-1)!.image);
        return signs.reduceRight(
          (inner, sign) => ({
            kind: 'sign',
            operator: sign.tokenType === S.plus ? '+' : '-',
            operand: inner,
            span: this.since(sign),
          }),
          operand,
        );
      });
    },
    nothing,
  );

  /** <property reference> ::= <property source> <period> <property name> */
  readonly reference: Rule<Expression> = this.rule(
    'reference',
    () => {
      let object = this.SUBRULE(this.primary);
      this.MANY(() => {
        this.CONSUME(S.period);
        const key = this.SUBRULE(this.keyName);
        object = this.ACTION(() => ({ kind: 'property', object, key, span: this.since(object) }));
      });
      return object;
    },
    nothing,
  );

  /** <value expression primary>, and the predicates and functions that begin with a word of their own */
  readonly primary: Rule<Expression> = this.rule(
    'primary',
    () =>
      this.OR([
        alt(() => this.SUBRULE(this.record)),
        alt(() => this.SUBRULE(this.literal)),
        alt(() => this.SUBRULE(this.parenthesized)),
        alt(() => this.SUBRULE(this.list)),
        alt(() => this.SUBRULE(this.parameter)),
        alt(() => this.SUBRULE(this.nameOrCall)),
        alt(() => this.SUBRULE(this.wordedPrimary)),
        alt(() => this.SUBRULE(this.trim)),
        alt(() => this.SUBRULE(this.cast)),
      ]),
    nothing,
  );

  /** <unsigned literal> ::= <unsigned numeric literal> | <character string literal> | TRUE | FALSE | UNKNOWN | NULL */
  readonly literal: Rule<Expression> = this.rule(
    'literal',
    () =>
      this.OR([
        alt(() => {
          const token = this.CONSUME(NUMBER);
          return this.ACTION(
            (): Expression => ({ kind: 'number', value: this.numberOf(token), span: spanOf(token) }),
          );
        }),
        alt(() => {
          const token = this.CONSUME(STRING);
          return this.ACTION(
            (): Expression => ({ kind: 'string', value: this.textOf(token), span: spanOf(token) }),
          );
        }),
        alt(() => {
          const token = this.OR2([alt(() => this.CONSUME(W.TRUE)), alt(() => this.CONSUME(W.FALSE))]);
          return this.ACTION(
            (): Expression => ({
              kind: 'boolean',
              value: token.tokenType === W.TRUE,
              span: spanOf(token),
            }),
          );
        }),
        alt(() => {
          const token = this.OR3([alt(() => this.CONSUME(W.NULL)), alt(() => this.CONSUME(W.UNKNOWN))]);
          return this.ACTION((): Expression => ({ kind: 'null', span: spanOf(token) }));
        }),
      ]),
    nothing,
  );

  /** <parenthesized value expression> ::= <left paren> <value expression> <right paren> */
  readonly parenthesized: Rule<Expression> = this.rule(
    'parenthesized',
    () => {
      const open = this.CONSUME(S.leftParenthesis);
      const inner = this.SUBRULE(this.expression);
      const comma = this.OPTION(() => {
        const token = this.CONSUME(S.comma);
        this.AT_LEAST_ONE_SEP(byCommas(() => this.SUBRULE2(this.expression)));
        return token;
      });
      this.CONSUME(S.rightParenthesis);
      return this.ACTION(() => {
        if (comma)
          this.report('syntax', this.since(open), 'A list is written in square brackets, such as [1, 2, 3]');
        const whole = { ...inner, span: this.since(open) };
        if (whole.kind === 'variable') this.enclosed.add(whole);
        return whole;
      });
    },
    nothing,
  );

  /** <list value constructor by enumeration> ::= <left bracket> [ <list element list> ] <right bracket> */
  readonly list: Rule<Expression> = this.rule(
    'list',
    () => {
      const open = this.CONSUME(S.leftBracket);
      const items: Expression[] = [];
      this.MANY_SEP(byCommas(() => items.push(this.SUBRULE(this.expression))));
      this.CONSUME(S.rightBracket);
      return this.ACTION(() => ({ kind: 'list', items, span: this.since(open) }));
    },
    nothing,
  );

  /** <dynamic parameter specification> ::= <general parameter reference> */
  readonly parameter: Rule<Extract<Expression, { kind: 'parameter' }>> = this.rule(
    'parameter',
    () => {
      const token = this.CONSUME(PARAMETER);
      return this.ACTION(() => {
        const quoted = /^\$[`"]/.test(token.image);
        const name = quoted ? this.textOf({ ...token, image: token.image.slice(1) }) : token.image.slice(1);
        return { kind: 'parameter', name, span: spanOf(token) };
      });
    },
    () => ({ kind: 'parameter', name: '', span: NOWHERE }),
  );

  /** A predicate without parentheses as an operand: `a.x + b.y IS NULL`. */
  protected tooTight(operand: Expression, operator: string, before = `… ${operator} `): void {
    const { subject, test } = testIn(operand);
    const fix =
      operand.kind === 'is-null'
        ? `put what it is about in parentheses, as in (${before}${subject}) ${test}`
        : 'join conditions with AND or OR';
    const message = `${test} is about "${subject}" alone, which stands right before it, and ${operator} takes no truth value; ${fix}`;
    this.report('syntax', operand.span, message);
  }
}

/** What a predicate about one value is about, and how it goes on. */
export function testIn(predicate: Expression): { readonly subject: string; readonly test: string } {
  const not = 'negated' in predicate && predicate.negated ? 'NOT ' : '';
  switch (predicate.kind) {
    case 'is-null':
      return { subject: printExpression(predicate.operand), test: `IS ${not}NULL` };
    case 'is-labeled':
      return { subject: predicate.element.name, test: `IS ${not}LABELED` };
    case 'is-directed':
      return { subject: predicate.edge.name, test: `IS ${not}DIRECTED` };
    case 'is-endpoint':
      return { subject: predicate.node.name, test: `IS ${not}${predicate.end} OF` };
    default:
      return { subject: printExpression(predicate), test: 'the test' };
  }
}
