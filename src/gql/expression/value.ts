/**
 * Values of expressions. The property values of the graph (`number`, `string`, `boolean`, lists, records) are values
 * as they are, but for records, which `valueOfProperty` wraps so that they cannot be taken for anything else.
 *
 * What cannot be computed is null and never NaN: see `CONFORMANCE.md`, "Errors of data".
 */
import type { Temporal } from '../language/temporal.ts';

export type Value =
  | null
  | boolean
  | number
  | string
  | readonly Value[]
  | Temporal
  | NodeReference
  | EdgeReference
  | PathValue
  | RecordValue;

/** What the graph calls the element by: any number or text that no other node (or edge) has. */
export type ElementKey = number | string;

export interface NodeReference {
  readonly kind: 'node';
  readonly key: ElementKey;
}

export interface EdgeReference {
  readonly kind: 'edge';
  readonly key: ElementKey;
}

export type ElementReference = NodeReference | EdgeReference;

/** Node, edge, node, …, node. */
export interface PathValue {
  readonly kind: 'path';
  readonly elements: readonly ElementReference[];
}

export interface RecordValue {
  readonly kind: 'record';
  /** Properties as the graph holds them, or values when `hasValues` is set; read by {@link fieldOf}. */
  readonly fields: Readonly<Record<string, unknown>>;
  readonly hasValues?: true;
}

/** A field of a record; null when it has none of the name. */
export function fieldOf({ fields, hasValues }: RecordValue, key: string): Value {
  if (!Object.hasOwn(fields, key)) return null;
  return hasValues ? (fields[key] as Value) : valueOfProperty(fields[key]);
}

/** A record of values. */
export function recordOf(fields: Iterable<readonly [string, Value]>): RecordValue {
  return { kind: 'record', fields: Object.fromEntries(fields), hasValues: true };
}

/** Names of types, as parameters of functions declare them. */
export type TypeName =
  | 'any'
  | 'boolean'
  | 'number'
  | 'string'
  | 'list'
  | 'date'
  | 'time'
  | 'datetime'
  | 'duration'
  | 'node'
  | 'edge'
  | 'element'
  | 'path'
  | 'record';

/** The type of a value that is not null. */
export function typeOf(value: Exclude<Value, null>): Exclude<TypeName, 'any' | 'element'> {
  switch (typeof value) {
    case 'boolean':
      return 'boolean';
    case 'number':
      return 'number';
    case 'string':
      return 'string';
    default:
      return isList(value) ? 'list' : value.kind;
  }
}

/** Whether a value that is not null is valid for a declared type. */
export function hasType(value: Exclude<Value, null>, type: TypeName): boolean {
  if (type === 'any') return true;
  const actual = typeOf(value);
  return actual === type || (type === 'element' && (actual === 'node' || actual === 'edge'));
}

export function isList(value: Value): value is readonly Value[] {
  return Array.isArray(value);
}

export function isElement(value: Value): value is ElementReference {
  return (
    typeof value === 'object' &&
    value !== null &&
    !isList(value) &&
    (value.kind === 'node' || value.kind === 'edge')
  );
}

/** A property as the graph holds it, as a value. Undefined and numbers that are none become null. */
export function valueOfProperty(property: unknown): Value {
  switch (typeof property) {
    case 'boolean':
    case 'string':
      return property;
    case 'number':
      return Number.isFinite(property) ? property : null;
    case 'object':
      if (property === null) return null;
      if (Array.isArray(property)) return property.map(valueOfProperty);
      return { kind: 'record', fields: property as Readonly<Record<string, unknown>> };
    default:
      return null;
  }
}

/** What expressions ask of a graph's elements. The expression side never sees the graph. */
export interface ElementAccess {
  /** Null when the element has no such property. */
  property(element: ElementReference, key: string): Value;
  /** All labels, super-labels included. */
  labels(element: ElementReference): readonly string[];
  /** Whether it has a label: for a single label better than {@link labels}, since others need not be known. */
  hasLabel(element: ElementReference, label: string): boolean;
  isDirected(edge: EdgeReference): boolean;
  /** Ends of an edge; of an undirected edge in either order. */
  ends(edge: EdgeReference): { readonly source: NodeReference; readonly target: NodeReference };
  /** What the element is called outside. */
  id(element: ElementReference): string;
}
