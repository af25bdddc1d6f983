/**
 * Names, calls, aggregates, temporal literals, TRIM and CAST (ISO/IEC 39075:2024, clause 20 and 21.2). The production
 * is above each rule.
 */
import type { IToken } from 'chevrotain';
import type { Expression, Query, RecordConstructor, RecordField, Variable } from './ast.ts';
import { aggregateNamed, castTypeNamed, temporalTypeNamed } from './builtin-names.ts';
import { alt, altWhen, byCommas, GrammarBase, NOWHERE, type Rule, spanOf } from './grammar-base.ts';
import { insteadOfFunction } from './older-functions.ts';
import { readTemporal } from './temporal.ts';
import { KEY, NAME, S, STRING, W } from './tokens.ts';
import { BARE_FUNCTIONS } from './words.ts';

/** Stands in for a query that could not be read. */
export const noQuery = (): Query => ({
  kind: 'query',
  clauses: [],
  result: { kind: 'return', distinct: false, items: [], groupBy: undefined, span: NOWHERE },
  orderBy: [],
  offset: undefined,
  limit: undefined,
  span: NOWHERE,
});

/** Functions of the older dialect that make a value of fields. */
const TAKES_FIELDS: ReadonlySet<string> = new Set([
  ...['DATE', 'TIME', 'LOCALTIME', 'DATETIME', 'LOCALDATETIME', 'DURATION', 'POINT'],
]);

export const nothing = (): Expression => ({ kind: 'null', span: NOWHERE });

/** What stood between the parentheses of a call. */
interface Arguments {
  readonly star: boolean;
  readonly quantifier: 'DISTINCT' | 'ALL' | undefined;
  readonly items: Expression[];
}

export abstract class CallGrammar extends GrammarBase {
  /** From the grammar of predicates. */
  abstract readonly expression: Rule<Expression>;
  /** From the grammar of queries. */
  abstract readonly statementBlock: Rule<Query>;
  /** From the grammar of values: an expression without boolean operators and predicates. */
  abstract readonly value: Rule<Expression>;

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
   * <value query expression> ::= VALUE <nested query specification>
   * <record constructor> ::= [ RECORD ] <fields specification>
   * <binding variable reference> <temporal literal>, <duration literal> ::= ( DATE | TIME | DATETIME | TIMESTAMP |
   * DURATION ) <character string literal> <numeric value function> and other functions ::= <name> <left paren> [
   * <argument list> ] <right paren> <aggregate function> ::= COUNT <left paren> <asterisk> <right paren>
   *   | <general set function type> <left paren> [ DISTINCT | ALL ] <value expression> <right paren>
   *   | <binary set function type> <left paren> [ DISTINCT | ALL ] <numeric value expression> <comma> … <right paren>
   */
  readonly nameOrCall: Rule<Expression> = this.rule(
    'nameOrCall',
    () => {
      const word = this.CONSUME(NAME);
      const alternatives = [
        altWhen(
          () => word.tokenType === W.VALUE,
          () => {
            const query = this.SUBRULE(this.nestedQuery);
            return this.ACTION((): Expression => ({ kind: 'value-query', query, span: this.since(word) }));
          },
        ),
        altWhen(
          () => word.tokenType === W.RECORD,
          () => {
            const record = this.SUBRULE(this.record);
            return this.ACTION((): Expression => ({ ...record, span: this.since(word) }));
          },
        ),
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
      ];
      // Both VALUE and RECORD have a brace behind them, and are told apart by themselves.
      return this.OR({ DEF: alternatives, IGNORE_AMBIGUITIES: true });
    },
    nothing,
  );

  /** <fields specification> ::= <left brace> [ <field list> ] <right brace> */
  readonly record: Rule<RecordConstructor> = this.rule(
    'record',
    () => {
      const first = this.CONSUME(S.leftBrace);
      const fields: RecordField[] = [];
      this.MANY_SEP(byCommas(() => fields.push(this.SUBRULE(this.recordField))));
      this.CONSUME(S.rightBrace);
      return this.ACTION((): RecordConstructor => {
        const seen = new Set<string>();
        for (const { key } of fields) {
          if (seen.has(key.text))
            this.report('syntax', key.span, `The record has a field "${key.text}" already`);
          seen.add(key.text);
        }
        return { kind: 'record', fields, span: this.since(first) };
      });
    },
    () => ({ kind: 'record', fields: [], span: NOWHERE }),
  );

  /** <field> ::= <field name> <colon> <value expression> */
  readonly recordField: Rule<RecordField> = this.rule(
    'recordField',
    () => {
      const key = this.SUBRULE(this.keyName);
      this.CONSUME(S.colon);
      const value = this.SUBRULE(this.expression);
      return this.ACTION(() => ({ kind: 'record-field', key, value, span: this.since(key) }));
    },
    () => ({ kind: 'record-field', key: this.noName(), value: nothing(), span: NOWHERE }),
  );

  /** <nested query specification> ::= <left brace> <query specification> <right brace> */
  readonly nestedQuery: Rule<Query> = this.rule(
    'nestedQuery',
    () => {
      this.CONSUME(S.leftBrace);
      const query = this.SUBRULE(this.statementBlock);
      this.CONSUME(S.rightBrace);
      return query;
    },
    noQuery,
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
   * <trim function> ::= TRIM <left paren> [ [ LEADING | TRAILING | BOTH ] [ <trim character string> ] FROM ] <trim
   * source> <right paren> <trim list function> ::= TRIM <left paren> <list value expression> <comma> <numeric value
   * expression> <right paren>
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
      const message = /^x$/i.test(word.image)
        ? 'Byte strings are not part of the supported subset'
        : 'A text after a word is a literal of DATE, TIME, DATETIME, TIMESTAMP or DURATION only';
      this.report(/^x$/i.test(word.image) ? 'not-supported' : 'syntax', span, message);
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
    // Of the older dialect, which `older-dialect.ts` has the words for.
    if (TAKES_FIELDS.has(name) && items[0]?.kind === 'record')
      this.report('syntax', span, `${name} takes no record`);
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
    // The check says what a function of the older dialect is called here.
    if ((star || quantifier) && !insteadOfFunction(name)) {
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
  DURATION:
    "write DURATION 'P1Y6M' or DURATION 'P2DT3H'; months and days do not mix, and only the last part has a fraction",
} as const;

/** <normal form> in NORMALIZE(text, NFC) is a word and no variable. */
function formNamed(name: string, items: readonly Expression[]): readonly Expression[] {
  const form = items[1];
  if (name !== 'NORMALIZE' || form?.kind !== 'variable' || !/^NFK?[CD]$/i.test(form.name)) return items;
  return [items[0]!, { kind: 'string', value: form.name.toUpperCase(), span: form.span }];
}
