/** Names that the grammar itself must know: aggregates, temporal types, targets of CAST. */
import type { AggregateName, CastType, TemporalType } from './ast.ts';

/** <general set function type>, <binary set function type> (20.9). */
export const AGGREGATE_NAMES: readonly AggregateName[] = [
  'COUNT',
  'SUM',
  'AVG',
  'MIN',
  'MAX',
  'COLLECT_LIST',
  'STDDEV_SAMP',
  'STDDEV_POP',
  'PERCENTILE_CONT',
  'PERCENTILE_DISC',
];

export function aggregateNamed(word: string): AggregateName | undefined {
  return AGGREGATE_NAMES.find((name) => name === word.toUpperCase());
}

const TEMPORAL_TYPES: Readonly<Record<string, TemporalType>> = {
  DATE: 'DATE',
  TIME: 'TIME',
  DATETIME: 'DATETIME',
  TIMESTAMP: 'DATETIME',
  DURATION: 'DURATION',
};

/** The type of `WORD 'text'`. */
export function temporalTypeNamed(word: string): TemporalType | undefined {
  const upper = word.toUpperCase();
  return Object.hasOwn(TEMPORAL_TYPES, upper) ? TEMPORAL_TYPES[upper] : undefined;
}

const CAST_TYPES: Readonly<Record<string, CastType>> = {
  STRING: 'STRING',
  VARCHAR: 'STRING',
  INT: 'INTEGER',
  INTEGER: 'INTEGER',
  BIGINT: 'INTEGER',
  SMALLINT: 'INTEGER',
  INT64: 'INTEGER',
  INT32: 'INTEGER',
  FLOAT: 'FLOAT',
  FLOAT64: 'FLOAT',
  REAL: 'FLOAT',
  DOUBLE: 'FLOAT',
  'DOUBLE PRECISION': 'FLOAT',
  DECIMAL: 'FLOAT',
  BOOL: 'BOOLEAN',
  BOOLEAN: 'BOOLEAN',
  DATE: 'DATE',
  TIME: 'TIME',
  'LOCAL TIME': 'TIME',
  'ZONED TIME': 'TIME',
  DATETIME: 'DATETIME',
  TIMESTAMP: 'DATETIME',
  'LOCAL DATETIME': 'DATETIME',
  'ZONED DATETIME': 'DATETIME',
  DURATION: 'DURATION',
};

/** The target of `CAST(… AS words)`; types that differ only in precision are one. */
export function castTypeNamed(words: string): CastType | undefined {
  const upper = words.toUpperCase();
  return Object.hasOwn(CAST_TYPES, upper) ? CAST_TYPES[upper] : undefined;
}
