/**
 * The tables that a compiled pattern reads, and what it must know of their content.
 *
 * `nodes(id, …)`, `labels(node, label, probability)` with super-labels written out, and `edges(edge, id, source, target, label,
 * directed, uncertain, …)`. A property has a column for each type that its values have in the table: the maps say which.
 */

import type { Dialect } from './dialect.ts';
import type { SqlValue } from './sql-value.ts';

export type PropertyKind = 'boolean' | 'number' | 'string';

/** Columns of one property. */
export type PropertyColumns = Readonly<Partial<Record<PropertyKind, string>>>;

export interface SqlSchema {
  /** By property. A property that no element has is missing. */
  readonly nodes: ReadonlyMap<string, PropertyColumns>;
  readonly edges: ReadonlyMap<string, PropertyColumns>;
  /** Whether some label has a probability below 1, or some edge may not be there. */
  readonly uncertain: boolean;
  /** By which joins are put in order; they change no rows. */
  readonly counts?: GraphCounts | undefined;
}

/** How much there is of everything in the tables. */
export interface GraphCounts {
  readonly nodes: number;
  /** Nodes that have a label. */
  readonly labels: Readonly<Record<string, number>>;
  /** By label; those without one under the empty text. */
  readonly edges: Readonly<Record<string, EdgeCounts>>;
}

export interface EdgeCounts {
  readonly rows: number;
  /** Different nodes at which they begin, and end. */
  readonly sources: number;
  readonly targets: number;
}

/** What an extension function may use to write itself as SQL. */
export interface FunctionWriter {
  readonly dialect: Dialect;
  /** A property of an argument that is a node. */
  property(node: SqlValue, key: string): SqlValue;
}

/**
 * An extension function as SQL. Arguments are expressions that may be written several times; the answer is null where the
 * function gives null. Undefined where it cannot be written for these arguments.
 */
export type SqlFunction = (given: readonly SqlValue[], writer: FunctionWriter) => SqlValue | undefined;
