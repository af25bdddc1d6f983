import type { TrendAnswer, TrendSeries } from '../trends/answer.ts';
import type { FacetName } from '../trends/asked.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import {
  type ChartSize,
  COLOURS,
  DOUBT,
  FAINT,
  inHouseStyle,
  innerWidth,
  type Layer,
  type Panel,
  SMALL,
  SMALLEST,
  shortened,
} from './house-style.ts';
import { counted } from './numbers.ts';
import { namedPeriods } from './period-names.ts';
import { amountScale, axisOf, type Scale, shareScale } from './scale.ts';
import { widthOf } from './text-width.ts';
import { figureRows, figuresSpoken, isOfShares, type TrendFigure, trendFigures } from './trend-figures.ts';

/** Groups drawn, those with the most devices; the table of the trend has all. */
const MOST_GROUPS = 8;

/**
 * Devices of a period from which on its value is drawn as a full point and a line may lead to it. With fewer, Wilson's interval spans
 * over half of all shares, and a line from point to point would be read as a story (chosen, no source).
 */
export const FEW = 5;

const GROUPED: Readonly<Record<FacetName, string>> = {
  'body-site': 'body site',
  maker: 'maker',
  'price-band': 'price at release',
};

/** What is drawn of an answer. */
interface Shown {
  readonly series: readonly TrendSeries[];
  /** Groups that have no panel. */
  readonly left: readonly TrendSeries[];
}

/**
 * A trend as a chart: value, 95 % interval and doubt of each period with the number of devices under it. Groups stand in panels
 * of their own over one scale, those with the most devices first. Nothing leads over periods of few devices or none.
 */
export function trendChart(answer: TrendAnswer, source: ChartSource, size: ChartSize = 'page'): Chart {
  const { series, left } = shownOf(answer);
  const all = trendFigures(answer, series);
  const { devices, n: under } = answer.total.total;
  // What was not observed or is not present is under no value.
  const n = under === devices ? counted(devices, 'device') : `${under} of ${counted(devices, 'device')}`;
  const title = trendTitle(answer);
  const subtitle = answer.total.verdict.sentence;
  const isGrouped = answer.groups.length > 0;
  const said = [
    ...series.filter(() => isGrouped).map(({ label, verdict }) => `${label}: ${verdict.sentence}`),
    ...leftLine(left),
    figuresSpoken(all, isGrouped),
  ];
  const description = `${title}. ${subtitle} ${said.join(' ')}`;
  const rows = figureRows(all, answer);
  const sheet = panelsOf(answer, series, all.figures, size);
  const foot = [...keyOf(all, sheet.hasGuide), ...sheet.notes, ...leftLine(left), sourceLine(source, n)];
  const document = inHouseStyle({ title, subtitle, description }, { ...sheet, size, foot });
  return { title, subtitle, n, description, rows, cautions: answer.cautions, document };
}

/** What is followed, as a heading. */
export function trendTitle({ of, by, only }: TrendAnswer): string {
  const heading = of.charAt(0).toUpperCase() + of.slice(1);
  return `${heading}${by ? `, by ${GROUPED[by]}` : ''}${onlyOf(only)}`;
}

/** A chart that is looked at by itself says which devices it is over. */
export function onlyOf(only: TrendAnswer['only']): string {
  return only === null ? '' : `; only devices ${only}`;
}

function shownOf({ groups, total }: TrendAnswer): Shown {
  if (groups.length === 0) return { series: [total], left: [] };
  const bySize = [...groups].sort((a, b) => b.total.n - a.total.n);
  const chosen = new Set(bySize.slice(0, MOST_GROUPS));
  // Price bands keep their order; a panel is found by its place.
  const isOrdered = groups.some(({ group }) => /^\D*\d/u.test(group ?? ''));
  return {
    series: (isOrdered ? groups : bySize).filter((one) => chosen.has(one)),
    left: bySize.filter((one) => !chosen.has(one)),
  };
}

function leftLine(left: readonly TrendSeries[]): readonly string[] {
  if (left.length === 0) return [];
  const names = left.slice(0, 6).map(({ label }) => label);
  const more = left.length > names.length ? ` and ${left.length - names.length} more` : '';
  return [`Not drawn, with fewer devices: ${names.join(', ')}${more}; the trend has their figures.`];
}

