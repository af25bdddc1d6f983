/**
 * What differs between the SQL engines that patterns are compiled for. Everything else that is written is standard SQL
 * (ISO/IEC 9075) with arrays: WITH RECURSIVE, window functions, LATERAL, EXCEPT ALL, ordered by NULLS FIRST or LAST.
 */

/** Kinds of values, in the order in which ORDER BY, MIN and MAX put values of unlike kinds. */
export const KINDS = ['boolean', 'number', 'string', 'list', 'node', 'edge', 'path'] as const;
export type Kind = (typeof KINDS)[number];

export type DialectName = 'postgres' | 'duckdb';

export interface Dialect {
  readonly name: DialectName;
  /** SQL types of the columns that hold values of a kind. Nodes are their ids, edges their numbers in the table. */
  readonly types: Readonly<Record<Kind, string>>;
  /** A list of expressions of one type; the type is that of an item. */
  list(items: readonly string[], type: string): string;
  concat(a: string, b: string): string;
  contains(list: string, item: string): string;
  overlaps(a: string, b: string): string;
  length(list: string): string;
  /** Whether no two items are equal. */
  allDiffer(list: string): string;
  /** FROM item with the columns `item` and `pos` (from 1) for each item of a list; no rows for null. */
  items(list: string, alias: string): string;
  /** A number that may have become infinite, or null then. */
  finite(number: string): string;
  /** A text in the order of code points, for `<`, MIN and ORDER BY. */
  ordered(text: string): string;
  /** The characters of a text from the second on. */
  rest(text: string): string;
  /**
   * Most tables that the engine may put in order itself. More are joined one after the other, each step a part of its own that is
   * calculated once.
   */
  readonly joined: number;
  /** Whether two elements, neither of them null, are not one. */
  differ(a: string, b: string): string;
  /** A condition on several elements that are joined by edges anyway: no join is to be made of it. */
  afterJoins(condition: string): string;
}

const COMMON_TYPES = { boolean: 'BOOLEAN', edge: 'BIGINT' } as const;

/** PostgreSQL 14 and later, and engines that take its dialect. A number out of range is an error there. */
const POSTGRES: Dialect = {
  name: 'postgres',
  types: {
    ...COMMON_TYPES,
    number: 'DOUBLE PRECISION',
    string: 'TEXT',
    list: 'TEXT[]',
    node: 'TEXT',
    path: 'TEXT[]',
  },
  list: (items, type) => `CAST(ARRAY[${items.join(', ')}] AS ${type}[])`,
  concat: (a, b) => `(${a} || ${b})`,
  contains: (list, item) => `(${item} = ANY(${list}))`,
  overlaps: (a, b) => `(${a} && ${b})`,
  length: (list) => `cardinality(${list})`,
  allDiffer: (list) =>
    `((SELECT COUNT(DISTINCT one.item) FROM unnest(${list}) AS one(item)) = cardinality(${list}))`,
  items: (list, alias) => `LATERAL unnest(${list}) WITH ORDINALITY AS ${alias}(item, pos)`,
  finite: (number) => number,
  ordered: (text) => `(${text}) COLLATE "C"`,
  rest: (text) => `substr(${text}, 2)`,
  // Beyond `join_collapse_limit` (8) it orders what is written in pieces, from 12 tables on by chance (GEQO); and where the product of
  // its estimates has come down to one row, with some three edges, it takes nested loops over what no edge joins for free.
  joined: 4,
  differ: (a, b) => `${a} <> ${b}`,
  afterJoins: (condition) => condition,
};

const DUCKDB: Dialect = {
  name: 'duckdb',
  types: {
    ...COMMON_TYPES,
    number: 'DOUBLE',
    string: 'VARCHAR',
    list: 'VARCHAR[]',
    node: 'VARCHAR',
    path: 'VARCHAR[]',
  },
  list: (items, type) => `CAST([${items.join(', ')}] AS ${type}[])`,
  concat: (a, b) => `list_concat(${a}, ${b})`,
  contains: (list, item) => `list_contains(${list}, ${item})`,
  overlaps: (a, b) => `list_has_any(${a}, ${b})`,
  length: (list) => `len(${list})`,
  allDiffer: (list) => `(len(list_distinct(${list})) = len(${list}))`,
  items: (list, alias) =>
    `LATERAL (SELECT unnest(${list}) AS item, generate_subscripts(${list}, 1) AS pos) AS ${alias}`,
  finite: (number) => `nullif(nullif(${number}, 'infinity'::DOUBLE), '-infinity'::DOUBLE)`,
  // Texts are ordered by their UTF-8 bytes, which is by code point.
  ordered: (text) => text,
  rest: (text) => `substr(${text}, 2)`,
  // It has no statistics of Parquet files beyond numbers of rows.
  joined: 0,
  // Its optimizer takes `a <> b` and `a < b` for conditions that two tables can be joined by, holds them to be as selective as an
  // equality where it has no statistics (as of Parquet files), and then joins tables that no edge joins, pair by pair, in nested
  // loops. What is no comparison it leaves until both sides are there.
  differ: (a, b) => `(${a} = ${b}) IS NOT TRUE`,
  afterJoins: (condition) => `(${condition}) IS TRUE`,
};

export const DIALECTS: Readonly<Record<DialectName, Dialect>> = { postgres: POSTGRES, duckdb: DUCKDB };

/** An identifier in quotation marks. */
export function quotedName(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/**
 * A text literal. Backslashes stand for themselves: PostgreSQL's `standard_conforming_strings` must be on, as it is unless
 * somebody turned it off.
 */
export function textLiteral(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
