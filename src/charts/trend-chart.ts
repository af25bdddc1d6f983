import type { Row } from '../export/rows.ts';
import type { TrendAnswer, TrendSeries } from '../trends/answer.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import {
  COLOURS,
  DASHES,
  HEIGHT,
  inHouseStyle,
  lines,
  MOST_SERIES,
  SHAPES,
  SMALL,
  WIDTH,
} from './house-style.ts';

/** One point of a chart of a trend. */
interface Point {
  readonly series: string;
  readonly period: string;
  readonly n: number;
  readonly notObserved: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** Periods named under the axis; of more only some are. */
const MOST_NAMED = 16;

/**
 * A trend as a chart: value and 95 % interval of each period, with the number of devices under it. Groups stand in panels of
 * their own, since their intervals would cover one another. Periods without a device have no point, and no line leads over them.
 */
export function trendChart(answer: TrendAnswer, source: ChartSource): Chart {
  const shown = answer.groups.length > 0 ? answer.groups.slice(0, MOST_SERIES) : [answer.whole];
  const isShare = isOfShares(answer);
  const points = shown.flatMap((series) => pointsOf(series));
  const count = answer.whole.whole.devices;
  const n = count === 1 ? '1 device' : `${count} devices`;
  const left = answer.groups.length - shown.length;
  const title = titleOf(answer);
  const subtitle = answer.whole.verdict.sentence;
  const rows = points.map((point) => rowOf(point, answer));
  const description = `${title}. ${subtitle} ${spoken(points, answer)}`;
  const foot = [
    'Points: value of a period; bars: 95 % interval from the sample alone; figures under the axis: number of devices.',
    ...(left > 0 ? [`${left} more groups are in the table of the trend.`] : []),
    sourceLine(source, n),
  ];
  const document = inHouseStyle(
    { title, subtitle, description },
    drawing(points, shown, isShare, answer, foot),
  );
  return { title, subtitle, n, description, rows, cautions: answer.cautions, document };
}

/** Whether values are shares, which are shown in percent. */
export function isOfShares({ unit, whole }: TrendAnswer): boolean {
  return unit === '1' && whole.whole.likely !== null;
}

function titleOf({ of, by }: TrendAnswer): string {
  const groups = { 'body-site': 'body site', maker: 'maker', 'price-band': 'price at release' };
  const heading = of.charAt(0).toUpperCase() + of.slice(1);
  return by ? `${heading}, by ${groups[by]}` : heading;
}

function pointsOf({ label, periods }: TrendSeries): readonly Point[] {
  return periods.map(({ period, n, notObserved, value, interval }) => ({
    series: label,
    period,
    n,
    notObserved,
    value,
    low: interval?.low ?? null,
    high: interval?.high ?? null,
  }));
}

/** A number as table, drawing and words have it. */
function shownNumber(value: number | null, answer: TrendAnswer): string {
  if (value === null) return '–';
  return isOfShares(answer) ? `${(value * 100).toFixed(0)} %` : String(Number(value.toPrecision(3)));
}

function rowOf({ series, period, n, notObserved, value, low, high }: Point, answer: TrendAnswer): Row {
  return {
    ...(answer.by ? { [answer.by]: series } : {}),
    [answer.per]: period,
    n: String(n),
    'not observed': String(notObserved),
    [isOfShares(answer) ? 'share' : answer.unit]: shownNumber(value, answer),
    '95 % interval': low === null ? '–' : `${shownNumber(low, answer)} to ${shownNumber(high, answer)}`,
  };
}

function spoken(points: readonly Point[], answer: TrendAnswer): string {
  const unit = isOfShares(answer) ? '' : ` ${answer.unit}`;
  return points
    .filter(({ value }) => value !== null)
    .map(({ series, period, value, low, high, n }) => {
      const interval = low === null ? '' : ` (${shownNumber(low, answer)} to ${shownNumber(high, answer)})`;
      return `${answer.by ? `${series}, ` : ''}${period}: ${shownNumber(value, answer)}${unit}${interval}, n = ${n}.`;
    })
    .join(' ');
}

function drawing(
  points: readonly Point[],
  series: readonly TrendSeries[],
  isShare: boolean,
  answer: TrendAnswer,
  foot: readonly string[],
): Record<string, unknown> {
  const periods = [...new Set(points.map(({ period }) => period))];
  const named = everyFew(periods);
  const x = {
    field: 'period',
    type: 'ordinal',
    sort: periods,
    axis: { title: null, labelAngle: 0, ...(named.length < periods.length ? { values: named } : {}) },
  };
  const scale = isShare ? { domain: [0, 1] } : { zero: true, nice: true };
  const y = {
    type: 'quantitative',
    scale,
    axis: {
      title: isShare ? 'share of devices' : unitInWords(answer.unit),
      ...(isShare ? { format: '.0%' } : {}),
    },
  };
  const height = series.length > 1 ? 150 : HEIGHT;
  const panel = ({ label }: TrendSeries, at: number) => {
    const colour = COLOURS[at % COLOURS.length];
    const ofIt = points.filter((point) => point.series === label);
    return {
      width: WIDTH,
      height,
      ...(series.length > 1 ? { title: { text: label, fontSize: 12, offset: 6 } } : {}),
      data: { values: ofIt },
      layer: [
        {
          transform: [{ filter: 'datum.low != null' }],
          mark: { type: 'rule', strokeWidth: 1.5, color: colour },
          encoding: { x, y: { ...y, field: 'low' }, y2: { field: 'high' } },
        },
        {
          mark: {
            type: 'line',
            strokeWidth: 1,
            strokeDash: DASHES[at % DASHES.length],
            color: colour,
            invalid: 'break-paths-show-domains',
          },
          encoding: { x, y: { ...y, field: 'value' } },
        },
        {
          transform: [{ filter: 'datum.value != null' }],
          mark: {
            type: 'point',
            filled: true,
            opacity: 1,
            size: 64,
            shape: SHAPES[at % SHAPES.length],
            color: colour,
            stroke: '#ffffff',
            strokeWidth: 0.7,
          },
          encoding: { x, y: { ...y, field: 'value' } },
        },
        {
          transform: [{ filter: { field: 'period', oneOf: named } }],
          mark: { type: 'text', fontSize: SMALL - 1, color: '#595959', baseline: 'top', dy: 0 },
          encoding: { x, y: { value: height + 22 }, text: { field: 'n', type: 'quantitative' } },
        },
      ],
    };
  };
  const panels = series.map(panel);
  const last = panels.length - 1;
  panels[last] = {
    ...panels[last],
    layer: [...panels[last].layer, footOf(foot, height + 46)],
  } as (typeof panels)[number];
  if (panels.length === 1) return panels[0];
  return { vconcat: panels, spacing: 26 };
}

/** Lines under a drawing, in its own frame. */
function footOf(foot: readonly string[], at: number) {
  return {
    data: { values: [{}] },
    mark: {
      type: 'text',
      align: 'left',
      baseline: 'top',
      fontSize: SMALL - 1,
      color: '#595959',
      lineHeight: 14,
      text: foot.flatMap((line) => lines(line, 104)),
    },
    encoding: { x: { value: 0 }, y: { value: at } },
  } as never;
}

/** Enough of a list to be named side by side, from the first on at equal steps. */
function everyFew(periods: readonly string[]): readonly string[] {
  const step = Math.ceil(periods.length / MOST_NAMED);
  return step === 1 ? periods : periods.filter((_, i) => i % step === 0);
}

/** A unit as an axis has it. */
function unitInWords(unit: string): string {
  return unit === '1' ? 'value' : unit;
}
