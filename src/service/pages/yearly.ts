import { yearOf } from '../../model/dates.ts';
import { COLUMN, COLUMNS } from '../../state/component-columns.ts';
import { categoryNumbersUnder } from '../../state/device-list.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { CERTAIN } from '../../state/labels.ts';
import type { View } from '../../state/view.ts';

/** Devices released in one year, and how many of them have a component of a category. */
export interface YearShare {
  readonly year: number;
  /** Devices of that year in the archive. */
  readonly devices: number;
  /** Of these, devices that have one with probability 0.95 or more. */
  readonly certain: number;
  /** Sum of the probabilities that each has one: the number to expect. */
  readonly expected: number;
  /** Devices that may have one at all. */
  readonly possible: number;
}

/** Shares for every year from the first release to the last, years without devices included. */
export function yearlyShares(view: View, category: string): YearShare[] {
  const numbers = categoryNumbersUnder(category);
  const years = new Map<number, { devices: number; certain: number; expected: number; possible: number }>();
  for (const { id, released } of view.devices()) {
    const year = yearOf(released);
    const row = years.get(year) ?? { devices: 0, certain: 0, expected: 0, possible: 0 };
    years.set(year, row);
    // Specimens of one device are views of the same design: the surest one counts.
    const probability = Math.max(0, ...view.specimensOf(id).map((one) => probabilityOfSome(one, numbers)));
    row.devices++;
    row.expected += probability;
    if (probability >= CERTAIN) row.certain++;
    if (probability > 0) row.possible++;
  }
  const all = [...years.keys()];
  const first = Math.min(...all);
  return Array.from({ length: all.length > 0 ? Math.max(...all) - first + 1 : 0 }, (_, i) => ({
    year: first + i,
    ...(years.get(first + i) ?? { devices: 0, certain: 0, expected: 0, possible: 0 }),
  }));
}

/** Probability that at least one component is of the category, components taken as independent. */
function probabilityOfSome({ columns }: SpecimenRow, numbers: ReadonlySet<number>): number {
  let none = 1;
  for (let at = 0; at < columns.length; at += COLUMNS) {
    if (numbers.has(columns[at + COLUMN.category])) {
      none *= 1 - columns[at + COLUMN.categoryProbability] / 1_000_000;
    }
  }
  return 1 - none;
}
