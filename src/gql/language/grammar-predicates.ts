/** Boolean expressions, predicates and CASE (ISO/IEC 39075:2024, clause 19, 20.7, 20.20). */
import type { IToken } from 'chevrotain';
import type {
  Case,
  CaseBranch,
  CaseSubject,
  ComparisonOperator,
  Exists,
  Expression,
  LabelExpression,
  MatchingClause,
  Variable,
} from './ast.ts';
import { alt, byCommas, NOWHERE, provided, type Rule, spanOf } from './grammar-base.ts';
import { nothing } from './grammar-calls.ts';
import { testIn, ValueGrammar } from './grammar-values.ts';
import { S, W } from './tokens.ts';

const COMPARISONS: Readonly<Record<string, ComparisonOperator>> = {
  '=': '=',
  '<>': '<>',
  '<': '<',
  '<=': '<=',
  '>': '>',
  '>=': '>=',
};

export abstract class PredicateGrammar extends ValueGrammar {
  /** From the grammar of patterns: `MATCH … MATCH …`, or a bare graph pattern. */
  abstract readonly existsBody: Rule<MatchingClause[]>;
  abstract readonly labelExpression: Rule<LabelExpression>;

  /**
   * <value expression> ::= <common value expression> | <boolean value expression>
   * <boolean value expression> ::= <boolean term> { ( OR | XOR ) <boolean term> }…
   */
  readonly expression: Rule<Expression> = this.rule(
    'expression',
    () => {
      let left = this.SUBRULE(this.conjunction);
      let operands: Expression[] = [left];
      let operator: 'OR' | 'XOR' | undefined;
      this.MANY(() => {
        const token = this.OR([alt(() => this.CONSUME(W.OR)), alt(() => this.CONSUME(W.XOR))]);
        const right = this.SUBRULE2(this.conjunction);
        this.ACTION(() => {
          const next = token.tokenType === W.OR ? 'OR' : 'XOR';
          operands = operator === next || operator === undefined ? [...operands, right] : [left, right];
          operator = next;
          left = { kind: 'logical', operator, operands, span: this.since(left) };
        });
      });
      return left;
    },
    nothing,
  );

  /** <boolean term> ::= <boolean factor> { AND <boolean factor> }… */
  readonly conjunction: Rule<Expression> = this.rule(
    'conjunction',
    () => {
      const operands = [this.SUBRULE(this.negation)];
      this.MANY(() => {
        this.CONSUME(W.AND);
        operands.push(this.SUBRULE2(this.negation));
      });
      return this.ACTION((): Expression => {
        const [first] = operands;
        if (operands.length === 1) return first!;
        return { kind: 'logical', operator: 'AND', operands, span: this.since(first!) };
      });
    },
    nothing,
  );

  /** <boolean factor> ::= [ NOT ] <boolean test>; the published grammar has NOT any number of times */
  readonly negation: Rule<Expression> = this.rule(
    'negation',
    () => {
      const nots: IToken[] = [];
      this.MANY(() => nots.push(this.CONSUME(W.NOT)));
      const operand = this.SUBRULE(this.predicate);
      return this.ACTION((): Expression => {
        // The standard's rules test first; the published grammar negates first.
        if (nots.length > 0 && operand.kind === 'is-truth' && this.isBare(operand)) {
          const test = `IS ${operand.negated ? 'NOT ' : ''}${this.upper(this.LA(0))}`;
          const fix = `put parentheses: NOT (… ${test}) or (NOT …) ${test}`;
          this.report('syntax', this.since(nots[0]!), `Readers of GQL differ on NOT before ${test}; ${fix}`);
        }
        return nots.reduceRight(
          (inner, not) => ({ kind: 'not', operand: inner, span: this.since(not) }),
          operand,
        );
      });
    },
    nothing,
  );

  /**
   * <boolean test> ::= <boolean primary> [ IS [ NOT ] <truth value> ]
   * <comparison predicate> ::= <comparison predicand> <comp op> <comparison predicand>
   * with `IN` as ours. Predicates about a single value are read with that value, see `tested`.
   */
  readonly predicate: Rule<Expression> = this.rule(
    'predicate',
    () => {
      let result = this.SUBRULE(this.value);
      let compared = false;
      this.MANY(() => {
        const token = this.ACTION(() => this.LA(1));
        const left = result;
        result = this.OR([
          alt(() => this.SUBRULE(this.comparisonPart2, { ARGS: [left] })),
          alt(() => this.SUBRULE(this.membershipPart2, { ARGS: [left] })),
          alt(() => this.SUBRULE(this.isPart2, { ARGS: [left] })),
        ]);
        this.ACTION(() => {
          if (token.tokenType !== W.IS) {
            if (compared) this.chained(token);
          } else if (result.kind === 'is-truth') this.bare.add(result);
          else this.misplaced(token, left);
          compared = true;
        });
      });
      return result;
    },
    nothing,
  );

