/** What ORDER BY sorts by, with unlike kinds of values in order. */

import type { SortKey } from '../language/ast.ts';
import { KINDS } from './dialect.ts';
import { isNullSql, kindsOf, NotInSql, type SqlValue } from './sql-value.ts';

/** What rows are sorted by, in turn. */
export interface SqlSortKey {
  readonly sql: string;
  readonly direction: 'ASC' | 'DESC';
  readonly isText?: boolean;
}

/** Sort keys for a value, in the order that ORDER BY has for unlike kinds. */
export function sortKeys(value: SqlValue, { descending, nulls, span }: SortKey): SqlSortKey[] {
  const kinds = kindsOf(value);
  const odd = kinds.find((kind) => kind !== 'boolean' && kind !== 'number' && kind !== 'string');
  if (odd)
    throw new NotInSql(span, `Sorting by a ${odd} is not compiled to SQL: their order is the engine's own`);
  if (kinds.length === 0) return [];
  const direction = descending ? 'DESC' : 'ASC';
  const nullsFirst = nulls === undefined ? descending : nulls === 'FIRST';
  const rank = `CASE ${kinds.map((kind) => `WHEN ${value.parts[kind]} IS NOT NULL THEN ${KINDS.indexOf(kind)}`).join(' ')} END`;
  return [
    {
      sql: `CASE WHEN ${isNullSql(value)} THEN ${nullsFirst ? 0 : 1} ELSE ${nullsFirst ? 1 : 0} END`,
      direction: 'ASC',
    },
    ...(kinds.length > 1 ? [{ sql: rank, direction } as const] : []),
    ...kinds.map((kind) => ({ sql: value.parts[kind]!, direction, isText: kind === 'string' }) as const),
  ];
}
