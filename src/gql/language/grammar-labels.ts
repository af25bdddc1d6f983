/** Label expressions (ISO/IEC 39075:2024, 16.8). The production is above each rule. */
import type { IToken } from 'chevrotain';
import type { LabelExpression } from './ast.ts';
import { alt, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { PredicateGrammar } from './grammar-predicates.ts';
import { S } from './tokens.ts';

const noLabel = (): LabelExpression => ({ kind: 'label-wildcard', span: NOWHERE });

export abstract class LabelGrammar extends PredicateGrammar {
  /** <label expression> ::= <label term> { <vertical bar> <label term> }… */
  readonly labelExpression: Rule<LabelExpression> = this.rule(
    'labelExpression',
    () => {
      const operands = [this.SUBRULE(this.labelTerm)];
      this.MANY(() => {
        this.CONSUME(S.bar);
        operands.push(this.SUBRULE2(this.labelTerm));
      });
      return this.ACTION((): LabelExpression => {
        const [first] = operands;
        if (operands.length === 1) return first!;
        return { kind: 'label-disjunction', operands, span: this.since(first!) };
      });
    },
    noLabel,
  );

  /** <label term> ::= <label factor> { <ampersand> <label factor> }… */
  readonly labelTerm: Rule<LabelExpression> = this.rule(
    'labelTerm',
    () => {
      const operands = [this.SUBRULE(this.labelFactor)];
      this.MANY(() => {
        this.CONSUME(S.ampersand);
        operands.push(this.SUBRULE2(this.labelFactor));
      });
      return this.ACTION((): LabelExpression => {
        const [first] = operands;
        if (operands.length === 1) return first!;
        return { kind: 'label-conjunction', operands, span: this.since(first!) };
      });
    },
    noLabel,
  );

  /** <label factor> ::= [ <exclamation mark> ] <label primary>; the published grammar negates any number of times */
  readonly labelFactor: Rule<LabelExpression> = this.rule(
    'labelFactor',
    () => {
      const nots: IToken[] = [];
      this.MANY(() => nots.push(this.CONSUME(S.exclamation)));
      const operand = this.SUBRULE(this.labelPrimary);
      return this.ACTION(() =>
        nots.reduceRight<LabelExpression>(
          (inner, not) => ({ kind: 'label-negation', operand: inner, span: this.since(not) }),
          operand,
        ),
      );
    },
    noLabel,
  );

  /** <label primary> ::= <label name> | <percent> | <left paren> <label expression> <right paren> */
  readonly labelPrimary: Rule<LabelExpression> = this.rule(
    'labelPrimary',
    () =>
      this.OR([
        alt(() => {
          const name = this.SUBRULE(this.keyName);
          return this.ACTION(
            (): LabelExpression => ({ kind: 'label-name', name: name.text, span: name.span }),
          );
        }),
        alt(() => {
          const token = this.CONSUME(S.percent);
          return this.ACTION((): LabelExpression => ({ kind: 'label-wildcard', span: spanOf(token) }));
        }),
        alt(() => {
          const open = this.CONSUME(S.leftParenthesis);
          const inner = this.SUBRULE(this.labelExpression);
          this.CONSUME(S.rightParenthesis);
          return this.ACTION((): LabelExpression => ({ ...inner, span: this.since(open) }));
        }),
      ]),
    noLabel,
  );
}
