import { meaningOf, termsUnder } from '../../model/taxonomy.ts';
import { countKind } from '../counts.ts';
import { count, type RowCell } from './cell.ts';
import { type Column, noneSeen } from './column.ts';

/** Counts of a kind and of every kind under it that some component may be. */
export function kindRows(column: Column, section: string, above: string): readonly RowCell[] {
  return [above, ...termsUnder(above)].flatMap((kind) => {
    const row = kindRow(column, section, kind);
    return kind === above || (row.cell.possible ?? 0) > 0 ? [row] : [];
  });
}

/** Count of one kind. */
export function kindRow(column: Column, section: string, kind: string): RowCell {
  const { certain, expected, possible } = countKind(column.specimen, kind);
  return {
    key: `${section}.${kind}`,
    label: kind,
    unit: '1',
    is: meaningOf(kind) ?? kind,
    cell: possible === 0 ? noneSeen(column) : count(certain, expected, possible),
  };
}
