import type { Row } from '../../export/rows.ts';
import type { Interval } from '../../statistics/proportion.ts';
import { fixed, percentText, significant } from '../../text/rounding.ts';
import type { TrendAnswer, TrendCell } from '../../trends/answer.ts';

/** Rows to be read: numbers short, shares in percent, periods in which a group has no device left out. */
export function tableRows(answer: TrendAnswer): readonly Row[] {
  const isShare = answer.unit === '1' && answer.total.total.likely !== null;
  const number = (value: number | null) =>
    value === null ? '–' : isShare ? percentText(value) : String(significant(value, 4));
  const range = (interval: Interval | null) =>
    interval ? `${number(interval.low)} to ${number(interval.high)}` : '–';
  const all = [answer.total, ...answer.groups].flatMap((series) => [series.total, ...series.periods]);
  const isGrouped = all.some(({ n, productLines }) => productLines < n);
  const row = (group: string, period: string, cell: TrendCell): Row => ({
    ...(answer.by ? { [answer.by]: group } : {}),
    [answer.per]: period,
    n: String(cell.n),
    'not observed': String(cell.notObserved),
    absent: String(cell.absent),
    [isShare ? 'share' : answer.unit]: number(cell.value),
    '95 % interval': range(cell.interval),
    ...(isGrouped ? { 'by product line': range(cell.productLineInterval) } : {}),
    ...(cell.likely === null
      ? { certain: String(cell.certain) }
      : {
          'certain to possible': range(cell.band),
          expected: cell.n === 0 ? '–' : String(Number(fixed(cell.expected ?? 0, 2))),
        }),
  });
  return [answer.total, ...answer.groups].flatMap(({ group, label, periods, total }) => [
    ...periods
      .filter(({ devices }) => group === null || devices > 0)
      .map((one) => row(label, one.period, one)),
    row(label, 'all', total),
  ]);
}
