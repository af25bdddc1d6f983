/** Aggregates over rows as SQL. */

import type { Aggregate } from '../language/ast.ts';
import type { Dialect } from './dialect.ts';
import {
  byKind,
  encoded,
  isNotNullSql,
  kindsOf,
  NotInSql,
  NULL_VALUE,
  numberOf,
  ofKind,
  type SqlValue,
} from './sql-value.ts';

/** An aggregate over the rows of a SELECT. */
export function aggregateSql(node: Aggregate, value: SqlValue, dialect: Dialect): SqlValue {
  const { number: type } = dialect.types;
  if (!node.argument) return numberOf(dialect, 'COUNT(*)');
  const distinct = node.distinct ? 'DISTINCT ' : '';
  const kinds = kindsOf(value);
  const counted = kinds.length === 1 ? value.parts[kinds[0]!]! : undefined;
  switch (node.name) {
    case 'COUNT':
      if (kinds.length === 0) return numberOf(dialect, '0');
      if (counted !== undefined) return numberOf(dialect, `COUNT(${distinct}${counted})`);
      return numberOf(
        dialect,
        `COUNT(${distinct}CASE WHEN ${isNotNullSql(value)} THEN ${encoded(value, dialect)} END)`,
      );
    case 'SUM':
    case 'AVG':
    case 'STDDEV_SAMP':
    case 'STDDEV_POP': {
      const { number } = value.parts;
      if (number === undefined) return NULL_VALUE;
      const others = kinds.filter((kind) => kind !== 'number');
      const sum = `${node.name.toLowerCase()}(${distinct}${number})`;
      const all = others.map((kind) => `COUNT(${value.parts[kind]}) = 0`).join(' AND ');
      const found = dialect.finite(`CAST(${sum} AS ${type})`);
      return ofKind('number', all ? `CASE WHEN ${all} THEN ${found} END` : found);
    }
    case 'MIN':
    case 'MAX':
      return extreme(node, value, dialect);
    default:
      throw new NotInSql(
        node.span,
        node.name === 'COLLECT_LIST'
          ? 'COLLECT_LIST is not compiled to SQL: the order of its items is that in which an engine comes to them'
          : `${node.name} is not compiled to SQL`,
      );
  }
}

function extreme(node: Aggregate, value: SqlValue, dialect: Dialect): SqlValue {
  const kinds = kindsOf(value);
  const odd = kinds.find((kind) => kind !== 'boolean' && kind !== 'number' && kind !== 'string');
  if (odd)
    throw new NotInSql(
      node.span,
      `${node.name} of a ${odd} is not compiled to SQL: their order is the engine's own`,
    );
  // Of unlike kinds the lowest, or the highest, decides.
  const byRank = node.name === 'MIN' ? kinds : [...kinds].reverse();
  const word = node.name.toLowerCase();
  return byKind([value], ([part], kind) => {
    const found =
      kind === 'boolean'
        ? `${node.name === 'MIN' ? 'bool_and' : 'bool_or'}(${part})`
        : `${word}(${kind === 'string' ? dialect.ordered(part!) : part})`;
    const before = byRank.slice(0, byRank.indexOf(kind));
    const none = before.map((other) => `COUNT(${value.parts[other]}) = 0`).join(' AND ');
    return none ? `CASE WHEN ${none} THEN ${found} END` : found;
  });
}