  /** [ NOT ] IN <list> */
  readonly membershipPart2 = this.RULE(
    'membershipPart2',
    (operand: Expression): Expression => {
      const not = this.OPTION(() => this.CONSUME(W.NOT));
      this.CONSUME(W.IN);
      const list = this.SUBRULE(this.value);
      return this.ACTION((): Expression => {
        if (this.isBare(list)) this.tooTight(list, 'IN');
        return { kind: 'in', operand, list, negated: !!not, span: this.since(operand) };
      });
    },
    { recoveryValueFunc: nothing },
  );

  /**
   * <null predicate> ::= <value expression primary> <null predicate part 2>
   * <labeled predicate> ::= <element variable reference> ( IS [ NOT ] LABELED | <colon> ) <label expression>
   * and the other predicates about one value: they bind more tightly than any operator.
   */
  readonly tested: Rule<Expression> = this.rule(
    'tested',
    () => {
      let result = this.SUBRULE(this.reference);
      this.OPTION(
        provided(
          () => !this.asksForTruth(),
          () => {
            const operand = result;
            result = this.OR([
              alt(() => this.SUBRULE(this.isPart2, { ARGS: [operand] })),
              alt(() => {
                this.CONSUME(S.colon);
                const labels = this.SUBRULE(this.labelExpression);
                return this.ACTION((): Expression => {
                  const element = this.variableFor(operand, 'A label is asked of a variable');
                  return { kind: 'is-labeled', element, labels, negated: false, span: this.since(operand) };
                });
              }),
            ]);
            this.ACTION(() => this.bare.add(result));
          },
        ),
      );
      return result;
    },
    nothing,
  );

  /** <comparison predicate part 2> ::= <comp op> <comparison predicand> */
  readonly comparisonPart2 = this.RULE(
    'comparisonPart2',
    (left: Expression): Expression => {
      const token = this.OR([
        alt(() => this.CONSUME(S.equals)),
        alt(() => this.CONSUME(S.notEquals)),
        alt(() => this.CONSUME(S.less)),
        alt(() => this.CONSUME(S.lessOrEqual)),
        alt(() => this.CONSUME(S.greater)),
        alt(() => this.CONSUME(S.greaterOrEqual)),
      ]);
      const nots: IToken[] = [];
      this.MANY(() => nots.push(this.CONSUME(W.NOT)));
      const right = this.SUBRULE(this.value);
      return this.ACTION((): Expression => {
        if (nots.length > 0) {
          const fix = `put NOT and what it negates in parentheses, as in a ${token.image} (NOT b)`;
          this.report('syntax', spanOf(nots[0]!), `A comparison is not followed by NOT; ${fix}`);
        }
        if (this.isBare(right) && right.kind === 'is-null') {
          const { subject, test } = testIn(right);
          const fix = 'put the comparison in parentheses if you mean all of it';
          this.report('syntax', right.span, `${test} is about "${subject}" alone here; ${fix}`, 'warning');
        }
        const operator = COMPARISONS[token.image] ?? '=';
        return { kind: 'comparison', operator, left, right, span: this.since(left) };
      });
    },
    { recoveryValueFunc: nothing },
  );

