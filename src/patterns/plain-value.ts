import { tidy } from '../statistics/tidy.ts';

/**
 * A value of a row as data for JSON: nodes as their ids, edges as `{ kind: 'edge', label, source, target }`, paths as the
 * list of their nodes and edges, records as objects, lists as lists; what is missing is null.
 *
 * The engine hands out elements as objects. They are told from records by having exactly the keys of an element: a record
 * may well have a field `id` or `elements`.
 */
export function plainValue(value: unknown): unknown {
  if (value === undefined) return null;
  if (Array.isArray(value)) return value.map(plainValue);
  if (typeof value !== 'object' || value === null) return value;
  const { kind, id, elements } = value as Readonly<Record<string, unknown>>;
  const keys = Object.keys(value).length;
  if (kind === 'node' && typeof id === 'string' && keys === 2) return id;
  if (kind === 'path' && Array.isArray(elements) && keys === 2) return elements.map(plainValue);
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, member]) =>
      // Edges without an id have the key all the same.
      member === undefined ? [] : [[key, plainValue(member)]],
    ),
  );
}

/**
 * A plain value in a cell of a table: texts as they are, numbers to nine digits behind the point, a path as `a [LABEL] b [LABEL] c`, an edge as
 * `a [LABEL] b`, lists and records as JSON.
 */
export function cellText(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (isEdge(value)) return `${value.source} ${linkText(value)} ${value.target}`;
  if (Array.isArray(value) && value.length > 1 && value.length % 2 === 1) {
    const isPath = value.every((item, i) => (i % 2 === 1 ? isEdge(item) : typeof item === 'string'));
    if (isPath) return value.map((item) => (isEdge(item) ? linkText(item) : item)).join(' ');
  }
  // Distances and sums show no binary rounding error.
  if (typeof value === 'number') return String(tidy(value));
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

interface PlainEdge {
  readonly kind: 'edge';
  readonly label?: string;
  readonly source: string;
  readonly target: string;
}

function isEdge(value: unknown): value is PlainEdge {
  if (typeof value !== 'object' || value === null) return false;
  const { kind, source, target } = value as Readonly<Record<string, unknown>>;
  return kind === 'edge' && typeof source === 'string' && typeof target === 'string';
}

function linkText({ label = '' }: PlainEdge): string {
  return `[${label}]`;
}
