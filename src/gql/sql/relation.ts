/** Tables on the way through a query: each a named part of the WITH clause that is being written. */
import type { Exists, Expression, Syntax, ValueQuery } from '../language/ast.ts';
import { children } from '../language/children.ts';
import type { Dialect } from './dialect.ts';
import type { Expressions, Frame, Reading } from './expressions.ts';
import type { SqlSchema } from './sql-schema.ts';
import { type Column, columnsOf, kindsOf, Select, type SqlValue } from './sql-value.ts';

/** A variable: its parts are columns of the relation. */
export interface Variable {
  readonly value: SqlValue;
  readonly isGroup: boolean;
}

export interface Relation {
  /** Undefined for the one row without columns that a query begins with. */
  readonly name: string | undefined;
  readonly variables: ReadonlyMap<string, Variable>;
  /** Columns that tell outer rows apart, which everything that is made of the rows must keep. */
  readonly keys: readonly string[];
  /** Variables of the outer row, which every query inside still sees. */
  readonly outer: ReadonlySet<string>;
  /** Column with a number for each row, when they are numbered. */
  readonly number: string | undefined;
  /** Relation with a row for each outer row, also for those of which nothing is left. */
  readonly root: string | undefined;
  /** Column with the nodes that have been matched, where different nodes are asked for, and the names they go by. */
  readonly seen: { readonly column: string; readonly names: ReadonlySet<string> } | undefined;
}

export const START: Relation = {
  name: undefined,
  variables: new Map(),
  keys: [],
  outer: new Set(),
  number: undefined,
  root: undefined,
  seen: undefined,
};

/** The WITH clause, part by part. */
export class Program {
  readonly #parts: string[] = [];
  #last = 0;

  /** A name that nothing else has. */
  readonly fresh = (prefix = 'x'): string => `${prefix}${++this.#last}`;

  /** Adds a part and answers its name. `once`: it is calculated once, however often it is read. */
  define(prefix: string, sql: string, { once = false } = {}): string {
    const name = this.fresh(prefix);
    this.#parts.push(`${name} AS ${once ? 'MATERIALIZED ' : ''}(${sql})`);
    return name;
  }

  /** Adds a part that reads itself. */
  recursive(name: string, sql: string): void {
    this.#parts.push(`${name} AS (${sql})`);
  }

  sql(last: string): string {
    return this.#parts.length > 0 ? `WITH RECURSIVE\n${this.#parts.join(',\n')}\n${last}` : last;
  }
}

/** What compiling one text needs everywhere. */
export interface Compilation {
  readonly program: Program;
  readonly dialect: Dialect;
  readonly schema: SqlSchema;
  readonly expressions: Expressions;
  readonly distinctNodes: boolean;
  /** Most repetitions of a quantified part that are written out. */
  readonly unrolled: number;
}

/** Compiles what stands in braces; made by `query.ts`, which knows all clauses. */
export interface Inner {
  /** Name of a relation with the keys of the rows for which the body has a row. */
  exists(node: Exists, from: Relation, reading: Reading): { readonly name: string; readonly key: string };
  /** Name of a relation with the value for the keys of rows; without a row where the value is null. */
  value(
    node: ValueQuery,
    from: Relation,
  ): { readonly name: string; readonly key: string; readonly value: SqlValue };
}

/** All columns of a relation. */
export function columnNamesOf({ keys, variables, number, seen }: Relation): readonly string[] {
  const own = [...variables.values()].flatMap(({ value }) =>
    kindsOf(value).map((kind) => value.parts[kind]!),
  );
  return [...new Set([...keys, ...own, ...(number ? [number] : []), ...(seen ? [seen.column] : [])])];
}

/** The relation with a number for each row. */
export function numbered(
  relation: Relation,
  { program }: Compilation,
): Relation & { readonly number: string } {
  if (relation.number !== undefined) return { ...relation, number: relation.number };
  const number = program.fresh('r');
  const columns = columnNamesOf(relation);
  const from = relation.name === undefined ? '' : ` FROM ${relation.name}`;
  const sql = `SELECT ${[...columns, `row_number() OVER () AS ${number}`].join(', ')}${from}`;
  return { ...relation, name: program.define('n', sql, { once: true }), number };
}

/** The relation as a SELECT begins with it. */
export function selectFrom({ name }: Relation, { program }: Compilation): Select {
  return new Select(name === undefined ? [] : [name], program.fresh);
}

/** What names mean in a SELECT from a relation. With subqueries, the relation must be numbered. */
export function frameOf(relation: Relation, select: Select, inner: Inner): Frame {
  const { name, number, variables } = relation;
  return {
    select,
    find: (variable) => {
      const known = variables.get(variable);
      return known && columnsOf(known.value, (kind) => `${name}.${known.value.parts[kind]}`);
    },
    isGroup: (variable) => variables.get(variable)?.isGroup ?? false,
    exists: (node, reading) => {
      const body = inner.exists(node, relation, reading);
      return `(${name}.${number} IN (SELECT ${body.key} FROM ${body.name}))`;
    },
    query: (node) => {
      const body = inner.value(node, relation);
      select.from.push(`LEFT JOIN ${body.name} ON ${body.name}.${body.key} = ${name}.${number}`);
      return columnsOf(body.value, (kind) => `${body.name}.${body.value.parts[kind]}`);
    },
  };
}

/** Whether an expression has an EXISTS or VALUE of its own. */
export function hasSubquery(node: Expression | Syntax): boolean {
  return node.kind === 'exists' || node.kind === 'value-query' || children(node).some(hasSubquery);
}

/** The relation with fewer variables, for what is compiled from its rows: those that are named, and rows told apart. */
export function seedsOf(relation: Relation, names: ReadonlySet<string>): Relation {
  const variables = new Map([...relation.variables].filter(([name]) => names.has(name)));
  return {
    ...relation,
    variables,
    keys: [relation.number!],
    outer: new Set(variables.keys()),
    number: relation.number,
    root: relation.name,
    seen: undefined,
  };
}

/** Columns for the parts of a value, with new names. */
export function newColumns(
  value: SqlValue,
  { program, dialect }: Compilation,
): { readonly value: SqlValue; readonly columns: readonly (Column & { readonly sql: string })[] } {
  const base = program.fresh('v');
  const columns = kindsOf(value).map((kind) => ({
    kind,
    name: `${base}_${kind}`,
    type: dialect.types[kind],
    sql: value.parts[kind]!,
  }));
  return { value: columnsOf(value, (kind) => `${base}_${kind}`), columns };
}
