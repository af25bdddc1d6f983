import { isPart } from '../../presence/row.ts';
import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { noisyOr } from '../../statistics/noisy-or.ts';
import { count, type RowCell } from './cell.ts';
import { type Column, noneSeen, presenceFor } from './column.ts';

/** Probability of each part that a specimen has or may have. */
function partsOf({ presence }: Column): ReadonlyMap<string, number> {
  return new Map([...presence.all()].filter(([name, p]) => isPart(name) && p >= POSSIBLE));
}

/** How many unlike parts a device has. */
export function distinctPartRows(column: Column): readonly RowCell[] {
  return [
    countOfParts(
      column,
      'parts.distinct',
      'Unlike parts',
      'Catalogue parts, each counted once.',
      [...partsOf(column).values()].map((own) => [own, 1]),
    ),
  ];
}

/**
 * Parts that several devices of a set have: how many of its parts each device shares with some other, and one row for
 * each part that at least two may have.
 */
export function sharedPartRows(columns: readonly Column[]): readonly (readonly RowCell[])[] {
  const parts = columns.map(partsOf);
  const numbers = new Map<string, number>();
  for (const one of parts) for (const part of one.keys()) numbers.set(part, (numbers.get(part) ?? 0) + 1);
  const shared = [...numbers].flatMap(([part, number]) => (number > 1 ? [part] : [])).sort();
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
        return [[own, noisyOr(others)] as const];
      }),
    ),
    ...shared.map((part) => {
      const { certain, expected, possible } = presenceFor(column, part);
      return {
        key: `reuse.part.${part}`,
        label: part,
        unit: '1',
        is: 'Components that are this part.',
        cell: parts[at].has(part) ? count(certain, expected, possible) : noneSeen(column, part),
      };
    }),
  ]);
}

/** Parts that are there in the device and elsewhere, devices taken as independent of one another. */
function countOfParts(
  column: Column,
  key: string,
  label: string,
  is: string,
  parts: readonly (readonly [own: number, others: number])[],
): RowCell {
  return {
    key,
    label,
    unit: '1',
    is,
    cell:
      column.specimen.identified.size === 0 && parts.length === 0
        ? noneSeen(column)
        : count(
            parts.filter(([own, others]) => own >= CERTAIN && others >= CERTAIN).length,
            parts.reduce((sum, [own, others]) => sum + own * others, 0),
            parts.length,
          ),
  };
}
