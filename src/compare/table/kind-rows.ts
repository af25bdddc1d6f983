import { meaningOf, termsUnder } from '../../model/taxonomy.ts';
import { count, type RowCell } from './cell.ts';
import { type Column, noneSeen, presenceFor } from './column.ts';

/** Counts of a kind and of every kind under it that the specimen has or may have. */
export function kindRows(column: Column, section: string, above: string): readonly RowCell[] {
  return [above, ...termsUnder(above)].flatMap((kind) => {
    const row = kindRow(column, section, kind);
    return kind === above || row.cell.missing === null ? [row] : [];
  });
}

/** Count of one kind. */
export function kindRow(column: Column, section: string, kind: string): RowCell {
  const { certain, expected, possible, verdict } = presenceFor(column, kind);
  const there = verdict === 'CERTAIN' || verdict === 'POSSIBLE';
  return {
    key: `${section}.${kind}`,
    label: kind,
    unit: '1',
    is: meaningOf(kind) ?? kind,
    of: kind,
    cell: there ? count(certain, expected, possible) : noneSeen(column, kind),
  };
}
