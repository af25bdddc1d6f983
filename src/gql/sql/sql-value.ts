/** Values as SQL: for each kind that a value may be of, an expression that is null where it is of another. */
import type { Span } from '../language/ast.ts';
import { type Dialect, KINDS, type Kind, quotedName } from './dialect.ts';

/**
 * A value whose kind is known for each row only: `parts` has an expression for every kind that it may have, of which at most
 * one is not null. No part at all is the value null.
 */
export interface SqlValue {
  readonly parts: Readonly<Partial<Record<Kind, string>>>;
  /** For a list: kinds of its items. */
  readonly items?: readonly ItemKind[] | undefined;
  /** Depends on labels or edges that are uncertain, so that conditions cannot go on from it. */
  readonly doubtful?: boolean | undefined;
}

/** What a list may hold; lists of lists and of paths are not written. */
export type ItemKind = 'boolean' | 'number' | 'string' | 'node' | 'edge' | 'null';

export const NULL_VALUE: SqlValue = { parts: {} };

export function ofKind(kind: Kind, sql: string): SqlValue {
  return { parts: { [kind]: sql } };
}

/** A number that the engine has as one of another type. */
export function numberOf({ types }: Dialect, sql: string): SqlValue {
  return ofKind('number', `CAST(${sql} AS ${types.number})`);
}

export function kindsOf({ parts }: SqlValue): readonly Kind[] {
  return KINDS.filter((kind) => parts[kind] !== undefined);
}

export function isNullSql(value: SqlValue): string {
  const kinds = kindsOf(value);
  if (kinds.length === 0) return 'TRUE';
  return `(${kinds.map((kind) => `${value.parts[kind]} IS NULL`).join(' AND ')})`;
}

export function isNotNullSql(value: SqlValue): string {
  const kinds = kindsOf(value);
  if (kinds.length === 0) return 'FALSE';
  return `(${kinds.map((kind) => `${value.parts[kind]} IS NOT NULL`).join(' OR ')})`;
}

/** A value made kind by kind of several: of every kind that one of them may have. */
export function byKind(
  values: readonly SqlValue[],
  write: (parts: readonly (string | undefined)[], kind: Kind) => string,
): SqlValue {
  const kinds = KINDS.filter((kind) => values.some(({ parts }) => parts[kind] !== undefined));
  const items = new Set(values.flatMap((value) => value.items ?? []));
  return {
    parts: Object.fromEntries(
      kinds.map((kind) => [
        kind,
        write(
          values.map(({ parts }) => parts[kind]),
          kind,
        ),
      ]),
    ),
    ...(items.size > 0 && { items: [...items] }),
    ...(values.some(({ doubtful }) => doubtful) && { doubtful: true }),
  };
}

/** The value with every part read from a column of a relation. */
export function columnsOf(value: SqlValue, name: (kind: Kind) => string): SqlValue {
  return { ...value, parts: Object.fromEntries(kindsOf(value).map((kind) => [kind, name(kind)])) };
}

/** A column of a relation that is being built. */
export interface Column {
  readonly name: string;
  readonly type: string;
}

/**
 * A text for an item of a list: what it is in its first letter, so that two items are not distinct exactly when their texts are
 * equal.
 */
export function encoded(value: SqlValue, dialect: Dialect): string {
  const text = dialect.types.string;
  const letters: Partial<Record<Kind, (sql: string) => string>> = {
    boolean: (sql) => `CASE WHEN ${sql} THEN 'b1' WHEN NOT ${sql} THEN 'b0' END`,
    // Adding zero makes a negative zero a positive one.
    number: (sql) => `('d' || CAST(${sql} + 0 AS ${text}))`,
    string: (sql) => `('t' || ${sql})`,
    node: (sql) => `('n' || ${sql})`,
    edge: (sql) => `('e' || CAST(${sql} AS ${text}))`,
  };
  const kinds = kindsOf(value);
  return `COALESCE(${[...kinds.map((kind) => letters[kind]!(value.parts[kind]!)), "'z'"].join(', ')})`;
}

/** The value of an encoded item. */
export function decoded(item: string, kinds: readonly ItemKind[], dialect: Dialect): SqlValue {
  const parts: Partial<Record<Kind, string>> = {};
  const rest = dialect.rest(item);
  const when = (letter: string, sql: string) =>
    `CASE WHEN substr(${item}, 1, 1) = '${letter}' THEN ${sql} END`;
  for (const kind of kinds) {
    if (kind === 'node') parts.node = when('n', rest);
    if (kind === 'edge') parts.edge = when('e', `CAST(${rest} AS BIGINT)`);
    if (kind === 'string') parts.string = when('t', rest);
    if (kind === 'number') parts.number = when('d', `CAST(${rest} AS ${dialect.types.number})`);
    if (kind === 'boolean') parts.boolean = when('b', `${item} = 'b1'`);
  }
  return { parts };
}

/** Thrown where a construct cannot be written in SQL so that the rows are the same. */
export class NotInSql extends Error {
  override readonly name = 'NotInSql';
  readonly span: Span;
  constructor(span: Span, message: string) {
    super(message);
    this.span = span;
  }
}

/** One SELECT while it is being written: its FROM, to which look-ups of properties are added as they are asked for. */
export class Select {
  readonly from: string[];
  readonly where: string[] = [];
  readonly #names: () => string;
  readonly #properties = new Map<string, string>();

  /** @param names makes a name that no other table has */
  constructor(from: readonly string[], names: () => string) {
    this.from = [...from];
    this.#names = names;
  }

  join(item: string): void {
    this.from.push(this.from.length === 0 ? item : `CROSS JOIN ${item}`);
  }

  /** Records that the row of an element is at hand under an alias. */
  has(table: 'nodes' | 'edges', element: string, alias: string): void {
    this.#properties.set(`${table} ${element}`, alias);
  }

  /** Alias of the row of an element, joined when it is not at hand; null there when the element is null. */
  rowOf(table: 'nodes' | 'edges', element: string): string {
    const known = this.#properties.get(`${table} ${element}`);
    if (known) return known;
    const alias = this.#names();
    const key = table === 'nodes' ? 'id' : 'edge';
    if (this.from.length === 0) this.from.push('(SELECT 1 AS one) AS one');
    this.from.push(`LEFT JOIN ${table} AS ${alias} ON ${alias}.${key} = ${element}`);
    this.has(table, element, alias);
    return alias;
  }

  sql(columns: readonly string[], distinct = false): string {
    const from = this.from.length > 0 ? `\n  FROM ${this.from.join('\n    ')}` : '';
    const where = this.where.length > 0 ? `\n  WHERE ${this.where.join('\n    AND ')}` : '';
    return `SELECT ${distinct ? 'DISTINCT ' : ''}${columns.length > 0 ? columns.join(', ') : '1 AS one'}${from}${where}`;
  }
}

export function as(sql: string, name: string): string {
  return sql === name ? sql : `${sql} AS ${/^[a-z][a-z0-9_]*$/.test(name) ? name : quotedName(name)}`;
}
