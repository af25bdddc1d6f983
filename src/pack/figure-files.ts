import type { Chart, ChartSource } from '../charts/chart.ts';
import { comparisonChart } from '../charts/comparison-chart.ts';
import { trendChart } from '../charts/trend-chart.ts';
import { comparisonTable } from '../compare/comparison-table.ts';
import { comparisonRows, trendRows } from '../export/answer-rows.ts';
import { toCsv } from '../export/csv.ts';
import type { Figure } from '../model/figure.ts';
import type { State } from '../state/state.ts';
import type { TrendAnswer } from '../trends/answer.ts';
import { filterOfFigure } from '../trends/filter.ts';
import type { Subject } from '../trends/subject.ts';
import { trend } from '../trends/trends.ts';

/** The numbers under a figure that a sentence states: the table that `caseback trend` or `caseback compare` gives as CSV, and its chart. */
export interface FigureNumbers {
  readonly csv: string;
  readonly chart: Chart;
}

/**
 * Calculates the numbers under a figure.
 * @throws CasebackError NOT_FOUND when it names what nothing visible has; the signal's reason
 */
export async function figureNumbers(
  view: State,
  figure: Figure,
  source: ChartSource,
  signal?: AbortSignal,
): Promise<FigureNumbers> {
  if ('compare' in figure) {
    const table = await comparisonTable(view, figure.devices, { signal });
    const counted = table.sections.filter(({ key, rows }) =>
      rows.some((row) => row.key === `${key}.${figure.compare}`),
    );
    // Where nothing of that kind is in either, everything is shown beside it.
    const shown = counted.length > 0 ? counted : table.sections;
    return { csv: toCsv(comparisonRows(table)), chart: comparisonChart(table.columns, shown, source) };
  }
  const answer = await trendOf(view, figure, signal);
  return { csv: toCsv(trendRows(answer)), chart: trendChart(answer, source) };
}

/** The table alone. @throws as {@link figureNumbers} */
export async function figureTable(view: State, figure: Figure, signal?: AbortSignal): Promise<string> {
  if ('compare' in figure)
    return toCsv(comparisonRows(await comparisonTable(view, figure.devices, { signal })));
  return toCsv(trendRows(await trendOf(view, figure, signal)));
}

function trendOf(
  view: State,
  figure: Exclude<Figure, { compare: unknown }>,
  signal?: AbortSignal,
): Promise<TrendAnswer> {
  const subject: Subject = 'share' in figure ? figure.share : 'count' in figure ? figure.count : figure.trend;
  const per = 'trend' in figure ? figure.per : 'year';
  return trend(view, { of: { share: subject }, per, where: filterOfFigure(figure.where) }, signal);
}
