/**
 * Value expressions up to predicates: arithmetic, references, literals, calls (ISO/IEC 39075:2024, clause 20 and
 * 21.2). The production stands above each rule.
 */
import type { IToken } from 'chevrotain';
import type { Expression, Variable } from './ast.ts';
import { aggregateNamed, castTypeNamed, temporalTypeNamed } from './builtin-names.ts';
import { alt, byCommas, GrammarBase, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { readTemporal } from './temporal.ts';
import { KEY, NAME, NUMBER, PARAMETER, S, STRING, W } from './tokens.ts';
import { BARE_FUNCTIONS } from './words.ts';

export const nothing = (): Expression => ({ kind: 'null', span: NOWHERE });

/** What stood between the parentheses of a call. */
interface Arguments {
  readonly star: boolean;
  readonly quantifier: 'DISTINCT' | 'ALL' | undefined;
  readonly items: Expression[];
}

export abstract class ValueGrammar extends GrammarBase {
  /** From the grammar of predicates. */
  abstract readonly expression: Rule<Expression>;
  /** CASE, EXISTS, ALL_DIFFERENT, SAME, PROPERTY_EXISTS. */
  abstract readonly wordedPrimary: Rule<Expression>;

  /** <character string concatenation>, <list concatenation> ::= … <concatenation operator> … */
  readonly value: Rule<Expression> = this.rule(
    'value',
    () => {
      let left = this.SUBRULE(this.sum);
      this.MANY(() => {
        this.CONSUME(S.concatenate);
        const right = this.SUBRULE2(this.sum);
        left = this.ACTION(() => ({ kind: 'concatenation', left, right, span: this.since(left) }));
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
          return { kind: 'arithmetic', operator, left, right, span: this.since(left) };
        });
      });
      return left;
    },
    nothing,
  );

  /** <factor> ::= [ <sign> ] <numeric primary> */
  readonly factor: Rule<Expression> = this.rule(
    'factor',
    () => {
      const sign = this.OPTION(() =>
        this.OR([alt(() => this.CONSUME(S.plus)), alt(() => this.CONSUME(S.minus))]),
      );
      const operand = this.SUBRULE(this.reference);
      return this.ACTION((): Expression => {
        if (!sign) return operand;
        return {
          kind: 'sign',
          operator: sign.tokenType === S.plus ? '+' : '-',
          operand,
          span: this.since(sign),
        };
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
          this.report('syntax', this.since(open), 'A list stands in square brackets, such as [1, 2, 3]');
        return { ...inner, span: this.since(open) };
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

  /** <binding variable reference> */
  readonly variableReference: Rule<Variable> = this.rule(
    'variableReference',
    () => {
      const name = this.SUBRULE(this.variableName);
      return this.ACTION(() => ({ kind: 'variable', name: name.text, span: name.span }));
    },
    () => ({ kind: 'variable', name: '', span: NOWHERE }),
  );

  /**
   * <binding variable reference>
   * <temporal literal>, <duration literal> ::= ( DATE | TIME | DATETIME | TIMESTAMP | DURATION ) <character string literal>
   * <numeric value function> and other functions ::= <name> <left paren> [ <argument list> ] <right paren>
   * <aggregate function> ::= COUNT <left paren> <asterisk> <right paren>
   *   | <general set function type> <left paren> [ DISTINCT | ALL ] <value expression> <right paren>
   *   | <binary set function type> <left paren> [ DISTINCT | ALL ] <numeric value expression> <comma> … <right paren>
   */
  readonly nameOrCall: Rule<Expression> = this.rule(
    'nameOrCall',
    () => {
      const word = this.CONSUME(NAME);
      return this.OR([
        alt(() => {
          const text = this.CONSUME(STRING);
          return this.ACTION(() => this.temporalLiteral(word, text));
        }),
        alt(() => {
          const given = this.SUBRULE(this.argumentList);
          return this.ACTION(() => this.call(word, given, this.since(word)));
        }),
        alt(() =>
          this.ACTION((): Expression => {
            const upper = word.image.toUpperCase();
            const span = spanOf(word);
            if (BARE_FUNCTIONS.has(upper)) {
              return { kind: 'call', name: upper, nameSpan: span, arguments: [], span };
            }
            return { kind: 'variable', name: this.named(word).text, span };
          }),
        ),
      ]);
    },
    nothing,
  );

  /** Arguments of a call, between parentheses. */
  readonly argumentList: Rule<Arguments> = this.rule(
    'argumentList',
    () => {
      let star = false;
      let quantifier: Arguments['quantifier'];
      const items: Expression[] = [];
      this.CONSUME(S.leftParenthesis);
      this.OR([
        alt(() => {
          this.CONSUME(S.asterisk);
          star = true;
        }),
        alt(() => {
          this.OPTION(() => {
            const token = this.OR2([alt(() => this.CONSUME(W.DISTINCT)), alt(() => this.CONSUME(W.ALL))]);
            quantifier = token.tokenType === W.ALL ? 'ALL' : 'DISTINCT';
          });
          this.MANY_SEP(byCommas(() => items.push(this.SUBRULE(this.expression))));
        }),
      ]);
      this.CONSUME(S.rightParenthesis);
      return { star, quantifier, items };
    },
    () => ({ star: false, quantifier: undefined, items: [] }),
  );

  /**
   * <trim function> ::= TRIM <left paren> [ [ LEADING | TRAILING | BOTH ] [ <trim character string> ] FROM ] <trim source> <right paren>
   * <trim list function> ::= TRIM <left paren> <list value expression> <comma> <numeric value expression> <right paren>
   */
  readonly trim: Rule<Expression> = this.rule(
    'trim',
    () => {
      const first = this.CONSUME(W.TRIM);
      this.CONSUME(S.leftParenthesis);
      const side = this.OPTION(() =>
        this.OR([
          alt(() => this.CONSUME(W.LEADING)),
          alt(() => this.CONSUME(W.TRAILING)),
          alt(() => this.CONSUME(W.BOTH)),
        ]),
      );
      let character: Expression | undefined;
      let source: Expression | undefined;
      let count: Expression | undefined;
      let from: IToken | undefined;
      this.OR2([
        alt(() => {
          from = this.CONSUME(W.FROM);
          source = this.SUBRULE(this.value);
        }),
        alt(() => {
          source = this.SUBRULE2(this.value);
          this.OPTION2(() =>
            this.OR3([
              alt(() => {
                character = source;
                from = this.CONSUME2(W.FROM);
                source = this.SUBRULE3(this.value);
              }),
              alt(() => {
                this.CONSUME(S.comma);
                count = this.SUBRULE4(this.value);
              }),
            ]),
          );
        }),
      ]);
      this.CONSUME(S.rightParenthesis);
      return this.ACTION((): Expression => {
        const span = this.since(first);
        const trimmed = source ?? nothing();
        if (side && !from) this.report('syntax', span, `Write TRIM(${side.image.toUpperCase()} FROM text)`);
        if (count) {
          return { kind: 'call', name: 'TRIM', nameSpan: spanOf(first), arguments: [trimmed, count], span };
        }
        const where =
          side?.tokenType === W.LEADING ? 'LEADING' : side?.tokenType === W.TRAILING ? 'TRAILING' : 'BOTH';
        return { kind: 'trim', side: where, character, source: trimmed, span };
      });
    },
    nothing,
  );

  /** <cast specification> ::= CAST <left paren> <cast operand> AS <cast target> <right paren> */
  readonly cast: Rule<Expression> = this.rule(
    'cast',
    () => {
      const first = this.CONSUME(W.CAST);
      this.CONSUME(S.leftParenthesis);
      const operand = this.SUBRULE(this.expression);
      this.CONSUME(W.AS);
      const words = [this.CONSUME(KEY)];
      // Types of two or more words: ZONED DATETIME, LOCAL TIME, TIMESTAMP WITHOUT TIME ZONE, DOUBLE PRECISION.
      this.MANY(() => words.push(this.CONSUME2(KEY)));
      this.CONSUME(S.rightParenthesis);
      return this.ACTION((): Expression => {
        const span = this.since(first);
        const written = words.map(({ image }) => image).join(' ');
        const type = castTypeNamed(written);
        if (!type) {
          this.report(
            'not-supported',
            { start: spanOf(words[0]!).start, end: spanOf(words.at(-1)!).end },
            `CAST to "${written}" is not supported; the types are STRING, INTEGER, FLOAT, BOOLEAN, DATE, TIME, DATETIME and DURATION`,
          );
        }
        return { kind: 'cast', operand, type: type ?? 'STRING', span };
      });
    },
    nothing,
  );

  private temporalLiteral(word: IToken, token: IToken): Expression {
    const span = this.since(word);
    const type = temporalTypeNamed(word.image);
    if (!type) {
      this.report(
        'syntax',
        span,
        'A text after a word is a literal of DATE, TIME, DATETIME, TIMESTAMP or DURATION only',
      );
      return nothing();
    }
    const text = this.textOf(token);
    if (!token.isInsertedInRecovery && !readTemporal(type, text)) {
      this.report(
        'bad-literal',
        spanOf(token),
        `"${text}" is not a ${type.toLowerCase()}; ${EXAMPLES[type]}`,
      );
    }
    return { kind: 'temporal', type, text, span };
  }

  private call(word: IToken, { star, quantifier, items }: Arguments, span: Expression['span']): Expression {
    const name = this.textOfName(word).toUpperCase();
    const aggregate = aggregateNamed(name);
    if (aggregate) {
      const binary = aggregate.startsWith('PERCENTILE');
      if (star ? aggregate !== 'COUNT' : items.length !== (binary ? 2 : 1)) {
        this.report(
          'argument-count',
          span,
          `${name} takes ${binary ? 'a value and a fraction' : aggregate === 'COUNT' ? 'one value or *' : 'one value'}`,
        );
      }
      return {
        kind: 'aggregate',
        name: aggregate,
        distinct: quantifier === 'DISTINCT',
        argument: star ? undefined : (items[0] ?? nothing()),
        fraction: binary ? (items[1] ?? nothing()) : undefined,
        span,
      };
    }
    if (star || quantifier) {
      this.report(
        'argument-count',
        span,
        `${name} is not an aggregate and takes neither * nor ${quantifier ?? 'ALL'}`,
      );
    }
    return { kind: 'call', name, nameSpan: spanOf(word), arguments: formNamed(name, items), span };
  }
}

const EXAMPLES = {
  DATE: "write DATE '2024-05-31'",
  TIME: "write TIME '08:30:00'",
  DATETIME: "write DATETIME '2024-05-31T08:30:00Z'",
  DURATION: "write DURATION 'P1Y6M' or DURATION 'P2DT3H'; months and days do not mix",
} as const;

/** <normal form> in NORMALIZE(text, NFC) is a word and no variable. */
function formNamed(name: string, items: readonly Expression[]): readonly Expression[] {
  const form = items[1];
  if (name !== 'NORMALIZE' || form?.kind !== 'variable' || !/^NFK?[CD]$/i.test(form.name)) return items;
  return [items[0]!, { kind: 'string', value: form.name.toUpperCase(), span: form.span }];
}
