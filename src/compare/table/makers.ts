import { recordOfId } from '../../model/ids.ts';
import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { tidy } from '../../statistics/tidy.ts';
import { type Cell, count, type RowCell } from './cell.ts';
import { type Column, noneSeen } from './column.ts';

/** Probability of each maker for every component of which one is named. */
function makersNamed({ specimen }: Column): readonly ReadonlyMap<string, number>[] {
  return specimen.counted.flatMap(({ id }) => {
    const makers = new Map<string, number>();
    for (const { part, maker, probability } of specimen.identified.get(id)?.candidates ?? []) {
      const by = part === undefined ? maker : recordOfId(part);
      if (by !== undefined) makers.set(by, Math.min(1, (makers.get(by) ?? 0) + probability));
    }
    return makers.size > 0 ? [makers] : [];
  });
}

/** Shares of the makers of parts, in percent of the components of which a maker is named. */
export function makerRows(column: Column): readonly RowCell[] {
  const named = makersNamed(column);
  const makers = [...new Set(named.flatMap((one) => [...one.keys()]))].sort();
  const chances = (maker: string) => named.map((one) => one.get(maker) ?? 0);
  const most = named.map((one) => Math.max(...one.values()));
  return [
    {
      key: 'makers.named',
      label: 'Components with a maker',
      unit: '1',
      is: 'Components of which a maker is named: what the shares below are shares of.',
      cell:
        named.length === 0
          ? noneSeen(column)
          : count(
              most.filter((p) => p >= CERTAIN).length,
              sum(most),
              most.filter((p) => p >= POSSIBLE).length,
            ),
    },
    ...makers.map((maker) => {
      const all = chances(maker);
      const share = (part: number) => tidy((100 * part) / named.length);
      return {
        key: `makers.${maker}`,
        label: column.state.maker(maker)?.name ?? maker,
        unit: '%',
        is: 'Share of this maker in the components of which a maker is named.',
        of: maker,
        cell: {
          certain: share(all.filter((p) => p >= CERTAIN).length),
          expected: share(sum(all)),
          possible: share(all.filter((p) => p >= POSSIBLE).length),
          missing: null,
        } satisfies Cell,
      };
    }),
  ];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
