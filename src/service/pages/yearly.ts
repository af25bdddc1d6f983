import { yearOf } from '../../model/dates.ts';
import { presenceOf } from '../../presence/presence.ts';
import type { State } from '../../state/state.ts';

/** Devices released in one year, and how many of them have a component of a category. */
export interface YearShare {
  readonly year: number;
  /** Opened devices of that year in the archive. */
  readonly devices: number;
  /** Of these, devices that have one with probability 0.95 or more. */
  readonly certain: number;
  /** Sum of the probabilities that each has one: the number to expect. */
  readonly expected: number;
  /** Devices that have one with probability 0.05 or more. */
  readonly possible: number;
}

/** Shares for every year from the first release to the last, years without devices included. */
export async function yearlyShares(
  view: State,
  category: string,
  signal?: AbortSignal,
): Promise<YearShare[]> {
  const found = (await presenceOf(view, signal)).of(category);
  const years = new Map<number, { devices: number; certain: number; expected: number; possible: number }>();
  for (const { id, released } of view.devices()) {
    if (view.specimensOf(id).length === 0) continue;
    const year = yearOf(released);
    const row = years.get(year) ?? { devices: 0, certain: 0, expected: 0, possible: 0 };
    years.set(year, row);
    row.devices++;
    const presence = found.get(id);
    if (!presence) continue;
    const { probability, verdict } = presence;
    row.expected += probability;
    if (verdict === 'CERTAIN') row.certain++;
    if (verdict === 'CERTAIN' || verdict === 'POSSIBLE') row.possible++;
  }
  const all = [...years.keys()];
  const first = Math.min(...all);
  return Array.from({ length: all.length > 0 ? Math.max(...all) - first + 1 : 0 }, (_, i) => ({
    year: first + i,
    ...(years.get(first + i) ?? { devices: 0, certain: 0, expected: 0, possible: 0 }),
  }));
}
