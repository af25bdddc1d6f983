import type { Chart as ChartAnswer, ChartSource as Source } from '../../../charts/chart.ts';
import type { ChartSize } from '../../../charts/house-style.ts';
import { columnsOf } from '../../../export/rows.ts';
import { chartSourceOf, drawnChart } from '../../../questions/charts.ts';
import type { State } from '../../../state/state.ts';
import { instantOf } from '../instants.ts';
import type { ChartSize as ApiSize, Resolvers } from '../resolver-types.ts';

/** A chart as its resolvers see it. */
export type ChartSource = ChartAnswer;

/** What the last line of a chart says: of the present the day is today's, of an earlier view the day asked for. */
export function chartSource(view: State): Source {
  return chartSourceOf(view, (instantOf(view) ?? new Date().toISOString()).slice(0, 10));
}

/** A size as charts take it. */
export function sizeOf(size: ApiSize): ChartSize {
  return size === 'COLUMN' ? 'column' : 'page';
}

/** Charts of answers. */
export const charts: Resolvers = {
  Chart: {
    columns: ({ rows }) => columnsOf(rows),
    rows: ({ rows }) => {
      const columns = columnsOf(rows);
      return rows.map((row) => columns.map((column) => row[column] ?? ''));
    },
    vegaLite: ({ document }) => document,
    svg: ({ document }) => drawnChart(document),
  },
};
