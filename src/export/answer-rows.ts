import type { ComparisonTable } from '../compare/comparison-table.ts';
import { recordOfId } from '../model/ids.ts';
import type { TrendAnswer, TrendCell, TrendSeries } from '../trends/answer.ts';
import type { Row } from './rows.ts';

// Answers as rows for a spreadsheet, wherever they are given: plain numbers at full precision.

/** A trend: a row a group and period. */
export function trendRows(answer: TrendAnswer): readonly Row[] {
  const text = (value: number | null | undefined) =>
    value === null || value === undefined ? '' : String(value);
  const row = ({ group, test, verdict }: TrendSeries, period: string, cell: TrendCell): Row => ({
    measure: answer.of,
    unit: answer.unit,
    group: group ?? 'all',
    period,
    devices: text(cell.devices),
    n: text(cell.n),
    notObserved: text(cell.notObserved),
    absent: text(cell.absent),
    value: text(cell.value),
    low: text(cell.interval?.low),
    high: text(cell.interval?.high),
    productLines: text(cell.productLines),
    productLineLow: text(cell.productLineInterval?.low),
    productLineHigh: text(cell.productLineInterval?.high),
    certainLow: text(cell.band?.low),
    possibleHigh: text(cell.band?.high),
    certain: text(cell.certain),
    likely: text(cell.likely),
    expected: text(cell.expected),
    possible: text(cell.possible),
    ...(period === 'all'
      ? { q: text(test?.q), qAtMost: text(test?.qAtMost), verdict: verdict.sentence }
      : { q: '', qAtMost: '', verdict: '' }),
  });
  return [answer.total, ...answer.groups].flatMap((series) => [
    ...series.periods.map((one) => row(series, one.period, one)),
    row(series, 'all', series.total),
  ]);
}

/** A comparison: a row a figure, with what is certain, expected and missing of each device in columns of their own. */
export function comparisonRows({ columns, sections }: ComparisonTable): readonly Row[] {
  const heads = shortIds(columns.map(({ specimen }) => specimen.id));
  return sections.flatMap(({ key: section, rows }) =>
    rows.map(({ key, label, unit, cells }) => ({
      section,
      key,
      label,
      unit,
      ...Object.fromEntries(
        cells.flatMap(({ certain, expected, missing, note }, at) => [
          [`${heads[at]} certain`, certain === null ? '' : String(certain)],
          [`${heads[at]} expected`, expected === null ? '' : String(expected)],
          [`${heads[at]} missing`, missing ?? ''],
          [`${heads[at]} note`, note ?? ''],
        ]),
      ),
    })),
  );
}

/** Ids of specimens as column heads: the device alone where no two specimens of it stand there. */
export function shortIds(specimenIds: readonly string[]): readonly string[] {
  const devices = specimenIds.map(recordOfId);
  const unlike = new Set(specimenIds);
  return specimenIds.map((id, at) => {
    const others = [...unlike].filter((other) => recordOfId(other) === devices[at]).length;
    const name = others > 1 ? id : devices[at];
    const before = specimenIds.slice(0, at).filter((other) => other === id).length;
    return before === 0 ? name : `${name} (${before + 1})`;
  });
}
