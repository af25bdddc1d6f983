// Answers as charts, and charts drawn. The code is loaded on first use.

import type { Chart, ChartDocument, ChartSource } from '../charts/chart.ts';
import type { ChartSize } from '../charts/house-style.ts';
import type { TableOptions } from '../compare/comparison-table.ts';
import type { Compared } from '../compare/representative.ts';
import type { State } from '../state/state.ts';
import type { TrendAnswer } from '../trends/answer.ts';
import { comparisonSections } from './comparison.ts';

/** What the last line of a chart says of a state. @param on the day that the state is of, YYYY-MM-DD */
export function chartSourceOf(state: State, on: string): ChartSource {
  return { on, invented: state.derived(hasInvented) };
}

function hasInvented(state: State): boolean {
  return state.devices().some(({ invented }) => invented);
}

/** The periods of a trend as a chart. */
export async function chartOfTrend(
  answer: TrendAnswer,
  source: ChartSource,
  size?: ChartSize,
): Promise<Chart> {
  const { trendChart } = await import('../charts/trend-chart.ts');
  return trendChart(answer, source, size);
}

/** All periods of a trend together, a row a group, as a chart. */
export async function chartOfTotals(
  answer: TrendAnswer,
  source: ChartSource,
  size?: ChartSize,
): Promise<Chart> {
  const { totalsChart } = await import('../charts/totals-chart.ts');
  return totalsChart(answer, source, size);
}

/**
 * Figures of devices side by side as a chart.
 * @throws CasebackError BAD_INPUT for an unknown section
 */
export async function chartOfComparison(
  state: State,
  compared: readonly Compared[],
  options: TableOptions,
  source: ChartSource,
  size?: ChartSize,
): Promise<Chart> {
  const { comparisonChart } = await import('../charts/comparison-chart.ts');
  return comparisonChart(compared, await comparisonSections(state, compared, options), source, size);
}

/**
 * A chart as a standalone SVG.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE while too many drawings wait
 */
export async function drawnChart(document: ChartDocument): Promise<string> {
  const { chartSvg } = await import('../charts/render.ts');
  return chartSvg(document);
}

/**
 * An SVG of ours as PNG.
 * @param dpi dots an inch, 48 to 600
 * @throws CasebackError BAD_INPUT for another density, OUT_OF_BUDGET, UNAVAILABLE
 */
export async function pictureOf(svg: string, dpi?: number): Promise<Uint8Array> {
  const { pngOf } = await import('../charts/render.ts');
  return pngOf(svg, dpi);
}
