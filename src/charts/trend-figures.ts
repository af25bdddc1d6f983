import type { Row } from '../export/rows.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { TrendAnswer, TrendCell, TrendSeries } from '../trends/answer.ts';
import { amounts, differs, type Numbers, SHARES } from './numbers.ts';

// What a chart of a trend shows, as points, as a table and in words: three readings of one list.

/** One period of one series. */
export interface TrendFigure {
  readonly series: string;
  readonly period: string;
  readonly n: number;
  readonly notObserved: number;
  readonly value: number | null;
  readonly interval: Interval | null;
  /** With product lines taken as alike, where that is another. */
  readonly lines: Interval | null;
  /** With what is doubtful or was not observed counted either way, where that is more than the interval. */
  readonly doubt: Interval | null;
}

/** Figures and what there is of each kind. */
export interface TrendFigures {
  readonly figures: readonly TrendFigure[];
  readonly numbers: Numbers;
  readonly hasProductLines: boolean;
  readonly hasDoubt: boolean;
  readonly hasUnobserved: boolean;
}

/** Whether values are shares, which are shown in percent. */
export function isOfShares({ unit, total }: TrendAnswer): boolean {
  return unit === '1' && total.total.likely !== null;
}

/** The figures of some series of an answer. */
export function trendFigures(answer: TrendAnswer, shown: readonly TrendSeries[]): TrendFigures {
  const numbers = isOfShares(answer) ? SHARES : amounts(answer.unit);
  const figures = shown.flatMap(({ label, periods }) =>
    periods.map((cell) => figureOf(label, cell.period, cell, numbers)),
  );
  return figuresWith(figures, numbers);
}

/** Figures with what there is of each kind among them. */
export function figuresWith(figures: readonly TrendFigure[], numbers: Numbers): TrendFigures {
  return {
    figures,
    numbers,
    hasProductLines: figures.some(({ lines }) => lines !== null),
    hasDoubt: figures.some(({ doubt }) => doubt !== null),
    hasUnobserved: figures.some(({ notObserved }) => notObserved > 0),
  };
}

/** One cell as a figure. */
export function figureOf(series: string, period: string, cell: TrendCell, numbers: Numbers): TrendFigure {
  const { n, notObserved, value, interval, productLineInterval, band, outer } = cell;
  const doubt = outer ?? band;
  const isMore =
    doubt !== null && (interval === null ? doubt.low < doubt.high : differs(doubt, interval, numbers));
  return {
    series,
    period,
    n,
    notObserved,
    value,
    interval,
    lines:
      productLineInterval && differs(productLineInterval, interval, numbers) ? productLineInterval : null,
    doubt: isMore && hasDoubt(cell) ? doubt : null,
  };
}

/** Whether anything is in doubt: else the outer interval is that of the sample. */
function hasDoubt({ band, notObserved }: TrendCell): boolean {
  return band !== null && (band.low < band.high || notObserved > 0);
}

/** The figures as a table. */
export function figureRows(
  { figures, numbers, hasProductLines, hasDoubt, hasUnobserved }: TrendFigures,
  { by, per }: { readonly by: string | null; readonly per: string | null },
): readonly Row[] {
  return figures.map(({ series, period, n, notObserved, value, interval, lines, doubt }) => ({
    ...(by ? { [by]: series } : {}),
    ...(per ? { [per]: period } : {}),
    n: String(n),
    ...(hasUnobserved ? { 'not observed': String(notObserved) } : {}),
    [numbers.heading]: numbers.value(value),
    '95 % interval': numbers.range(interval),
    ...(hasProductLines ? { 'by product line': numbers.range(lines) } : {}),
    ...(hasDoubt ? { 'with doubt': numbers.range(doubt) } : {}),
  }));
}

/** The figures in words. */
export function figuresSpoken({ figures, numbers }: TrendFigures, isNamed: boolean): string {
  return figures.map((figure) => spoken(figure, numbers, isNamed)).join(' ');
}

function spoken(figure: TrendFigure, { spoken: said, spokenRange }: Numbers, isNamed: boolean): string {
  const { series, period, n, notObserved, value, interval, lines, doubt } = figure;
  const name = [...(isNamed ? [series] : []), ...(period === '' ? [] : [period])].join(', ');
  const ranges = [
    ...(interval ? [`95 % interval ${spokenRange(interval)}`] : []),
    ...(lines ? [`by product line ${spokenRange(lines)}`] : []),
    ...(doubt ? [`with doubt ${spokenRange(doubt)}`] : []),
  ];
  const parts = [
    value === null ? 'no value' : said(value),
    ...ranges,
    `n = ${n}`,
    ...(notObserved > 0 ? [`not observed in ${notObserved}`] : []),
  ];
  return `${name}: ${parts.join(', ')}.`;
}
