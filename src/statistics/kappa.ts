import { requireCount, requireSameLength } from './domain.ts';
import { type NoData, noData } from './no-data.ts';

/** How far two judges agree beyond chance. */
export interface Agreement {
  readonly kind: 'agreement';
  readonly n: number;
  /** Share of cases judged alike. */
  readonly observed: number;
  /** Share to be expected if each judged at random with their own frequencies. */
  readonly byChance: number;
  /** (observed - byChance) / (1 - byChance): 1 for full agreement, 0 for none beyond chance. */
  readonly kappa: number;
}

/**
 * Cohen's kappa (Cohen, Educational and Psychological Measurement 20, 1960, 37-46).
 * @param table square, counts: row by the first judge, column by the second
 * @throws RangeError unless the table is square with whole counts
 */
export function cohenKappa(table: readonly (readonly number[])[]): Agreement | NoData {
  for (const row of table) {
    requireSameLength(table, 'rows', row, 'columns');
    row.forEach((count) => requireCount(count, 'a count'));
  }
  const sum = (counts: readonly number[]) => counts.reduce((total, count) => total + count, 0);
  const n = sum(table.flat());
  if (n === 0) return noData('no case was judged');
  const observed = sum(table.map((row, at) => row[at])) / n;
  const byChance = sum(table.map((row, at) => (sum(row) / n) * (sum(table.map((other) => other[at])) / n)));
  if (byChance === 1) return noData('both judges put every case into the same class');
  return { kind: 'agreement', n, observed, byChance, kappa: (observed - byChance) / (1 - byChance) };
}
