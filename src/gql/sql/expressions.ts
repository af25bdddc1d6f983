/**
 * Expressions as SQL, with the meaning of `expression/compile.ts`: null for what is of a wrong type, three-valued logic, texts by
 * code point. Over 400 lines, since it has a case for every kind of expression.
 */

import { groupVariablesOf } from '../expression/group-variables.ts';
import { valueOfProperty } from '../expression/value.ts';
import type {
  Aggregate,
  Case,
  ComparisonOperator,
  Exists,
  Expression,
  LabelExpression,
  Syntax,
  ValueQuery,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import { aggregateSql } from './aggregates.ts';
import { refuseBothWays } from './both-ways.ts';
import { type Dialect, type Kind, textLiteral } from './dialect.ts';
import { edgeLabels } from './label-sql.ts';
import type { PropertyColumns, PropertyKind, SqlFunction, SqlSchema } from './sql-schema.ts';
import {
  byKind,
  decoded,
  encoded,
  type ItemKind,
  isNotNullSql,
  isNullSql,
  kindsOf,
  NotInSql,
  NULL_VALUE,
  numberOf,
  ofKind,
  Select,
  type SqlValue,
} from './sql-value.ts';

/** Whether uncertain labels and edges count as present, or as absent. */
export type Reading = 'possible' | 'certain';

/** Where an expression stands: the SELECT that it is part of, and what its names mean there. */
export interface Frame {
  readonly select: Select;
  /** Undefined for a name that means nothing here. */
  find(name: string): SqlValue | undefined;
  isGroup(name: string): boolean;
  /** Condition that the body of an EXISTS has a row. */
  exists(node: Exists, reading: Reading): string;
  query(node: ValueQuery): SqlValue;
  /** What an aggregate over rows, or a grouping key, is called where rows are grouped. */
  readonly grouped?: ((node: Expression) => SqlValue | undefined) | undefined;
  /** The value of the innermost simple CASE. */
  readonly subject?: SqlValue;
}

export interface ExpressionSettings {
  readonly dialect: Dialect;
  readonly schema: SqlSchema;
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly functions: Readonly<Record<string, SqlFunction>>;
  /** Makes a name that no other table has. */
  readonly names: () => string;
}

const OTHER_ORDER: Partial<Record<ComparisonOperator, ComparisonOperator>> = { '<': '>', '<=': '>=' };

export class Expressions {
  readonly #settings: ExpressionSettings;
  readonly #dialect: Dialect;

  constructor(settings: ExpressionSettings) {
    this.#settings = settings;
    this.#dialect = settings.dialect;
  }

  /** A condition that is true or not: what is unknown does not hold. */
  condition(expression: Expression, frame: Frame, reading: Reading): string {
    return this.#holds(expression, frame, true, reading);
  }

  /**
   * Whether an expression is true (or false, as `wanted` says) in some world, for the possible reading, or in all of them, for the
   * certain one. What a condition asks in two places is taken apart, so that it must not be asked both ways.
   */
  #holds(node: Expression, frame: Frame, wanted: boolean, reading: Reading): string {
    if (!this.#settings.schema.uncertain || !asksLabels(node, frame)) {
      const truth = this.truth(node, frame);
      return wanted ? truth : `NOT ${truth}`;
    }
    const opposite: Reading = reading === 'possible' ? 'certain' : 'possible';
    switch (node.kind) {
      case 'not':
        return this.#holds(node.operand, frame, !wanted, reading);
      case 'logical': {
        if (node.operator === 'XOR') break;
        refuseBothWays(node);
        const word = (node.operator === 'AND') === wanted ? 'AND' : 'OR';
        return `(${node.operands.map((one) => `(${this.#holds(one, frame, wanted, reading)})`).join(` ${word} `)})`;
      }
      case 'is-labeled': {
        const element = this.value(node.element, frame);
        const positive = node.negated ? !wanted : wanted;
        const has = this.#labeled(element, node.labels, positive ? reading : opposite);
        return `(${isNotNullSql(element)} AND ${positive ? has : `NOT ${has}`})`;
      }
      case 'exists':
        return wanted ? frame.exists(node, reading) : `NOT ${frame.exists(node, opposite)}`;
      case 'is-truth': {
        if (node.truth === null) break;
        const positive = node.negated ? !wanted : wanted;
        if (positive) return this.#holds(node.operand, frame, node.truth, reading);
        return `(${this.#holds(node.operand, frame, node.truth, opposite)}) IS NOT TRUE`;
      }
      case 'case': {
        if (node.subject) break;
        refuseBothWays(node);
        return this.#caseHolds(node, frame, wanted, reading, opposite);
      }
      default:
    }
    throw new NotInSql(
      node.span,
      'Labels and edges that are uncertain can be asked by AND, OR, NOT, IS TRUE and a searched CASE alone in SQL; write the condition so',
    );
  }

  #caseHolds(node: Case, frame: Frame, wanted: boolean, reading: Reading, opposite: Reading): string {
    // In the certain reading: no world in which it is otherwise.
    const otherwise = node.otherwise ?? ({ kind: 'null', span: node.span } as const);
    if (reading === 'certain')
      throw new NotInSql(node.span, 'CASE about uncertain labels is not compiled to SQL where it is negated');
    const cases: string[] = [];
    const before: string[] = [];
    for (const { conditions, result } of node.branches) {
      const condition = conditions[0]!;
      const taken = this.#holds(condition, frame, true, 'possible');
      cases.push(
        `(${[...before, `(${taken})`, `(${this.#holds(result, frame, wanted, reading)})`].join(' AND ')})`,
      );
      // Possibly not true: not certainly true.
      before.push(`(${this.#holds(condition, frame, true, opposite)}) IS NOT TRUE`);
    }
    cases.push(`(${[...before, `(${this.#holds(otherwise, frame, wanted, reading)})`].join(' AND ')})`);
    return `(${cases.join(' OR ')})`;
  }

  /** A three-valued condition: true, false or null. */
  truth(expression: Expression, frame: Frame): string {
    return this.value(expression, frame).parts.boolean ?? 'CAST(NULL AS BOOLEAN)';
  }

  value(node: Expression, frame: Frame): SqlValue {
    const known = frame.grouped?.(node);
    if (known) return known;
    switch (node.kind) {
      case 'number':
      case 'string':
      case 'boolean':
        return this.#literal(node.value, node);
      case 'null':
        return NULL_VALUE;
      case 'parameter':
        return this.#literal(valueOfProperty(this.#settings.parameters[node.name]), node);
      case 'variable': {
        const found = frame.find(node.name);
        if (!found) throw new NotInSql(node.span, `"${node.name}" is not at hand here in SQL`);
        return found;
      }
      case 'property':
        return this.#property(node, frame);
      case 'sign': {
        const { number } = this.value(node.operand, frame).parts;
        return number === undefined
          ? NULL_VALUE
          : ofKind('number', node.operator === '-' ? `(-${number})` : number);
      }
      case 'arithmetic': {
        const [a, b] = [
          this.value(node.left, frame).parts.number,
          this.value(node.right, frame).parts.number,
        ];
        if (a === undefined || b === undefined) return NULL_VALUE;
        const divided = node.operator === '/' ? `nullif(${b}, 0)` : b;
        return ofKind('number', this.#dialect.finite(`(${a} ${node.operator} ${divided})`));
      }
      case 'concatenation':
        return this.#concatenation(node, frame);
      case 'comparison':
        return boolean(
          this.#compared(node.operator, this.value(node.left, frame), this.value(node.right, frame), node),
        );
      case 'not':
        return boolean(`(NOT ${this.truth(node.operand, frame)})`, this.value(node.operand, frame));
      case 'logical': {
        const parts = node.operands.map((operand) => this.truth(operand, frame));
        if (node.operator !== 'XOR') return boolean(`(${parts.join(` ${node.operator} `)})`);
        return boolean(parts.reduce((a, b) => `(${a} <> ${b})`));
      }
      case 'is-null': {
        const value = this.value(node.operand, frame);
        return boolean(node.negated ? isNotNullSql(value) : isNullSql(value));
      }
      case 'is-truth': {
        const word = node.truth === null ? 'UNKNOWN' : node.truth ? 'TRUE' : 'FALSE';
        return boolean(`(${this.truth(node.operand, frame)} IS ${node.negated ? 'NOT ' : ''}${word})`);
      }
      case 'is-labeled': {
        const element = this.value(node.element, frame);
        const has = this.#labeled(element, node.labels, 'possible');
        return {
          ...boolean(`CASE WHEN ${isNotNullSql(element)} THEN ${node.negated ? `NOT ${has}` : has} END`),
          doubtful: this.#settings.schema.uncertain,
        };
      }
      case 'is-directed': {
        const { edge } = this.value(node.edge, frame).parts;
        if (edge === undefined) return boolean('CAST(NULL AS BOOLEAN)');
        const directed = `${frame.select.rowOf('edges', edge)}.directed`;
        return boolean(node.negated ? `(NOT ${directed})` : directed);
      }
      case 'is-endpoint': {
        const [end, edge] = [
          this.value(node.node, frame).parts.node,
          this.value(node.edge, frame).parts.edge,
        ];
        if (end === undefined || edge === undefined) return boolean('CAST(NULL AS BOOLEAN)');
        const row = frame.select.rowOf('edges', edge);
        const is = `(${row}.directed AND ${row}.${node.end === 'SOURCE' ? 'source' : 'target'} = ${end})`;
        // Of a directed edge and no node AND leaves it unknown, of an undirected edge it is false; so with no node it is null.
        const answer = `CASE WHEN ${end} IS NOT NULL THEN ${is} END`;
        return boolean(node.negated ? `(NOT ${answer})` : answer);
      }
      case 'in':
        return this.#in(node, frame);
      case 'exists':
        return { ...boolean(frame.exists(node, 'possible')), doubtful: this.#settings.schema.uncertain };
      case 'value-query':
        return frame.query(node);
      case 'all-different':
      case 'same': {
        const values = node.elements.map((element) => this.value(element, frame));
        const pairs = values.flatMap((a, i) =>
          (node.kind === 'same' ? (i === 0 ? [] : [values[0]!]) : values.slice(0, i)).map((b) => {
            const equal = this.#compared('=', a, b, node);
            // A node and an edge differ.
            return node.kind === 'same' ? `COALESCE(${equal}, FALSE)` : `NOT COALESCE(${equal}, FALSE)`;
          }),
        );
        return boolean(
          `CASE WHEN ${values.map(isNotNullSql).join(' AND ')} THEN (${pairs.join(' AND ')}) END`,
        );
      }
      case 'property-exists': {
        const element = this.value(node.element, frame);
        const value = this.#propertyOf(element, node.key.text, frame.select);
        return boolean(`CASE WHEN ${isNotNullSql(element)} THEN ${isNotNullSql(value)} END`);
      }
      case 'case':
        return this.#case(node, frame);
      case 'case-subject':
        return frame.subject ?? NULL_VALUE;
      case 'cast':
        return this.#cast(node, frame);
      case 'trim': {
        const source = this.value(node.source, frame).parts.string;
        if (source === undefined) return NULL_VALUE;
        const words = {
          LEADING: 'ltrim',
          TRAILING: 'rtrim',
          BOTH: this.#dialect.name === 'postgres' ? 'btrim' : 'trim',
        };
        const set = node.character ? this.value(node.character, frame).parts.string : textLiteral(' ');
        if (set === undefined) return NULL_VALUE;
        return ofKind(
          'string',
          `CASE WHEN length(${set}) = 1 THEN ${words[node.side]}(${source}, ${set}) END`,
        );
      }
      case 'call':
        return this.#call(node, frame);
      case 'aggregate':
        return this.#alongGroup(node, frame);
      case 'list': {
        const values = node.items.map((item) => this.value(item, frame));
        const kinds = new Set<ItemKind>(
          values.some((value) => kindsOf(value).length !== 1) || values.some((v) => kindsOf(v).length === 0)
            ? ['null']
            : [],
        );
        values.forEach((value, i) => {
          for (const kind of kindsOf(value)) {
            if (kind === 'list' || kind === 'path')
              throw new NotInSql(node.items[i]!.span, 'A list of lists or paths is not compiled to SQL');
            kinds.add(kind);
          }
        });
        const items = values.map((value) => encoded(value, this.#dialect));
        // Properties and the like may be null.
        if (node.items.some(({ kind }) => kind !== 'number' && kind !== 'string' && kind !== 'boolean'))
          kinds.add('null');
        return { parts: { list: this.#dialect.list(items, this.#dialect.types.string) }, items: [...kinds] };
      }
      case 'record':
        throw new NotInSql(
          node.span,
          'A record is compiled to SQL only where one of its fields is read at once',
        );
      case 'temporal':
        throw new NotInSql(
          node.span,
          'Dates, times and durations are not compiled to SQL; compare texts such as "2024-05"',
        );
      default:
        return node satisfies never;
    }
  }

  #literal(value: unknown, { span }: Expression): SqlValue {
    if (value === null || value === undefined) return NULL_VALUE;
    if (typeof value === 'boolean') return ofKind('boolean', value ? 'TRUE' : 'FALSE');
    if (typeof value === 'number') return ofKind('number', `CAST(${value} AS ${this.#dialect.types.number})`);
    if (typeof value === 'string') {
      if (value.includes('\0') || !value.isWellFormed())
        throw new NotInSql(
          span,
          'A text with a character that SQL has not (U+0000, half of a pair) is not compiled to SQL',
        );
      return ofKind('string', textLiteral(value));
    }
    if (Array.isArray(value)) {
      const items = value.map((item) => this.#literal(item, { span } as Expression));
      const kinds = new Set<ItemKind>();
      for (const item of items) {
        const [kind = 'null'] = kindsOf(item);
        if (kind === 'list' || kind === 'path')
          throw new NotInSql(span, 'A list of lists is not compiled to SQL');
        kinds.add(kind);
      }
      return {
        parts: {
          list: this.#dialect.list(
            items.map((item) => encoded(item, this.#dialect)),
            this.#dialect.types.string,
          ),
        },
        items: [...kinds],
      };
    }
    throw new NotInSql(span, 'A record is not compiled to SQL');
  }

  #property(node: Extract<Expression, { kind: 'property' }>, frame: Frame): SqlValue {
    if (node.object.kind === 'record') {
      const field = node.object.fields.find(({ key }) => key.text === node.key.text);
      return field ? this.value(field.value, frame) : NULL_VALUE;
    }
    return this.#propertyOf(this.value(node.object, frame), node.key.text, frame.select);
  }

  #propertyOf({ parts, doubtful }: SqlValue, key: string, select: Select): SqlValue {
    const { schema } = this.#settings;
    const read = (table: 'nodes' | 'edges', element: string | undefined): SqlValue => {
      const columns: PropertyColumns | undefined = schema[table].get(key);
      if (element === undefined || !columns) return NULL_VALUE;
      const row = select.rowOf(table, element);
      const own = Object.entries(columns) as [PropertyKind, string][];
      return { parts: Object.fromEntries(own.map(([kind, column]) => [kind, `${row}.${column}`])) };
    };
    const value = byKind([read('nodes', parts.node), read('edges', parts.edge)], ([a, b]) =>
      a !== undefined && b !== undefined ? `COALESCE(${a}, ${b})` : (a ?? b)!,
    );
    return doubtful ? { ...value, doubtful } : value;
  }

  #compared(operator: ComparisonOperator, a: SqlValue, b: SqlValue, { span }: Expression): string {
    const common = kindsOf(a).filter((kind) => b.parts[kind] !== undefined);
    const [x, y] = [a.parts, b.parts];
    if (operator === '=' || operator === '<>') {
      if (
        common.includes('list') &&
        [...(a.items ?? []), ...(b.items ?? [])].some((kind) => kind !== 'node' && kind !== 'edge')
      )
        throw new NotInSql(span, 'Lists are not compared in SQL, except those of nodes or edges');
      const equal = either(common.map((kind) => `(${x[kind]} = ${y[kind]})`));
      return operator === '=' ? equal : `(NOT ${equal})`;
    }
    const other = OTHER_ORDER[operator];
    const ordered = common.filter((kind) => kind === 'boolean' || kind === 'number' || kind === 'string');
    return either(
      ordered.map((kind) => {
        if (kind === 'string')
          return `(${this.#dialect.ordered(x.string!)} ${operator} ${this.#dialect.ordered(y.string!)})`;
        return other ? `(${y[kind]} ${other} ${x[kind]})` : `(${x[kind]} ${operator} ${y[kind]})`;
      }),
    );
  }

  #concatenation(node: Extract<Expression, { kind: 'concatenation' }>, frame: Frame): SqlValue {
    const [a, b] = [this.value(node.left, frame), this.value(node.right, frame)];
    if (a.parts.path !== undefined && b.parts.path !== undefined)
      throw new NotInSql(node.span, 'Paths are not joined in SQL');
    const parts: Partial<Record<Kind, string>> = {};
    if (a.parts.string !== undefined && b.parts.string !== undefined) {
      const [x, y] = [a.parts.string, b.parts.string];
      const tooLong =
        node.left.kind === 'string' || node.right.kind === 'string'
          ? undefined
          : `length(${x}) + length(${y}) > 1048576`;
      parts.string = tooLong ? `CASE WHEN NOT ${tooLong} THEN (${x} || ${y}) END` : `(${x} || ${y})`;
    }
    if (a.parts.list !== undefined && b.parts.list !== undefined) {
      const whole = this.#dialect.concat(a.parts.list, b.parts.list);
      parts.list = `CASE WHEN ${a.parts.list} IS NOT NULL AND ${b.parts.list} IS NOT NULL THEN ${whole} END`;
    }
    return { parts, items: [...new Set([...(a.items ?? []), ...(b.items ?? [])])] };
  }

  #in(node: Extract<Expression, { kind: 'in' }>, frame: Frame): SqlValue {
    const { list, negated, span } = node;
    const value = this.value(node.operand, frame);
    const given =
      list.kind === 'parameter' ? valueOfProperty(this.#settings.parameters[list.name]) : undefined;
    const items =
      list.kind === 'list'
        ? list.items.map((item) => this.value(item, frame))
        : Array.isArray(given)
          ? given.map((item) => this.#literal(item, list))
          : undefined;
    const found = items
      ? this.#isAmong(value, items, node)
      : this.#isInList(value, this.value(list, frame), span);
    return boolean(negated ? `(NOT ${found})` : found);
  }

  #isAmong(value: SqlValue, items: readonly SqlValue[], node: Expression): string {
    const [kind, ...kinds] = kindsOf(value);
    const same = items.every((item) => kindsOf(item).length === 1 && item.parts[kind!] !== undefined);
    if (kind && kinds.length === 0 && same && items.length > 0 && kind !== 'list' && kind !== 'path')
      return `(${value.parts[kind]} IN (${items.map(({ parts }) => parts[kind]).join(', ')}))`;
    const equal = items.map((item) => this.#compared('=', value, item, node));
    return equal.length > 0 ? `(${equal.join(' OR ')})` : 'FALSE';
  }

  #isInList(value: SqlValue, list: SqlValue, span: Expression['span']): string {
    if (list.parts.list === undefined) return 'CAST(NULL AS BOOLEAN)';
    const items = list.items ?? [];
    const [kind, ...more] = kindsOf(value);
    if (more.length > 0 || items.length !== 1 || items[0] !== kind)
      throw new NotInSql(
        span,
        'IN is compiled to SQL for lists that are written out and for lists of nodes or edges',
      );
    return `CASE WHEN ${isNotNullSql(value)} THEN ${this.#dialect.contains(list.parts.list, encoded(value, this.#dialect))} END`;
  }

  #case(node: Case, frame: Frame): SqlValue {
    const inner = node.subject ? { ...frame, subject: this.value(node.subject, frame) } : frame;
    const branches = node.branches.map(({ conditions, result }) => ({
      when: `(${conditions.map((condition) => `(${this.truth(condition, inner)})`).join(' OR ')})`,
      result: this.value(result, frame),
    }));
    const otherwise = node.otherwise ? this.value(node.otherwise, frame) : NULL_VALUE;
    const doubtful = this.#settings.schema.uncertain && asksLabels(node, frame);
    const value = byKind([...branches.map(({ result }) => result), otherwise], (parts, kind) => {
      const last = parts.at(-1) ?? `CAST(NULL AS ${this.#dialect.types[kind]})`;
      const cases = branches.map(({ when }, i) => `WHEN ${when} THEN ${parts[i] ?? 'NULL'}`);
      return `CASE ${cases.join(' ')} ELSE ${last} END`;
    });
    return doubtful ? { ...value, doubtful } : value;
  }

  #cast({ operand, type, span }: Extract<Expression, { kind: 'cast' }>, frame: Frame): SqlValue {
    const value = this.value(operand, frame);
    const { boolean: truth, number, string: text } = value.parts;
    if (type === 'STRING' && number === undefined) {
      const words = truth && `CASE WHEN ${truth} THEN 'TRUE' WHEN NOT ${truth} THEN 'FALSE' END`;
      return text && words
        ? ofKind('string', `COALESCE(${text}, ${words})`)
        : text || words
          ? ofKind('string', (text ?? words)!)
          : NULL_VALUE;
    }
    if ((type === 'INTEGER' || type === 'FLOAT') && text === undefined)
      return number === undefined
        ? NULL_VALUE
        : ofKind('number', type === 'FLOAT' ? number : `trunc(${number})`);
    throw new NotInSql(
      span,
      `CAST to ${type} is not compiled to SQL here: the engines read and write other texts than ours`,
    );
  }

  #call(node: Extract<Expression, { kind: 'call' }>, frame: Frame): SqlValue {
    const { name, span } = node;
    const given = node.arguments.map((argument) => this.value(argument, frame));
    const extension = this.#settings.functions[name];
    if (extension) {
      const dialect = this.#dialect;
      const property = (value: SqlValue, key: string) => this.#propertyOf(value, key, frame.select);
      const written = extension(given, { dialect, property });
      if (!written) throw new NotInSql(span, `${name} is not compiled to SQL`);
      return written;
    }
    const [first = NULL_VALUE, second = NULL_VALUE] = given;
    const { number, string: text, path, list } = first.parts;
    switch (name) {
      case 'COALESCE':
        return byKind(given, (_, kind) => {
          // The first value that is not null decides, whatever its kind.
          const cases = given.map(
            (value) => `WHEN ${isNotNullSql(value)} THEN ${value.parts[kind] ?? 'NULL'}`,
          );
          return given.every((value) => kindsOf(value).length === 1 && value.parts[kind] !== undefined)
            ? `COALESCE(${given.map(({ parts }) => parts[kind]).join(', ')})`
            : `CASE ${cases.join(' ')} ELSE CAST(NULL AS ${this.#dialect.types[kind]}) END`;
        });
      case 'NULLIF': {
        const equal = this.#compared('=', first, second, node);
        return byKind([first], ([part]) => `CASE WHEN (${equal}) IS NOT TRUE THEN ${part} END`);
      }
      case 'ELEMENT_ID': {
        // Those that have none are numbered by the engine that holds them.
        if (first.parts.edge !== undefined)
          throw new NotInSql(
            node.span,
            'ELEMENT_ID of an edge is not compiled to SQL, since an edge need not have an id; ask for those of its ends',
          );
        return first.parts.node === undefined ? NULL_VALUE : ofKind('string', first.parts.node);
      }
      case 'PATH_LENGTH':
        return path === undefined
          ? NULL_VALUE
          : numberOf(this.#dialect, `((${this.#dialect.length(path)} - 1) / 2)`);
      case 'ELEMENTS':
        return path === undefined ? NULL_VALUE : { parts: { list: path }, items: ['node', 'edge'] };
      case 'SIZE':
      case 'CARDINALITY': {
        const lists = [list, ...(name === 'CARDINALITY' ? [path] : [])].filter((one) => one !== undefined);
        return lists.length > 0
          ? numberOf(this.#dialect, this.#dialect.length(`COALESCE(${lists.join(', ')})`))
          : NULL_VALUE;
      }
      case 'CHAR_LENGTH':
      case 'CHARACTER_LENGTH':
        return text === undefined ? NULL_VALUE : numberOf(this.#dialect, `length(${text})`);
      case 'LEFT':
      case 'RIGHT': {
        const count = second.parts.number;
        if (text === undefined || count === undefined) return NULL_VALUE;
        const whole = `CAST(least(trunc(${count}), 1000000000) AS INTEGER)`;
        return ofKind(
          'string',
          `CASE WHEN ${count} > -1 THEN ${name === 'LEFT' ? 'left' : 'right'}(${text}, ${whole}) END`,
        );
      }
      case 'BTRIM':
      case 'LTRIM':
      case 'RTRIM': {
        const word = name === 'BTRIM' && this.#dialect.name === 'duckdb' ? 'trim' : name.toLowerCase();
        const set = node.arguments.length > 1 ? second.parts.string : textLiteral(' ');
        return text === undefined || set === undefined
          ? NULL_VALUE
          : ofKind('string', `${word}(${text}, ${set})`);
      }
      case 'ABS':
        return number === undefined ? NULL_VALUE : ofKind('number', `abs(${number})`);
      case 'FLOOR':
        return number === undefined ? NULL_VALUE : ofKind('number', `floor(${number})`);
      case 'CEIL':
      case 'CEILING':
        return number === undefined ? NULL_VALUE : ofKind('number', `ceil(${number})`);
      case 'SQRT':
        return number === undefined
          ? NULL_VALUE
          : ofKind('number', `CASE WHEN ${number} >= 0 THEN sqrt(${number}) END`);
      default:
        throw new NotInSql(
          span,
          `${name} is not compiled to SQL: the engines' own function differs from ours`,
        );
    }
  }

  /** An aggregate along a group variable (feature GE09), as a query over the list. */
  #alongGroup(node: Aggregate, frame: Frame): SqlValue {
    const [along] = groupVariablesOf(node, (name) => frame.isGroup(name));
    if (along === undefined || !node.argument)
      throw new NotInSql(node.span, `${node.name} stands where there are no groups of rows`);
    const list = frame.find(along)!;
    const alias = this.#settings.names();
    const select = new Select([], this.#settings.names);
    select.join(this.#dialect.items(list.parts.list ?? `CAST(NULL AS ${this.#dialect.types.list})`, alias));
    const item = decoded(`${alias}.item`, list.items ?? [], this.#dialect);
    const inner: Frame = {
      ...frame,
      select,
      find: (name) => (name === along ? item : frame.find(name)),
      isGroup: (name) => name !== along && frame.isGroup(name),
      exists: () => {
        throw new NotInSql(node.span, 'EXISTS inside an aggregate along a path is not compiled to SQL');
      },
      query: () => {
        throw new NotInSql(node.span, 'VALUE inside an aggregate along a path is not compiled to SQL');
      },
    };
    const value = aggregateSql(node, this.value(node.argument, inner), this.#dialect);
    const isNull = `${list.parts.list} IS NULL`;
    return byKind([value], ([part]) => `CASE WHEN NOT (${isNull}) THEN (${select.sql([part!])}) END`);
  }

  /** Whether an element has labels. */
  #labeled({ parts }: SqlValue, labels: LabelExpression, reading: Reading): string {
    const tests = [
      ...(parts.node === undefined
        ? []
        : [{ of: parts.node, test: this.nodeLabels(parts.node, labels, reading) }]),
      ...(parts.edge === undefined
        ? []
        : [
            {
              of: parts.edge,
              test: edgeLabels(`(SELECT own.label FROM edges AS own WHERE own.edge = ${parts.edge})`, labels),
            },
          ]),
    ];
    if (tests.length === 1) return tests[0]!.test;
    return `(${tests.map(({ of, test }) => `(${of} IS NOT NULL AND ${test})`).join(' OR ') || 'FALSE'})`;
  }

  /** Whether a node has labels: Kleene's logic over those that are uncertain. */
  nodeLabels(node: string, labels: LabelExpression, reading: Reading): string {
    const certainly = this.#settings.schema.uncertain && reading === 'certain';
    const has = (condition: string): string =>
      `EXISTS (SELECT 1 FROM labels AS l WHERE l.node = ${node}${condition}${certainly ? ' AND l.probability >= 1' : ''})`;
    switch (labels.kind) {
      case 'label-name':
        return has(` AND l.label = ${textLiteral(labels.name)}`);
      case 'label-wildcard':
        return has('');
      case 'label-negation':
        return `NOT ${this.nodeLabels(node, labels.operand, certainly ? 'possible' : reading === 'possible' ? 'certain' : 'possible')}`;
      case 'label-conjunction':
        return `(${labels.operands.map((one) => this.nodeLabels(node, one, reading)).join(' AND ')})`;
      case 'label-disjunction': {
        const names = labels.operands.flatMap((one) =>
          one.kind === 'label-name' ? [textLiteral(one.name)] : [],
        );
        if (names.length === labels.operands.length) return has(` AND l.label IN (${names.join(', ')})`);
        return `(${labels.operands.map((one) => this.nodeLabels(node, one, reading)).join(' OR ')})`;
      }
      default:
        return labels satisfies never;
    }
  }
}

function boolean(sql: string, of?: SqlValue): SqlValue {
  return of?.doubtful ? { parts: { boolean: sql }, doubtful: true } : ofKind('boolean', sql);
}

/** The first that is not null: of comparisons of one value by its kinds at most one is. */
function either(parts: readonly string[]): string {
  if (parts.length === 0) return 'CAST(NULL AS BOOLEAN)';
  return parts.length === 1 ? parts[0]! : `COALESCE(${parts.join(', ')})`;
}

/** Whether an expression asks for labels of nodes, or for edges. */
function asksLabels(node: Syntax, frame: Frame): boolean {
  if (node.kind === 'is-labeled' || node.kind === 'exists') return true;
  if (node.kind === 'variable' && frame.find(node.name)?.doubtful) return true;
  return node.kind !== 'value-query' && children(node).some((child) => asksLabels(child, frame));
}
