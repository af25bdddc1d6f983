import type { TrendAnswer } from '../trends/answer.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import {
  type ChartSize,
  COLOURS,
  DOUBT,
  FAINT,
  inHouseStyle,
  innerWidth,
  type Layer,
  SMALL,
  shortened,
} from './house-style.ts';
import { amounts, counted, SHARES } from './numbers.ts';
import { amountScale, axisOf, shareScale } from './scale.ts';
import { widthOf } from './text-width.ts';
import { FEW, trendTitle } from './trend-chart.ts';
import { figureOf, figureRows, figuresSpoken, figuresWith, isOfShares } from './trend-figures.ts';

/** Height of a row, px. */
const ROW = 24;
/** Groups drawn, those with the most devices. */
const MOST_ROWS = 30;

/**
 * All periods together: a row for all devices and for each group of the facet, with interval, doubt and n; shares and amounts fall
 * from row to row.
 */
export function totalsChart(answer: TrendAnswer, source: ChartSource, size: ChartSize = 'page'): Chart {
  const isShare = isOfShares(answer);
  const numbers = isShare ? SHARES : amounts(answer.unit);
  const bySize = [...answer.groups].sort((a, b) => b.total.n - a.total.n);
  const drawn = bySize
    .slice(0, MOST_ROWS)
    .sort((a, b) => (b.total.value ?? -1) - (a.total.value ?? -1) || b.total.n - a.total.n);
  const left = bySize.length - drawn.length;
  const figures = [answer.total, ...drawn].map(({ label, group, total }) =>
    figureOf(group === null ? 'all devices' : label, '', total, numbers),
  );
  const all = figuresWith(figures, numbers);
  const title = `${trendTitle(answer)}, all periods together`;
  const subtitle = answer.by
    ? 'No difference between groups was tested.'
    : 'One figure over all periods; it says nothing of a direction.';
  const n = counted(answer.total.total.devices, 'device');
  const description = `${title}. ${subtitle} ${figuresSpoken(all, true)}`;
  const rows = figureRows(all, { by: answer.by ?? 'devices', per: null });

  const labelled = figures.map((figure) => ({
    ...figure,
    label: shortened(figure.series, size === 'page' ? 180 : 110, SMALL),
    counts:
      all.hasUnobserved && figure.notObserved > 0
        ? `${figure.n}, ${figure.notObserved} not`
        : String(figure.n),
  }));
  const labelWidth = Math.max(...labelled.map(({ label }) => widthOf(label, SMALL)));
  const countWidth = Math.max(...labelled.map(({ counts }) => widthOf(counts, SMALL)));
  const width = Math.floor(innerWidth(size) - labelWidth - countWidth - 40);
  const numbersOf = figures.flatMap(({ value, interval, lines, doubt }) =>
    [value, ...[interval, lines, doubt].flatMap((one) => (one ? [one.low, one.high] : []))].filter(
      (one) => one !== null,
    ),
  );
  const scale = isShare
    ? shareScale(size === 'page' ? undefined : [0, 0.5, 1])
    : amountScale(numbersOf, size === 'page' ? 6 : 3);
  const x = {
    type: 'quantitative',
    scale: { domain: scale.domain, nice: false, zero: false },
    axis: { ...axisOf(scale), title: isShare ? 'share of devices' : numbers.heading, titlePadding: 6 },
  };
  const at = (row: number) => ROW * (row + 0.5);
  const text = (
    words: string,
    where: number,
    row: number,
    align: 'left' | 'right',
    colour: string,
  ): Layer => ({
    data: { values: [{}] },
    mark: {
      type: 'text',
      text: words,
      x: where,
      y: at(row),
      align,
      baseline: 'middle',
      fontSize: SMALL,
      color: colour,
    },
  });
  const y = {
    field: 'y',
    type: 'quantitative',
    scale: { domain: [0, ROW * figures.length], range: [0, ROW * figures.length] },
    axis: null,
  };
  const bar = (name: 'interval' | 'lines' | 'doubt', mark: Record<string, unknown>): readonly Layer[] => {
    const values = figures.flatMap((figure, row) => {
      const range = figure[name];
      return range ? [{ series: figure.series, y: at(row), ...range }] : [];
    });
    if (values.length === 0) return [];
    return [
      {
        data: { values },
        mark: { type: 'rule', ...mark },
        encoding: { x: { ...x, field: 'low' }, x2: { field: 'high' }, y },
      },
    ];
  };
  const points = figures.flatMap(({ series, value, n: devices, notObserved }, row) =>
    value === null ? [] : [{ series, y: at(row), value, n: devices, notObserved }],
  );
  const pointsOf = (values: typeof points, fill: string): readonly Layer[] => [
    {
      data: { values },
      mark: {
        type: 'point',
        shape: 'circle',
        filled: true,
        opacity: 1,
        size: 60,
        fill,
        stroke: COLOURS[0],
        strokeWidth: 1.2,
      },
      encoding: { x: { ...x, field: 'value' }, y },
    },
  ];
  const layer: Layer[] = [
    ...bar('doubt', { strokeWidth: 10, color: DOUBT }),
    ...bar('lines', { strokeWidth: 1, color: COLOURS[0] }),
    ...bar('interval', { strokeWidth: 2.6, color: COLOURS[1] }),
    ...pointsOf(
      points.filter((one) => one.n >= FEW),
      COLOURS[0],
    ),
    ...pointsOf(
      points.filter((one) => one.n < FEW),
      '#ffffff',
    ),
    ...labelled.flatMap(({ label, counts }, row) => [
      text(label, -10, row, 'right', '#1a1a1a'),
      text(counts, width + 12 + countWidth, row, 'right', FAINT),
    ]),
    text('n', width + 12 + countWidth, -1, 'right', FAINT),
  ];
  const foot = [
    `● value of ${FEW} devices or more; ○ of fewer; thick bar: 95 % interval from the sample alone${all.hasProductLines ? '; thin bar: the same with devices of a product line taken as alike' : ''}${all.hasDoubt ? '; grey bar: with what is doubtful or was not observed counted either way' : ''}.`,
    ...(all.hasUnobserved ? ['At the right n and in how many devices it was not observed.'] : []),
    ...(left > 0 ? [`${left} more groups, with fewer devices, are in the trend.`] : []),
    sourceLine(source, n),
  ];
  const document = inHouseStyle(
    { title, subtitle, description },
    {
      size,
      panels: [{ width, height: ROW * figures.length, layer }],
      columns: 1,
      spacing: { row: 0, column: 0 },
      left: Math.ceil(labelWidth + 10),
      below: 36,
      foot,
    },
  );
  return { title, subtitle, n, description, rows, cautions: answer.cautions, document };
}
