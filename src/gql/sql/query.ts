/**
 * Clauses and results of a query as SQL: what each makes of the rows before it. Over 400 lines, since queries hold queries: NEXT,
 * EXISTS and VALUE come back to all clauses.
 */
import { groupVariablesOf } from '../expression/group-variables.ts';
import { valueOfProperty } from '../expression/value.ts';
import type {
  Aggregate,
  Clause,
  Expression,
  ForClause,
  LetClause,
  OptionalClause,
  PageClause,
  Query,
  SortKey,
  Syntax,
  TableClause,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import { printExpression } from '../language/print.ts';
import { columnName, type Item, itemsOf, namesIn } from '../plan/free-names.ts';
import { aggregateSql } from './aggregates.ts';
import { KINDS, type Kind } from './dialect.ts';
import type { Frame, Reading } from './expressions.ts';
import { filtered, matched } from './match.ts';
import {
  type Compilation,
  columnNamesOf,
  frameOf,
  hasSubquery,
  type Inner,
  newColumns,
  numbered,
  type Relation,
  seedsOf,
  selectFrom,
  type Variable,
} from './relation.ts';
import { type SqlSortKey, sortKeys } from './sort-keys.ts';
import { columnsOf, decoded, kindsOf, NotInSql, ofKind, type Select, type SqlValue } from './sql-value.ts';

/** The rows of a query. */
export interface Projected {
  /** Its variables are the columns. */
  readonly relation: Relation;
  readonly columns: readonly string[];
  /** Columns of the relation that its rows are to be sorted by. */
  readonly order: readonly SqlSortKey[];
}

export class QueryCompiler {
  readonly #compilation: Compilation;
  readonly #parameters: Readonly<Record<string, unknown>>;
  readonly #inner: Inner;

  constructor(compilation: Compilation, parameters: Readonly<Record<string, unknown>>) {
    this.#compilation = compilation;
    this.#parameters = parameters;
    this.#inner = {
      exists: (node, from, reading) => {
        const seeds = seedsOf(from, namesIn(node.clauses));
        return { name: this.#clauses(node.clauses, seeds, reading).name!, key: from.number! };
      },
      value: (node, from) => this.#value(node.query, from),
    };
  }

  /** A query that goes on from the rows of a relation. Rows are cut as OFFSET and LIMIT say, unless `uncut`. */
  query(query: Query, given: Relation, { uncut = false } = {}): Projected {
    const relation = this.#clauses(query.clauses, given, 'possible');
    const projected = this.#projected(query, relation);
    const page = this.page(query);
    if (uncut || !page) return projected;
    return { ...projected, relation: this.#cut(projected.relation, projected.order, page), order: [] };
  }

  /** OFFSET and LIMIT as numbers; undefined when there is neither. */
  page({
    offset,
    limit,
  }: Pick<Query, 'offset' | 'limit'>):
    | { readonly offset: number; readonly limit: number | undefined }
    | undefined {
    if (!offset && !limit) return undefined;
    const count = (node: Query['limit']): number | undefined => {
      if (!node) return undefined;
      return node.kind === 'number' ? node.value : (valueOfProperty(this.#parameters[node.name]) as number);
    };
    return { offset: count(offset) ?? 0, limit: count(limit) };
  }

  // ─── Clauses ──────────────────────────────────────────────────────────────────────────────────────────────────

  #clauses(clauses: readonly Clause[], given: Relation, reading: Reading): Relation {
    return clauses.reduce<Relation>((relation, clause) => this.#clause(clause, relation, reading), given);
  }

  #clause(clause: Clause, given: Relation, reading: Reading): Relation {
    switch (clause.kind) {
      case 'match':
        return matched(clause, given, reading, this.#compilation, this.#inner);
      case 'optional':
        return this.#optional(clause, given, reading);
      case 'filter':
        return filtered(given, clause.condition, reading, this.#compilation, this.#inner);
      case 'let':
        return this.#let(clause, given);
      case 'for':
        return this.#for(clause, given);
      case 'page':
        return this.#page(clause, given);
      case 'table':
        return this.#table(clause, given);
      default:
        return clause satisfies never;
    }
  }

  #optional(clause: OptionalClause, given: Relation, reading: Reading): Relation {
    const { program, dialect, schema } = this.#compilation;
    if (schema.uncertain && reading === 'certain')
      throw new NotInSql(
        clause.span,
        'OPTIONAL where what is certain is asked for is not compiled to SQL while labels or edges are uncertain',
      );
    const outer = numbered(given, this.#compilation);
    const inside = this.#clauses(clause.clauses, { ...outer, keys: [...outer.keys, outer.number] }, reading);
    const own = new Set(columnNamesOf(outer).filter((column) => column !== outer.seen?.column));
    const columns: string[] = [];
    const nulls: string[] = [];
    for (const column of own) {
      columns.push(column);
      nulls.push(`${outer.name}.${column}`);
    }
    for (const { value } of inside.variables.values())
      for (const kind of kindsOf(value)) {
        const column = value.parts[kind]!;
        if (own.has(column)) continue;
        columns.push(column);
        nulls.push(`CAST(NULL AS ${dialect.types[kind]}) AS ${column}`);
      }
    if (inside.seen) {
      columns.push(inside.seen.column);
      const before = outer.seen ? `${outer.name}.${outer.seen.column}` : dialect.list([], dialect.types.node);
      nulls.push(`${before} AS ${inside.seen.column}`);
    }
    const name = program.define(
      'o',
      `SELECT ${columns.join(', ')} FROM ${inside.name}\n  UNION ALL SELECT ${nulls.join(', ')} FROM ${outer.name} ` +
        `WHERE NOT EXISTS (SELECT 1 FROM ${inside.name} AS found WHERE found.${outer.number} = ${outer.name}.${outer.number})`,
    );
    return { ...given, name, variables: inside.variables, seen: inside.seen, number: undefined };
  }

  #let({ variable, value: expression }: LetClause, given: Relation): Relation {
    const relation = hasSubquery(expression) ? numbered(given, this.#compilation) : given;
    const select = selectFrom(relation, this.#compilation);
    const frame = frameOf(relation, select, this.#inner);
    const written = this.#compilation.expressions.value(expression, frame);
    const { value, columns } = newColumns(written, this.#compilation);
    const name = this.#compilation.program.define(
      't',
      select.sql([
        ...columnNamesOf(relation).map((column) => `${relation.name}.${column}`),
        ...columns.map(({ sql, name: column }) => `${sql} AS ${column}`),
      ]),
    );
    const variables = new Map(relation.variables).set(variable.text, { value, isGroup: false });
    return { ...relation, name, variables };
  }

  #for({ variable, list, position }: ForClause, given: Relation): Relation {
    const { program, dialect, expressions } = this.#compilation;
    const relation = hasSubquery(list) ? numbered(given, this.#compilation) : given;
    const select = selectFrom(relation, this.#compilation);
    const value = expressions.value(list, frameOf(relation, select, this.#inner));
    const alias = program.fresh('u');
    select.join(dialect.items(value.parts.list ?? `CAST(NULL AS ${dialect.types.list})`, alias));
    const variables = new Map(relation.variables);
    const columns = columnNamesOf(relation).map((column) => `${relation.name}.${column}`);
    const add = (name: string, written: SqlValue): void => {
      const own = newColumns(written, this.#compilation);
      variables.set(name, { value: own.value, isGroup: false });
      columns.push(...own.columns.map(({ sql, name: column }) => `${sql} AS ${column}`));
    };
    add(variable.text, decoded(`${alias}.item`, value.items ?? [], dialect));
    if (position) {
      const pos = position.kind === 'OFFSET' ? `(${alias}.pos - 1)` : `${alias}.pos`;
      add(position.variable.text, ofKind('number', `CAST(${pos} AS ${dialect.types.number})`));
    }
    return { ...relation, name: program.define('t', select.sql(columns)), variables, number: undefined };
  }

  #page(clause: PageClause, given: Relation): Relation {
    const page = this.page(clause);
    // Rows in order are the same rows; where they are cut, the order counts.
    if (!page) return given;
    const relation = clause.orderBy.some(({ value }) => hasSubquery(value))
      ? numbered(given, this.#compilation)
      : given;
    const select = selectFrom(relation, this.#compilation);
    const frame = frameOf(relation, select, this.#inner);
    const columns = columnNamesOf(relation).map((column) => `${relation.name}.${column}`);
    const order = this.#sortColumns(clause.orderBy, frame, columns);
    const sorted = { ...relation, name: this.#compilation.program.define('t', select.sql(columns)) };
    return this.#cut(sorted, order, page);
  }

  /** Adds columns to sort by. */
  #sortColumns(keys: readonly SortKey[], frame: Frame, columns: string[]): readonly SqlSortKey[] {
    const { expressions, program } = this.#compilation;
    return keys.flatMap((key) =>
      sortKeys(expressions.value(key.value, frame), key).map((one): SqlSortKey => {
        const name = program.fresh('k');
        columns.push(`${one.sql} AS ${name}`);
        return { ...one, sql: name };
      }),
    );
  }

  orderBy(order: readonly SqlSortKey[]): string {
    const { dialect } = this.#compilation;
    const keys = order.map(
      ({ sql, direction, isText }) => `${isText ? dialect.ordered(sql) : sql} ${direction} NULLS LAST`,
    );
    return keys.length > 0 ? ` ORDER BY ${keys.join(', ')}` : '';
  }

  #cut(
    relation: Relation,
    order: readonly SqlSortKey[],
    { offset, limit }: { readonly offset: number; readonly limit: number | undefined },
  ): Relation {
    const { program } = this.#compilation;
    const columns = columnNamesOf(relation);
    const list = columns.length > 0 ? columns.join(', ') : '1 AS one';
    const from = relation.name === undefined ? '' : ` FROM ${relation.name}`;
    if (relation.keys.length === 0) {
      const page = `${limit === undefined ? '' : ` LIMIT ${limit}`}${offset > 0 ? ` OFFSET ${offset}` : ''}`;
      return { ...relation, name: program.define('t', `SELECT ${list}${from}${this.orderBy(order)}${page}`) };
    }
    const rank = `row_number() OVER (PARTITION BY ${relation.keys.join(', ')}${this.orderBy(order)}) AS place`;
    const ranked = program.define('t', `SELECT ${list}, ${rank}${from}`);
    const most = limit === undefined ? '' : ` AND place <= ${offset + limit}`;
    return {
      ...relation,
      name: program.define('t', `SELECT ${list} FROM ${ranked} WHERE place > ${offset}${most}`),
    };
  }

  #table({ input, parts }: TableClause, given: Relation): Relation {
    const start = input ? this.#table(input, given) : given;
    const tables = parts.map(({ query }) => this.query(query, start));
    const { columns } = tables[0]!;
    if (tables.length === 1) return this.#handedOn(tables[0]!.relation, columns);
    const { program, dialect } = this.#compilation;
    const keep = [...start.keys, ...outerColumns(start)];
    const names = columns.map((name) => ({ name, base: program.fresh('v') }));
    const kindsIn = (name: string): readonly Kind[] =>
      KINDS.filter((kind) =>
        tables.some(({ relation }) => relation.variables.get(name)?.value.parts[kind] !== undefined),
      );
    const aligned = tables.map(({ relation }) => {
      const own = names.flatMap(({ name, base }) =>
        kindsIn(name).map((kind) => {
          const column = relation.variables.get(name)!.value.parts[kind];
          return `${column ?? `CAST(NULL AS ${dialect.types[kind]})`} AS ${base}_${kind}`;
        }),
      );
      const list = [...keep, ...own];
      return `SELECT ${list.length > 0 ? list.join(', ') : '1 AS one'} FROM ${relation.name}`;
    });
    const name = parts.slice(1).reduce(
      (left, { conjunction }, i) => {
        const right = aligned[i + 1]!;
        if (conjunction !== 'OTHERWISE')
          return program.define('c', `SELECT * FROM ${left}\n  ${conjunction} ${right}`);
        const other = program.define('c', right);
        const same = start.keys.map((key) => `some_row.${key} = ${other}.${key}`).join(' AND ');
        return program.define(
          'c',
          `SELECT * FROM ${left}\n  UNION ALL SELECT * FROM ${other} WHERE NOT EXISTS (SELECT 1 FROM ${left} AS some_row${same ? ` WHERE ${same}` : ''})`,
        );
      },
      program.define('c', aligned[0]!),
    );
    const variables = new Map<string, Variable>(
      [...start.variables].filter(([variable]) => start.outer.has(variable)),
    );
    for (const { name: column, base } of names) {
      const values = tables.map(({ relation }) => relation.variables.get(column)!.value);
      const items = [...new Set(values.flatMap((value) => value.items ?? []))];
      const value: SqlValue = {
        parts: Object.fromEntries(kindsIn(column).map((kind) => [kind, `${base}_${kind}`])),
        ...(items.length > 0 && { items }),
        ...(values.some(({ doubtful }) => doubtful) && { doubtful: true }),
      };
      variables.set(column, { value, isGroup: false });
    }
    return this.#handedOn({ ...start, name, variables, number: undefined, seen: undefined }, columns);
  }

  /** Columns that go on as variables: nodes among them count as matched. */
  #handedOn(relation: Relation, columns: readonly string[]): Relation {
    if (!this.#compilation.distinctNodes) return relation;
    const { dialect, program } = this.#compilation;
    const nodes = columns.flatMap((name) => {
      const node = relation.variables.get(name)?.value.parts.node;
      return node === undefined ? [] : [{ name, node }];
    });
    if (nodes.length === 0) return relation;
    const empty = dialect.list([], dialect.types.node);
    const lists = nodes.map(
      ({ node }) =>
        `CASE WHEN ${node} IS NULL THEN ${empty} ELSE ${dialect.list([node], dialect.types.node)} END`,
    );
    const column = program.fresh('s');
    const all = lists.reduce((a, b) => dialect.concat(a, b));
    const name = program.define(
      't',
      `SELECT ${[...columnNamesOf(relation), `${all} AS ${column}`].join(', ')} FROM ${relation.name}`,
    );
    return { ...relation, name, seen: { column, names: new Set(nodes.map((one) => one.name)) } };
  }

  /** The value of a VALUE for each of the rows of a relation. */
  #value(query: Query, from: Relation) {
    const { program } = this.#compilation;
    const seeds = seedsOf(from, namesIn(query));
    const { relation, columns } = this.query(query, seeds);
    const { value } = relation.variables.get(columns[0]!)!;
    const key = from.number!;
    const written = kindsOf(value).map((kind) => {
      if (kind === 'list' || kind === 'path')
        throw new NotInSql(query.span, 'A list or path as the value of VALUE is not compiled to SQL');
      const column = value.parts[kind]!;
      return `CASE WHEN COUNT(*) = 1 THEN ${kind === 'boolean' ? 'bool_and' : 'min'}(${column}) END AS ${column}`;
    });
    const name = program.define(
      'w',
      `SELECT ${[key, ...written].join(', ')} FROM ${relation.name} GROUP BY ${key}`,
    );
    return { name, key, value };
  }

  // ─── Results ──────────────────────────────────────────────────────────────────────────────────────────────────

  #projected(query: Query, given: Relation): Projected {
    const items = itemsOf(query);
    const expressions = [...items.map(({ value }) => value), ...query.orderBy.map(({ value }) => value)];
    const relation = expressions.some(hasSubquery) ? numbered(given, this.#compilation) : given;
    const isGroup = (name: string) => relation.variables.get(name)?.isGroup ?? false;
    const grouped =
      query.result.groupBy !== undefined ||
      items.some(({ value }) => rowAggregates(value, isGroup).length > 0);
    if (!grouped) {
      const select = selectFrom(relation, this.#compilation);
      return this.#listed(query, items, relation, select, frameOf(relation, select, this.#inner));
    }
    const groups = this.#groups(query, items, relation, isGroup);
    return this.#listed(query, items, groups.relation, groups.frame.select, groups.frame);
  }

  /** The items of RETURN, a row for each row of what a frame stands over. */
  #listed(query: Query, items: readonly Item[], relation: Relation, select: Select, frame: Frame): Projected {
    const { expressions, program } = this.#compilation;
    const written = items.map((item) => ({
      item,
      ...newColumns(expressions.value(item.value, frame), this.#compilation),
    }));
    const kept = [...relation.keys, ...outerColumns(relation)];
    const own = written.flatMap(({ columns }) => columns.map(({ sql, name }) => `${sql} AS ${name}`));
    const columns = [...kept.map((column) => `${relation.name}.${column}`), ...own];
    const variables = new Map<string, Variable>(
      [...relation.variables].filter(([name]) => relation.outer.has(name)),
    );
    for (const { item, value } of written) variables.set(columnName(item), { value, isGroup: false });
    const names = items.map(columnName);
    const result = { ...relation, variables, number: undefined, seen: undefined };
    const { distinct } = query.result;
    if (!distinct) {
      // A key sees the columns by their names, and what is behind them.
      const sqlOf = new Map(
        written.map(({ item, value, columns: parts }) => [
          item.alias?.text,
          columnsOf(value, (kind) => parts.find(({ name }) => name === value.parts[kind])!.sql),
        ]),
      );
      const sortFrame: Frame = { ...frame, find: (name) => sqlOf.get(name) ?? frame.find(name) };
      const order = this.#sortColumns(query.orderBy, sortFrame, columns);
      return {
        relation: { ...result, name: program.define('t', select.sql(columns)) },
        columns: names,
        order,
      };
    }
    const all = program.define('t', select.sql(columns, true));
    if (query.orderBy.length === 0) return { relation: { ...result, name: all }, columns: names, order: [] };
    const after = { ...result, name: all };
    const sorted = selectFrom(after, this.#compilation);
    const byText = new Map(
      written.map(({ item, value }) => [
        printExpression(item.value),
        columnsOf(value, (kind) => `${all}.${value.parts[kind]}`),
      ]),
    );
    const over = frameOf(after, sorted, this.#inner);
    const distinctFrame: Frame = {
      ...over,
      exists: () => {
        throw new NotInSql(query.span, 'EXISTS in ORDER BY behind RETURN DISTINCT is not compiled to SQL');
      },
      query: () => {
        throw new NotInSql(query.span, 'VALUE in ORDER BY behind RETURN DISTINCT is not compiled to SQL');
      },
      grouped: (node) => byText.get(printExpression(node)),
    };
    const sortedColumns = columnNamesOf(after).map((column) => `${all}.${column}`);
    const order = this.#sortColumns(query.orderBy, distinctFrame, sortedColumns);
    return {
      relation: { ...after, name: program.define('t', sorted.sql(sortedColumns)) },
      columns: names,
      order,
    };
  }

  /** One row for each group, with its keys and aggregates. */
  #groups(query: Query, items: readonly Item[], relation: Relation, isGroup: (name: string) => boolean) {
    const { expressions, program } = this.#compilation;
    const { groupBy } = query.result;
    const keys: readonly Expression[] = groupBy
      ? groupBy.map((key) => items.find(({ alias }) => alias?.text === key.name)?.value ?? key)
      : items.map(({ value }) => value).filter((value) => rowAggregates(value, isGroup).length === 0);
    const aggregates = new Map<string, Aggregate>();
    for (const { value } of [...items, ...query.orderBy])
      for (const node of rowAggregates(value, isGroup)) aggregates.set(printExpression(node), node);
    // First what is grouped by and what is aggregated, as columns.
    const before = selectFrom(relation, this.#compilation);
    const frame = frameOf(relation, before, this.#inner);
    const kept = [...relation.keys, ...outerColumns(relation)];
    const columns = kept.map((column) => `${relation.name}.${column}`);
    const add = (expression: Expression): SqlValue => {
      const own = newColumns(expressions.value(expression, frame), this.#compilation);
      columns.push(...own.columns.map(({ sql, name }) => `${sql} AS ${name}`));
      return own.value;
    };
    const keyValues = keys.map((expression) => ({ expression, value: add(expression) }));
    const given = [...aggregates].map(([text, node]) => ({
      text,
      node,
      value: node.argument ? add(node.argument) : { parts: {} },
    }));
    const from = program.define('t', before.sql(columns));
    const groupColumns = [
      ...kept,
      ...keyValues.flatMap(({ value }) => kindsOf(value).map((kind) => value.parts[kind]!)),
    ];
    const aggregated = given.map(({ text, node, value }) => ({
      text,
      node,
      ...newColumns(aggregateSql(node, value, this.#compilation.dialect), this.#compilation),
    }));
    const results = aggregated.flatMap(({ columns: own }) => own.map(({ sql, name }) => `${sql} AS ${name}`));
    // A key that is null in all rows has no column, and still is a key.
    const ungrouped = keys.length > 0 ? ' HAVING COUNT(*) > 0' : '';
    const by = groupColumns.length > 0 ? ` GROUP BY ${groupColumns.join(', ')}` : ungrouped;
    let name = program.define(
      'g',
      `SELECT ${[...groupColumns, 'COUNT(*) AS group_rows', ...results].join(', ')} FROM ${from}${by}`,
    );
    if (keys.length === 0 && relation.keys.length > 0) {
      // Without keys there is one group for each outer row, also for one of which nothing is left.
      const root = relation.root!;
      const counts = aggregated.flatMap(({ node, columns: own }) =>
        own.map(({ name: column }) =>
          node.name === 'COUNT' ? `COALESCE(${name}.${column}, 0) AS ${column}` : `${name}.${column}`,
        ),
      );
      const same = relation.keys.map((key) => `${name}.${key} = ${root}.${key}`).join(' AND ');
      name = program.define(
        'g',
        `SELECT ${[...kept.map((column) => `${root}.${column}`), ...counts].join(', ')} FROM ${root} LEFT JOIN ${name} ON ${same}`,
      );
    }
    const variables = new Map<string, Variable>(
      [...relation.variables].filter(([variable]) => relation.outer.has(variable)),
    );
    for (const { expression, value } of keyValues)
      if (expression.kind === 'variable')
        variables.set(expression.name, { value, isGroup: isGroup(expression.name) });
    let groups: Relation = { ...relation, name, variables, number: undefined, seen: undefined };
    const needsNumbers = [...items, ...query.orderBy].some(({ value }) =>
      subqueriesOutside(
        value,
        (node) =>
          aggregates.has(printExpression(node)) ||
          keys.some((key) => printExpression(key) === printExpression(node)),
      ),
    );
    if (needsNumbers)
      throw new NotInSql(query.span, 'EXISTS or VALUE beside aggregates in RETURN is not compiled to SQL');
    groups = { ...groups };
    const select = selectFrom(groups, this.#compilation);
    const over = frameOf(groups, select, this.#inner);
    const known = new Map<string, SqlValue>();
    for (const { expression, value } of keyValues) known.set(printExpression(expression), value);
    for (const { text, value } of aggregated) known.set(text, value);
    const groupedFrame: Frame = {
      ...over,
      grouped: (node) => {
        const value = known.get(printExpression(node));
        return value && columnsOf(value, (kind) => `${name}.${value.parts[kind]}`);
      },
    };
    return { relation: groups, frame: groupedFrame };
  }
}

/** Columns of the variables of the outer row. */
function outerColumns({ variables, outer }: Relation): readonly string[] {
  return [
    ...new Set(
      [...outer].flatMap((name) => {
        const value = variables.get(name)?.value;
        return value ? kindsOf(value).map((kind) => value.parts[kind]!) : [];
      }),
    ),
  ];
}

/** Aggregates over rows in an expression. */
function rowAggregates(node: Syntax, isGroup: (name: string) => boolean): readonly Aggregate[] {
  if (node.kind === 'exists' || node.kind === 'value-query') return [];
  if (node.kind === 'aggregate' && groupVariablesOf(node, isGroup).length === 0) return [node];
  return children(node).flatMap((child) => rowAggregates(child, isGroup));
}

/** Whether an expression has a subquery outside of what is known already. */
function subqueriesOutside(node: Syntax, isKnown: (node: Expression) => boolean): boolean {
  if (node.kind === 'exists' || node.kind === 'value-query') return !isKnown(node);
  if (isExpression(node) && isKnown(node)) return false;
  return children(node).some((child) => subqueriesOutside(child, isKnown));
}

const NO_EXPRESSIONS = new Set([
  'name',
  'record-field',
  'case-branch',
  'label-name',
  'label-wildcard',
  'label-negation',
  'label-conjunction',
  'label-disjunction',
  'case-subject',
]);

function isExpression(node: Syntax): node is Expression {
  return !NO_EXPRESSIONS.has(node.kind);
}