function keyOf(
  { figures, hasProductLines, hasDoubt }: ReturnType<typeof trendFigures>,
  hasGuide: boolean,
): readonly string[] {
  const valued = figures.filter(({ value }) => value !== null);
  const parts = [
    ...(valued.some(({ n }) => n >= FEW) ? [`● value of ${FEW} devices or more`] : []),
    ...(valued.some(({ n }) => n < FEW) ? [`○ value of fewer than ${FEW}`] : []),
    ...(valued.some(({ interval }) => interval) ? ['thick bar: 95 % interval from the sample alone'] : []),
    ...(hasProductLines ? ['thin bar: the same with devices of a product line taken as alike'] : []),
    ...(hasDoubt ? ['grey bar: with what is doubtful or was not observed counted either way'] : []),
    ...(hasGuide ? ['thin line: guide to the eye'] : []),
  ];
  return parts.length > 0 ? [`${parts.join('; ')}.`] : [];
}

/** The panels and what they need around them. */
function panelsOf(
  answer: TrendAnswer,
  series: readonly TrendSeries[],
  figures: readonly TrendFigure[],
  size: ChartSize,
) {
  const isPanels = answer.groups.length > 0;
  const columns = isPanels && size === 'page' && series.length > 1 ? 2 : 1;
  const isShare = isOfShares(answer);
  const steps = isPanels ? 2 : 5;
  const scale = isShare
    ? shareScale(isPanels ? [0, 0.5, 1] : undefined)
    : amountScale(numbersIn(figures), steps);
  const hasUnobserved = figures.some(({ notObserved }) => notObserved > 0);
  const rowNames = hasUnobserved ? ['n', 'not observed'] : ['n'];
  const axis = scale.width + 10 + (isPanels ? 0 : 22);
  const left = Math.ceil(Math.max(axis, ...rowNames.map((name) => widthOf(name, SMALLEST) + 6)));
  const periods = [...new Set(figures.map(({ period }) => period))];
  const wide = (innerWidth(size) - left - (columns - 1) * GAP) / columns;
  // The name of the last period may stand out over the edge.
  const out = widthOf(periods.at(-1) ?? '', SMALL) / 2 - wide / Math.max(1, periods.length) / 2;
  const width = Math.floor(wide - Math.max(0, out));
  const named = namedPeriods(periods, answer.per, width);
  const counts = new Map<string, number>();
  for (const { period, n, notObserved } of figures)
    counts.set(period, Math.max(counts.get(period) ?? 0, n, notObserved));
  const numbered = namedPeriods(periods, answer.per, width, (period) => String(counts.get(period)));
  const layout: Layout = {
    width,
    height: isPanels ? 66 : 220,
    left,
    periods,
    named,
    numbered: numbered.length < periods.length ? named : periods,
    rowNames,
    scale,
    axisTitle: isPanels ? null : isShare ? 'share of devices' : figuresUnit(answer),
    isPanels,
  };
  const below = 24 + ROW * rowNames.length;
  const panels = series.map((one, at) => {
    const ofIt = figures.filter((figure) => figure.series === one.label);
    const isLast = at + columns >= series.length;
    return panelOf(one, ofIt, layout, { isFirstInRow: at % columns === 0, isLast });
  });
  const hasGuide = panels.some(({ layer }) => layer.some(({ mark }) => mark.type === 'line'));
  const notes = [
    ...(isPanels && !isShare ? [`Scale of all panels: ${figuresUnit(answer)}.`] : []),
    ...(layout.numbered.length < periods.length
      ? ['n is written under the periods named; the table has it for all.']
      : []),
  ];
  const spacing = { row: 12 + ROW * rowNames.length + (isPanels ? TITLE : 0), column: GAP };
  return { panels, columns, spacing, left, below, notes, hasGuide };
}

/** Between panels side by side, px. */
const GAP = 24;
/** Between rows of figures under a panel, px. */
const ROW = 13;
/** Room over a panel for its name, px. */
const TITLE = 20;

function numbersIn(figures: readonly TrendFigure[]): readonly number[] {
  return figures.flatMap(({ value, interval, lines, doubt }) =>
    [value, ...[interval, lines, doubt].flatMap((one) => (one ? [one.low, one.high] : []))].filter(
      (one) => one !== null,
    ),
  );
}

function figuresUnit(answer: TrendAnswer): string {
  return trendFigures(answer, []).numbers.heading;
}

interface Layout {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly periods: readonly string[];
  /** Periods named under the axis, and those with figures under them. */
  readonly named: readonly string[];
  readonly numbered: readonly string[];
  readonly rowNames: readonly string[];
  readonly scale: Scale;
  readonly axisTitle: string | null;
  readonly isPanels: boolean;
}

