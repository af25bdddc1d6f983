/**
 * Comparison of values.
 *
 * `equals` and `less` are those of <comparison predicate> (ISO/IEC 39075:2024, 19.3): null propagates. Values of
 * unlike types, which the standard answers with a data exception unless Feature GA04 is supported, compare as
 * unknown here, since one odd property among ten thousand must not end a search.
 *
 * `compareValues` and `valueKey` are total: they serve ORDER BY, DISTINCT, GROUP BY, MIN and MAX, where two nulls
 * are not distinct. The order of unlike types is implementation-defined; ours is that of RANKS.
 */
import { compareTemporal, placeOf, scaleOf } from './temporal-order.ts';
import type { Truth } from './truth.ts';
import { fieldOf, isList, type PathValue, type RecordValue, typeOf, type Value } from './value.ts';

/** `a = b`. */
export function equals(a: Value, b: Value): Truth {
  if (a === null || b === null) return null;
  if (typeof a !== 'object' || typeof b !== 'object') return typeof a === typeof b ? a === b : null;
  if (isList(a) || isList(b)) return isList(a) && isList(b) ? listsEqual(a, b) : null;
  switch (a.kind) {
    case 'node':
    case 'edge':
      return a.kind === b.kind ? a.key === b.key : null;
    case 'path':
      return b.kind === 'path' ? listsEqual(a.elements, b.elements) : null;
    case 'record':
      return b.kind === 'record' ? recordsEqual(a, b) : null;
    case 'date':
    case 'time':
    case 'datetime':
    case 'duration':
      if (b.kind !== a.kind || scaleOf(a) !== scaleOf(b)) return null;
      return compareTemporal(a, b) === 0;
    default:
      return a satisfies never;
  }
}

/** `a < b`: numbers, texts by code point, FALSE before TRUE, temporal values on one scale; otherwise unknown. */
export function less(a: Value, b: Value): Truth {
  if (a === null || b === null) return null;
  if (typeof a === 'number' && typeof b === 'number') return a < b;
  if (typeof a === 'string' && typeof b === 'string') return compareTexts(a, b) < 0;
  if (typeof a === 'boolean' && typeof b === 'boolean') return !a && b;
  if (typeof a !== 'object' || typeof b !== 'object' || isList(a) || isList(b)) return null;
  switch (a.kind) {
    case 'date':
    case 'time':
    case 'datetime':
    case 'duration':
      if (b.kind !== a.kind || scaleOf(a) !== scaleOf(b)) return null;
      return compareTemporal(a, b) < 0;
    default:
      return null;
  }
}

function listsEqual(a: readonly Value[], b: readonly Value[]): Truth {
  if (a.length !== b.length) return false;
  let unknown = false;
  for (let i = 0; i < a.length; i++) {
    const same = equals(a[i]!, b[i]!);
    if (same === false) return false;
    unknown ||= same === null;
  }
  return unknown ? null : true;
}

function recordsEqual(a: RecordValue, b: RecordValue): Truth {
  const keys = Object.keys(a.fields).sort();
  if (keys.join('\0') !== Object.keys(b.fields).sort().join('\0')) return false;
  return listsEqual(fieldValues(a, keys), fieldValues(b, keys));
}

function fieldValues(record: RecordValue, keys: readonly string[]): Value[] {
  return keys.map((key) => fieldOf(record, key));
}

/** By code point, as the collation UCS_BASIC does; UTF-16 units differ from that beyond the surrogates. */
export function compareTexts(a: string, b: string): number {
  const length = Math.min(a.length, b.length);
  for (let i = 0; i < length; i++) {
    const unitA = a.charCodeAt(i);
    const unitB = b.charCodeAt(i);
    if (unitA !== unitB) return fixed(unitA) - fixed(unitB);
  }
  return a.length - b.length;
}

/** Moves the surrogates behind the units that stand for lower code points than they do. */
function fixed(unit: number): number {
  if (unit < 0xd800) return unit;
  return unit >= 0xe000 ? unit - 0x800 : unit + 0x2000;
}

const RANKS = {
  boolean: 0,
  number: 1,
  string: 2,
  date: 3,
  time: 4,
  datetime: 5,
  duration: 6,
  list: 7,
  record: 8,
  node: 9,
  edge: 10,
  path: 11,
} as const;

/** Negative, zero or positive, over all values that are not null. */
export function compareValues(a: Exclude<Value, null>, b: Exclude<Value, null>): number {
  const typeA = typeOf(a);
  const rank = RANKS[typeA] - RANKS[typeOf(b)];
  if (rank !== 0) return rank;
  switch (typeA) {
    case 'boolean':
      return Number(a) - Number(b);
    case 'number':
      return (a as number) - (b as number);
    case 'string':
      return compareTexts(a as string, b as string);
    case 'date':
    case 'time':
    case 'datetime':
    case 'duration': {
      const [x, y] = [a as Parameters<typeof scaleOf>[0], b as Parameters<typeof scaleOf>[0]];
      return compareTexts(scaleOf(x), scaleOf(y)) || compareTemporal(x, y);
    }
    case 'list':
      return compareLists(a as readonly Value[], b as readonly Value[]);
    case 'path':
      return compareLists((a as PathValue).elements, (b as PathValue).elements);
    case 'node':
    case 'edge': {
      const [x, y] = [(a as { key: number | string }).key, (b as { key: number | string }).key];
      return typeof x === 'number' && typeof y === 'number' ? x - y : compareTexts(String(x), String(y));
    }
    case 'record':
      return compareTexts(valueKey(a), valueKey(b));
    default:
      return typeA satisfies never;
  }
}

function compareLists(a: readonly Value[], b: readonly Value[]): number {
  const length = Math.min(a.length, b.length);
  for (let i = 0; i < length; i++) {
    const [x, y] = [a[i]!, b[i]!];
    const order = x === null || y === null ? Number(x === null) - Number(y === null) : compareValues(x, y);
    if (order !== 0) return order;
  }
  return a.length - b.length;
}

/** A text that two values share exactly when they are not distinct: equal, or both null. */
export function valueKey(value: Value): string {
  if (value === null) return 'n';
  switch (typeof value) {
    case 'boolean':
      return value ? 't' : 'f';
    case 'number':
      return `#${value === 0 ? 0 : value}`;
    case 'string':
      return `"${value.length}:${value}`;
    default:
  }
  if (isList(value)) return `[${value.map(valueKey).join(',')}]`;
  switch (value.kind) {
    case 'node':
    case 'edge':
      return `${value.kind}${valueKey(value.key)}`;
    case 'path':
      return `p${valueKey(value.elements)}`;
    case 'record': {
      const keys = Object.keys(value.fields).sort();
      return `{${keys.map((key) => `${valueKey(key)}=${valueKey(fieldOf(value, key))}`).join(',')}}`;
    }
    default:
      return `${scaleOf(value)} ${placeOf(value).join(' ')}`;
  }
}
