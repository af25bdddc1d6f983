// Answers as charts, and charts drawn. The code is loaded on first use.

import type { Chart, ChartDocument, ChartSource } from '../charts/chart.ts';
import type { AlignedLineStep } from '../charts/generations-chart.ts';
import type { ChartSize } from '../charts/house-style.ts';
import type { TableOptions } from '../compare/comparison-table.ts';
import type { Generations } from '../compare/generations.ts';
import type { Compared } from '../compare/representative.ts';
import type { State } from '../state/state.ts';
import type { TrendAnswer } from '../trends/answer.ts';
import { alignedStep, comparisonSections, hadAlong, sightingsAlong, stepsAlong } from './comparison.ts';

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

/** What a chart of a product line may show: steps, figures of sections, or what came and went. */
export type LineChartKind = 'steps' | 'figures' | 'parts' | 'makers';

/**
 * A product line as a chart.
 * @param options sections of which the figures are, for `figures` alone
 * @throws CasebackError BAD_INPUT for an unknown section
 */
export async function chartOfGenerations(
  state: State,
  line: Generations,
  of: LineChartKind,
  options: TableOptions,
  source: ChartSource,
  size?: ChartSize,
): Promise<Chart> {
  const { generations, comparison } = line;
  if (of === 'parts' || of === 'makers') {
    const [{ sightingsChart }, had, sightings] = await Promise.all([
      import('../charts/sightings-chart.ts'),
      hadAlong(state, generations),
      sightingsAlong(state, generations, of),
    ]);
    const seen = sightings.map((sighting) => ({
      name: (of === 'makers' ? state.maker(sighting.id)?.name : undefined) ?? sighting.id,
      sighting,
      chances: had.map((one) => one[of].get(sighting.id) ?? 0),
    }));
    return sightingsChart(line, seen, of, source, size);
  }
  const { lineChart, stepsChart } = await import('../charts/generations-chart.ts');
  if (of === 'figures')
    return lineChart(line, await comparisonSections(state, comparison.columns, options), source, size);
  const steps: AlignedLineStep[] = [];
  for (const step of await stepsAlong(generations))
    steps.push({ ...step, alignment: await alignedStep(state, step, { signal: options.signal }) });
  return stepsChart(line, steps, source, size);
}

/** The first adopters of a trend as a chart; null where it is no share. */
export async function chartOfAdopters(
  answer: TrendAnswer,
  source: ChartSource,
  size?: ChartSize,
): Promise<Chart | null> {
  const { adoptersChart, hasAdopters } = await import('../charts/adopters-chart.ts');
  return hasAdopters(answer) ? adoptersChart(answer, source, size) : null;
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
