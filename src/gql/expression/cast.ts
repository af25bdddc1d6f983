/**
 * CAST(x AS type) (ISO/IEC 39075:2024, 20.8 <cast specification>, subclause number from memory). Null stays null; a
 * value that cannot be cast is null, where the standard raises a data exception.
 */
import type { CastType } from '../language/ast.ts';
import { readTemporal, type Temporal, temporalText } from '../language/temporal.ts';
import { finite } from './arithmetic.ts';
import { isList, type Value } from './value.ts';

export function cast(value: Value, type: CastType): Value {
  if (value === null || isList(value)) return null;
  switch (type) {
    case 'STRING':
      return castText(value);
    case 'FLOAT':
      return castNumber(value);
    case 'INTEGER': {
      const number = castNumber(value);
      return number === null ? null : Math.trunc(number) + 0;
    }
    case 'BOOLEAN':
      return castBoolean(value);
    case 'DATE':
    case 'TIME':
    case 'DATETIME':
    case 'DURATION':
      return castTemporal(value, type);
    default:
      return type satisfies never;
  }
}

function castText(value: Exclude<Value, null>): string | null {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return String(value === 0 ? 0 : value);
  if (typeof value === 'boolean') return value ? 'TRUE' : 'FALSE';
  return isTemporal(value) ? temporalText(value) : null;
}

function castNumber(value: Exclude<Value, null>): number | null {
  if (typeof value === 'number') return value;
  if (typeof value === 'boolean') return null;
  if (typeof value !== 'string') return null;
  const text = value.trim();
  return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(text) ? finite(Number(text)) : null;
}

function castBoolean(value: Exclude<Value, null>): boolean | null {
  if (typeof value === 'boolean') return value;
  if (typeof value !== 'string') return null;
  const text = value.trim().toUpperCase();
  return text === 'TRUE' ? true : text === 'FALSE' ? false : null;
}

function castTemporal(value: Exclude<Value, null>, type: 'DATE' | 'TIME' | 'DATETIME' | 'DURATION'): Value {
  if (typeof value === 'string') return readTemporal(type, value) ?? null;
  if (!isTemporal(value)) return null;
  if (value.kind === type.toLowerCase()) return value;
  if (type === 'DATE' && value.kind === 'datetime') return { kind: 'date', day: value.day };
  if (type === 'TIME' && value.kind === 'datetime') {
    return { kind: 'time', nanosecond: value.nanosecond, offset: value.offset };
  }
  if (type === 'DATETIME' && value.kind === 'date') {
    return { kind: 'datetime', day: value.day, nanosecond: 0, offset: undefined };
  }
  return null;
}

function isTemporal(value: Exclude<Value, null>): value is Temporal {
  if (typeof value !== 'object' || isList(value)) return false;
  return (
    value.kind === 'date' || value.kind === 'time' || value.kind === 'datetime' || value.kind === 'duration'
  );
}
