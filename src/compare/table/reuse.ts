import { CERTAIN } from '../../state/labels.ts';
import { noisyOr } from '../../statistics/noisy-or.ts';
import { count, type RowCell } from './cell.ts';
import { type Column, noneSeen } from './column.ts';

/** Probability of each part for every component that may be it. */
export function partsOf({ specimen }: Column): ReadonlyMap<string, readonly number[]> {
  const parts = new Map<string, number[]>();
  for (const { candidates } of specimen.identified.values()) {
    const own = new Map<string, number>();
    for (const { part, probability } of candidates) {
      if (part !== undefined && probability > 0)
        own.set(part, Math.min(1, (own.get(part) ?? 0) + probability));
    }
    for (const [part, probability] of own) parts.set(part, [...(parts.get(part) ?? []), probability]);
  }
  return parts;
}

/** How many unlike parts a device has. */
export function distinctPartRows(column: Column): readonly RowCell[] {
  return [
    countOfParts(
      column,
      'parts.distinct',
      'Unlike parts',
      'Catalogue parts, each counted once.',
      [...partsOf(column).values()].map((all) => [all, [1]]),
    ),
  ];
}

/**
 * Parts that several devices of a set have: how many of its parts each device shares with some other, and one row for
 * each part that at least two may have.
 */
export function sharedPartRows(columns: readonly Column[]): readonly (readonly RowCell[])[] {
  const parts = columns.map(partsOf);
  const holders = new Map<string, number>();
  for (const one of parts) for (const part of one.keys()) holders.set(part, (holders.get(part) ?? 0) + 1);
  const shared = [...holders].flatMap(([part, number]) => (number > 1 ? [part] : [])).sort();
  return columns.map((column, at) => [
    countOfParts(
      column,
      'reuse.shared',
      'Parts also in another',
      'Catalogue parts that some other device of the comparison has too.',
      shared.flatMap((part) => {
        const own = parts[at].get(part);
        if (own === undefined) return [];
        const others = parts.flatMap((one, other) => (other === at ? [] : (one.get(part) ?? [])));
        return [[own, others] as const];
      }),
    ),
    ...shared.map((part) => {
      const own = parts[at].get(part) ?? [];
      return {
        key: `reuse.part.${part}`,
        label: part,
        unit: '1',
        is: 'Components that are this part.',
        cell:
          own.length === 0
            ? noneSeen(column)
            : count(
                own.filter((p) => p >= CERTAIN).length,
                own.reduce((sum, p) => sum + p, 0),
                own.length,
              ),
      };
    }),
  ]);
}

/** Parts that are there in the device and elsewhere, components taken as independent of one another. */
function countOfParts(
  column: Column,
  key: string,
  label: string,
  is: string,
  parts: readonly (readonly [own: readonly number[], others: readonly number[]])[],
): RowCell {
  const sure = (all: readonly number[]) => all.some((p) => p >= CERTAIN);
  return {
    key,
    label,
    unit: '1',
    is,
    cell:
      column.specimen.identified.size === 0 && parts.length === 0
        ? noneSeen(column)
        : count(
            parts.filter(([own, others]) => sure(own) && sure(others)).length,
            parts.reduce((sum, [own, others]) => sum + noisyOr(own) * noisyOr(others), 0),
            parts.length,
          ),
  };
}