function panelOf(
  { label, verdict }: TrendSeries,
  figures: readonly TrendFigure[],
  layout: Layout,
  { isFirstInRow, isLast }: { readonly isFirstInRow: boolean; readonly isLast: boolean },
): Panel {
  const { width, height, left, periods, named, numbered, rowNames, scale, axisTitle, isPanels } = layout;
  const isNamed = isLast || !isPanels;
  const x = {
    field: 'period',
    type: 'ordinal',
    scale: { domain: periods },
    axis: { title: null, values: named, labelAngle: 0, grid: false, labels: isNamed, labelPadding: 4 },
  };
  const y = {
    type: 'quantitative',
    scale: { domain: scale.domain, nice: false, zero: false },
    axis: { ...axisOf(scale), title: axisTitle, labels: isFirstInRow, titlePadding: 8 },
  };
  const bar = (name: 'interval' | 'lines' | 'doubt', mark: Record<string, unknown>): readonly Layer[] => {
    const values = figures.flatMap((figure) => {
      const range = figure[name];
      return range ? [{ period: figure.period, ...range }] : [];
    });
    if (values.length === 0) return [];
    return [
      {
        data: { values },
        mark: { type: 'rule', ...mark },
        encoding: { x, y: { ...y, field: 'low' }, y2: { field: 'high' } },
      },
    ];
  };
  const line = guideOf(figures, verdict.enough);
  const points = figures.flatMap(({ period, value, n }) => (value === null ? [] : [{ period, value, n }]));
  const text = (data: readonly object[], field: string, at: object, mark: object, more = {}): Layer => ({
    data: { values: data },
    mark: { type: 'text', fontSize: SMALLEST, color: FAINT, baseline: 'top', ...mark },
    encoding: { ...at, text: { field, type: 'nominal' }, ...more },
  });
  const first = height + (isNamed ? 24 : 6);
  // A nought is written, but does not call.
  const pale = (field: string) => ({
    color: { condition: { test: { field, equal: 0 }, value: '#b0b0b0' }, value: FAINT },
  });
  const layer: Layer[] = [
    ...bar('doubt', { strokeWidth: 10, color: DOUBT }),
    ...(line.some(({ value }) => value !== null)
      ? [
          {
            data: { values: line },
            mark: { type: 'line', strokeWidth: 1, color: '#8c8c8c', invalid: 'break-paths-show-domains' },
            encoding: { x, y: { ...y, field: 'value' } },
          },
        ]
      : []),
    ...bar('lines', { strokeWidth: 1, color: COLOURS[0] }),
    ...bar('interval', { strokeWidth: 2.6, color: COLOURS[1] }),
    ...[points.filter(({ n }) => n >= FEW), points.filter(({ n }) => n < FEW)].flatMap((values, at) =>
      values.length === 0
        ? []
        : [
            {
              data: { values },
              mark: {
                type: 'point',
                shape: 'circle',
                filled: true,
                opacity: 1,
                size: isPanels ? 36 : 60,
                fill: at === 0 ? COLOURS[0] : '#ffffff',
                stroke: COLOURS[0],
                strokeWidth: 1.2,
              },
              encoding: { x, y: { ...y, field: 'value' } },
            },
          ],
    ),
    text(
      figures.filter(({ period }) => numbered.includes(period)).map(({ period, n }) => ({ period, n })),
      'n',
      { x, y: { value: first } },
      {},
      pale('n'),
    ),
    ...(rowNames.length > 1
      ? [
          text(
            figures
              .filter(({ period }) => numbered.includes(period))
              .map(({ period, notObserved }) => ({ period, notObserved })),
            'notObserved',
            { x, y: { value: first + ROW } },
            {},
            pale('notObserved'),
          ),
        ]
      : []),
    ...(isFirstInRow
      ? rowNames.map((name, at) =>
          text(
            [{ name }],
            'name',
            { x: { value: -left }, y: { value: first + ROW * at } },
            { align: 'left' },
          ),
        )
      : []),
    ...(points.length === 0
      ? [
          text(
            [{ words: 'no device with a value' }],
            'words',
            { x: { value: width / 2 }, y: { value: height / 2 } },
            { align: 'center', baseline: 'middle', fontSize: SMALL },
          ),
        ]
      : []),
  ];
  const name: Layer = {
    data: { values: [{}] },
    mark: {
      type: 'text',
      text: shortened(label, width, SMALL, true),
      x: 0,
      y: -8,
      align: 'left',
      fontSize: SMALL,
      fontWeight: 'bold',
    },
  };
  return { width, height, layer: isPanels ? [name, ...layer] : layer };
}

/** Values that a line may join: of periods of enough devices side by side, in a series of which something may be concluded. */
function guideOf(figures: readonly TrendFigure[], isEnough: boolean) {
  if (!isEnough) return [];
  const mayBe = (figure: TrendFigure | undefined) =>
    figure !== undefined && figure.value !== null && figure.n >= FEW;
  return figures.map((figure, at) => ({
    period: figure.period,
    value: mayBe(figure) && (mayBe(figures[at - 1]) || mayBe(figures[at + 1])) ? figure.value : null,
  }));
}