  /**
   * <null predicate part 2> ::= IS [ NOT ] NULL
   * <labeled predicate part 2> ::= IS [ NOT ] LABELED <label expression>
   * <directed predicate part 2> ::= IS [ NOT ] DIRECTED
   * <source predicate part 2> ::= IS [ NOT ] SOURCE OF <edge reference>
   * <destination predicate part 2> ::= IS [ NOT ] DESTINATION OF <edge reference>
   */
  readonly isPart2 = this.RULE(
    'isPart2',
    (operand: Expression): Expression => {
      this.CONSUME(W.IS);
      const negated = !!this.OPTION(() => this.CONSUME(W.NOT));
      const span = () => this.since(operand);
      return this.OR([
        alt(() => {
          this.CONSUME(W.NULL);
          return this.ACTION((): Expression => ({ kind: 'is-null', operand, negated, span: span() }));
        }),
        alt(() => {
          const word = this.OR2([
            alt(() => this.CONSUME(W.TRUE)),
            alt(() => this.CONSUME(W.FALSE)),
            alt(() => this.CONSUME(W.UNKNOWN)),
          ]);
          return this.ACTION((): Expression => {
            const truth = word.tokenType === W.UNKNOWN ? null : word.tokenType === W.TRUE;
            return { kind: 'is-truth', operand, truth, negated, span: span() };
          });
        }),
        alt(() => {
          this.CONSUME(W.LABELED);
          const labels = this.SUBRULE(this.labelExpression);
          return this.ACTION((): Expression => {
            const element = this.variableFor(operand, 'IS LABELED is asked of a variable');
            return { kind: 'is-labeled', element, labels, negated, span: span() };
          });
        }),
        alt(() => {
          this.CONSUME(W.DIRECTED);
          return this.ACTION((): Expression => {
            const edge = this.variableFor(operand, 'IS DIRECTED is asked of a variable');
            return { kind: 'is-directed', edge, negated, span: span() };
          });
        }),
        alt(() => {
          const word = this.OR3([alt(() => this.CONSUME(W.SOURCE)), alt(() => this.CONSUME(W.DESTINATION))]);
          this.CONSUME(W.OF);
          const edge = this.SUBRULE(this.variableReference);
          return this.ACTION((): Expression => {
            const end = word.tokenType === W.SOURCE ? 'SOURCE' : 'DESTINATION';
            const node = this.variableFor(operand, `IS ${end} OF is asked of a variable`);
            return { kind: 'is-endpoint', end, node, edge, negated, span: span() };
          });
        }),
      ]);
    },
    { recoveryValueFunc: nothing },
  );

  /** Primaries that begin with a word of their own. */
  readonly wordedPrimary: Rule<Expression> = this.rule(
    'wordedPrimary',
    () =>
      this.OR([
        alt(() => this.SUBRULE(this.caseExpression)),
        alt(() => this.SUBRULE(this.exists)),
        alt(() => this.SUBRULE(this.elementPredicate)),
        alt(() => this.SUBRULE(this.propertyExists)),
      ]),
    nothing,
  );

  /**
   * <searched case> ::= CASE { WHEN <search condition> THEN <result> }… [ ELSE <result> ] END
   * <simple case> ::= CASE <case operand> { WHEN <when operand list> THEN <result> }… [ ELSE <result> ] END
   */
  readonly caseExpression: Rule<Expression> = this.rule(
    'caseExpression',
    () => {
      const first = this.CONSUME(W.CASE);
      const subject = this.OPTION(() => this.SUBRULE(this.expression));
      const branches: CaseBranch[] = [];
      this.AT_LEAST_ONE(() =>
        branches.push(this.SUBRULE(this.caseBranch, { ARGS: [subject !== undefined] })),
      );
      const otherwise = this.OPTION2(() => {
        this.CONSUME(W.ELSE);
        return this.SUBRULE2(this.expression);
      });
      this.CONSUME(W.END);
      return this.ACTION(
        (): Case => ({ kind: 'case', subject, branches, otherwise, span: this.since(first) }),
      );
    },
    nothing,
  );

  readonly caseBranch = this.RULE(
    'caseBranch',
    (simple: boolean): CaseBranch => {
      const first = this.CONSUME(W.WHEN);
      const conditions: Expression[] = [];
      this.AT_LEAST_ONE_SEP(
        byCommas(() => conditions.push(this.SUBRULE(this.whenOperand, { ARGS: [simple] }))),
      );
      this.CONSUME(W.THEN);
      const result = this.SUBRULE(this.expression);
      return this.ACTION(() => {
        const span = this.since(first);
        if (!simple && conditions.length > 1) {
          this.report(
            'syntax',
            span,
            'Several values after WHEN need a value after CASE; join conditions with OR',
          );
        }
        return { kind: 'case-branch', conditions, result, span };
      });
    },
    {
      recoveryValueFunc: (): CaseBranch => ({
        kind: 'case-branch',
        conditions: [],
        result: nothing(),
        span: NOWHERE,
      }),
    },
  );

  /** <when operand> ::= <value> | <comparison predicate part 2> | <null predicate part 2> | … */
  readonly whenOperand = this.RULE(
    'whenOperand',
    (simple: boolean): Expression => {
      const subject = this.ACTION(
        (): CaseSubject => ({
          kind: 'case-subject',
          span: { start: this.LA(1).startOffset, end: this.LA(1).startOffset },
        }),
      );
      return this.OR([
        alt(() => {
          const value = this.SUBRULE(this.expression);
          return this.ACTION((): Expression => {
            if (!simple) return value;
            return { kind: 'comparison', operator: '=', left: subject, right: value, span: value.span };
          });
        }),
        alt(() => this.SUBRULE(this.comparisonPart2, { ARGS: [this.partial(simple, subject)] })),
        alt(() => this.SUBRULE(this.isPart2, { ARGS: [this.partial(simple, subject)] })),
      ]);
    },
    { recoveryValueFunc: nothing },
  );

