/** Node and edge patterns (ISO/IEC 39075:2024, 16.7). The production is above each rule. */
import type { IToken } from 'chevrotain';
import type {
  EdgeDirection,
  EdgePattern,
  Expression,
  LabelExpression,
  Name,
  NodePattern,
  PropertyTest,
} from './ast.ts';
import { alt, byCommas, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { LabelGrammar } from './grammar-labels.ts';
import { S, W } from './tokens.ts';

interface Filler {
  readonly variable: Name | undefined;
  readonly labels: LabelExpression | undefined;
  readonly properties: readonly PropertyTest[];
  readonly where: Expression | undefined;
}

const EMPTY: Filler = { variable: undefined, labels: undefined, properties: [], where: undefined };
const noEdge = (): EdgePattern => ({ kind: 'edge-pattern', direction: 'any', ...EMPTY, span: NOWHERE });
export const noNode = (): NodePattern => ({ kind: 'node-pattern', ...EMPTY, span: NOWHERE });
/** By the arrow's left head, its stroke and its right head. `<~>` does not exist. */
const DIRECTIONS: Readonly<Record<string, EdgeDirection>> = {
  '-': 'any',
  '->': 'right',
  '<-': 'left',
  '<->': 'left-or-right',
  '~': 'undirected',
  '~>': 'undirected-or-right',
  '<~': 'left-or-undirected',
};

export abstract class ElementGrammar extends LabelGrammar {
  /** <graph pattern where clause>, <element pattern where clause>, … ::= WHERE <search condition> */
  readonly whereClause: Rule<Expression> = this.rule(
    'whereClause',
    () => {
      this.CONSUME(W.WHERE);
      return this.SUBRULE(this.expression);
    },
    () => ({ kind: 'null', span: NOWHERE }),
  );

  /** <node pattern> ::= <left paren> <element pattern filler> <right paren> */
  readonly nodePattern: Rule<NodePattern> = this.rule(
    'nodePattern',
    () => {
      const open = this.CONSUME(S.leftParenthesis);
      const filler = this.SUBRULE(this.filler);
      this.CONSUME(S.rightParenthesis);
      return this.ACTION(() => ({ kind: 'node-pattern', ...filler, span: this.since(open) }));
    },
    noNode,
  );

  /**
   * <full edge pattern> ::= one of <-[…]- ~[…]~ -[…]-> <~[…]~ ~[…]~> <-[…]-> -[…]-
   * <abbreviated edge pattern> ::= one of <- ~ -> <~ ~> <-> -
   */
  readonly edgePattern: Rule<EdgePattern> = this.rule(
    'edgePattern',
    () => {
      const parts: IToken[] = [];
      this.OPTION(() => parts.push(this.CONSUME(S.less)));
      const stroke = this.OR([alt(() => this.CONSUME(S.minus)), alt(() => this.CONSUME(S.tilde))]);
      parts.push(stroke);
      let filler = EMPTY;
      let close: IToken | undefined;
      this.OPTION2(() => {
        parts.push(this.CONSUME(S.leftBracket));
        filler = this.SUBRULE(this.filler);
        const bracket = this.CONSUME(S.rightBracket);
        close = this.OR2([alt(() => this.CONSUME2(S.minus)), alt(() => this.CONSUME2(S.tilde))]);
        this.ACTION(() => this.together([bracket, close!]));
      });
      const head = this.OPTION3(() => this.CONSUME(S.greater));
      return this.ACTION((): EdgePattern => {
        this.together(parts);
        if (head) this.together([close ?? stroke, head]);
        const span = this.since(parts[0]!);
        const left = parts[0]!.tokenType === S.less ? '<' : '';
        const direction = DIRECTIONS[left + stroke.image + (head ? '>' : '')];
        if (!direction || (close && close.tokenType !== stroke.tokenType)) {
          this.report(
            'syntax',
            span,
            'There is no such edge; the forms are -[…]-> <-[…]- -[…]- <-[…]-> ~[…]~ ~[…]~> <~[…]~, and the same without brackets',
          );
        }
        return { kind: 'edge-pattern', direction: direction ?? 'any', ...filler, span };
      });
    },
    noEdge,
  );

  /**
   * <element pattern filler> ::= [ <element variable> ] [ ( IS | <colon> ) <label expression> ] [ <element pattern
   * predicate> ]
   */
  readonly filler: Rule<Filler> = this.rule(
    'filler',
    () => {
      const variable = this.OPTION(() => this.SUBRULE(this.variableName));
      const labels = this.OPTION2(() => {
        this.OR([alt(() => this.CONSUME(S.colon)), alt(() => this.CONSUME(W.IS))]);
        return this.SUBRULE(this.labelExpression);
      });
      const properties = this.OPTION3(() => this.SUBRULE(this.propertyList));
      const where = this.OPTION4(() => this.SUBRULE(this.whereClause));
      return this.ACTION(() => {
        if (properties && where) {
          this.report(
            'syntax',
            where.span,
            'An element has a property list or WHERE, not both; write the properties as conditions after WHERE',
          );
        }
        return { variable, labels, properties: properties ?? [], where };
      });
    },
    () => EMPTY,
  );

  /** <element property specification> ::= <left brace> <property key value pair list> <right brace> */
  readonly propertyList: Rule<PropertyTest[]> = this.rule(
    'propertyList',
    () => {
      const open = this.CONSUME(S.leftBrace);
      const tests: PropertyTest[] = [];
      this.MANY_SEP(byCommas(() => tests.push(this.SUBRULE(this.propertyTest))));
      this.CONSUME(S.rightBrace);
      this.ACTION(() => {
        if (tests.length === 0)
          this.report('syntax', this.since(open), 'A property list names at least one property');
      });
      return tests;
    },
    () => [],
  );

  /** <property key value pair> ::= <property name> <colon> <value expression> */
  readonly propertyTest: Rule<PropertyTest> = this.rule(
    'propertyTest',
    () => {
      const key = this.SUBRULE(this.keyName);
      this.CONSUME(S.colon);
      const value = this.SUBRULE(this.expression);
      return this.ACTION(() => ({ kind: 'property-test', key, value, span: this.since(key) }));
    },
    () => ({
      kind: 'property-test',
      key: this.noName(),
      value: { kind: 'null', span: NOWHERE },
      span: NOWHERE,
    }),
  );

  /** The symbols of an edge must touch. */
  private together(tokens: readonly IToken[]): void {
    for (let i = 1; i < tokens.length; i++) {
      const [a, b] = [tokens[i - 1]!, tokens[i]!];
      if (a.isInsertedInRecovery || b.isInsertedInRecovery || spanOf(a).end === b.startOffset) continue;
      this.report(
        'syntax',
        { start: a.startOffset, end: b.startOffset + b.image.length },
        'Write the symbols of an edge without spaces between them',
      );
      return;
    }
  }
}