  /** <exists predicate> ::= EXISTS ( { <graph pattern> } | { <match statement block> } | the same in parentheses ) */
  readonly exists: Rule<Expression> = this.rule(
    'exists',
    () => {
      const first = this.CONSUME(W.EXISTS);
      const clauses = this.OR([
        alt(() => {
          this.CONSUME(S.leftBrace);
          const inner = this.SUBRULE(this.existsBody);
          this.CONSUME(S.rightBrace);
          return inner;
        }),
        alt(() => {
          this.CONSUME(S.leftParenthesis);
          const inner = this.SUBRULE2(this.existsBody);
          this.CONSUME(S.rightParenthesis);
          return inner;
        }),
      ]);
      return this.ACTION((): Exists => ({ kind: 'exists', clauses, span: this.since(first) }));
    },
    nothing,
  );

  /**
   * <all_different predicate> ::= ALL_DIFFERENT <left paren> <element variable reference> { <comma> … }… <right paren>
   * <same predicate> ::= SAME <left paren> <element variable reference> { <comma> … }… <right paren>
   */
  readonly elementPredicate: Rule<Expression> = this.rule(
    'elementPredicate',
    () => {
      const word = this.OR([alt(() => this.CONSUME(W.ALL_DIFFERENT)), alt(() => this.CONSUME(W.SAME))]);
      const elements: Variable[] = [];
      this.CONSUME(S.leftParenthesis);
      this.AT_LEAST_ONE_SEP(byCommas(() => elements.push(this.SUBRULE(this.variableReference))));
      this.CONSUME(S.rightParenthesis);
      return this.ACTION((): Expression => {
        const span = this.since(word);
        if (elements.length < 2) {
          this.report('argument-count', span, `${word.image.toUpperCase()} takes at least two variables`);
        }
        return { kind: word.tokenType === W.SAME ? 'same' : 'all-different', elements, span };
      });
    },
    nothing,
  );

  /**
   * <property_exists predicate> ::= PROPERTY_EXISTS <left paren> <element variable reference> <comma> <property name>
   * <right paren>
   */
  readonly propertyExists: Rule<Expression> = this.rule(
    'propertyExists',
    () => {
      const first = this.CONSUME(W.PROPERTY_EXISTS);
      this.CONSUME(S.leftParenthesis);
      const element = this.SUBRULE(this.variableReference);
      this.CONSUME(S.comma);
      const key = this.SUBRULE(this.keyName);
      this.CONSUME(S.rightParenthesis);
      return this.ACTION(
        (): Expression => ({ kind: 'property-exists', element, key, span: this.since(first) }),
      );
    },
    nothing,
  );

  /** Whether `IS [ NOT ] TRUE` or its like comes next, which is about a whole comparison. */
  private asksForTruth(): boolean {
    if (this.LA(1).tokenType !== W.IS) return false;
    const word = this.LA(2).tokenType === W.NOT ? this.LA(3) : this.LA(2);
    return [W.TRUE, W.FALSE, W.UNKNOWN].includes(word.tokenType);
  }

  /** `a < b < c` */
  private chained(token: IToken): void {
    const fix = 'join two comparisons with AND, as in a < b AND b < c, or put one of them in parentheses';
    this.report('syntax', spanOf(token), `A comparison does not go on with ${this.upper(token)}; ${fix}`);
  }

  /** A predicate about one value behind a whole predicate: `a = b IS TRUE IS NULL`. */
  private misplaced(token: IToken, left: Expression): void {
    const span = { start: token.startOffset, end: this.since(left).end };
    this.report('syntax', span, 'Put what comes before IS in parentheses, as in (a = b) IS NULL');
  }

  /** The left side of `WHEN > 5`, which only a simple CASE has. */
  private partial(simple: boolean, subject: CaseSubject): CaseSubject {
    return this.ACTION(() => {
      if (!simple)
        this.report('syntax', spanOf(this.LA(1)), 'There is no value after CASE that this could be about');
      return subject;
    });
  }

  private variableFor(operand: Expression, need: string): Variable {
    if (operand.kind === 'variable') {
      if (this.enclosed.has(operand)) this.report('syntax', operand.span, `${need} without parentheses`);
      return operand;
    }
    // In a simple CASE the subject is used as it is; checks ensure that it is a variable.
    if (operand.kind !== 'case-subject') this.report('element-expected', operand.span, need);
    else this.report('not-supported', operand.span, `${need}; write a searched CASE`);
    return { kind: 'variable', name: '', span: operand.span };
  }
}
