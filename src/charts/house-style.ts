import type { ChartDocument } from './chart.ts';

// One look for all charts. It prints in grey: what is told apart by colour is told apart by shape and dash as well, and named.
// The eight colours are those of Okabe and Ito (2008), "Color Universal Design", jfly.uni-koeln.de/color, as published there.

/** Colours in the order of use; black first, yellow, which is faint on paper, last. */
export const COLOURS = [
  '#000000',
  '#0072B2',
  '#D55E00',
  '#009E73',
  '#CC79A7',
  '#E69F00',
  '#56B4E9',
  '#F0E442',
] as const;

/** Shapes of points, beside the colours. */
export const SHAPES = [
  'circle',
  'square',
  'triangle-up',
  'diamond',
  'cross',
  'triangle-down',
  'triangle-right',
  'triangle-left',
] as const;

/** Dashes of lines, beside the colours. */
export const DASHES: readonly (readonly number[])[] = [
  [1, 0],
  [6, 3],
  [2, 2],
  [8, 3, 2, 3],
  [4, 4],
  [10, 2],
  [1, 3],
  [6, 2, 1, 2, 1, 2],
];

/** Series that one chart tells apart; more are drawn in panels of their own. */
export const MOST_SERIES = COLOURS.length;

/** The face of all texts; its files come with the package `dejavu-fonts-ttf`. */
export const FACE = 'DejaVu Sans';
const INK = '#1a1a1a';
const FAINT = '#595959';
const RULE = '#d0d0d0';

/** Width of a chart across the page, px: 640 px are 169 mm at 96 px an inch. */
export const WIDTH = 560;
export const HEIGHT = 260;

/** Size of small texts, px: 11 px are 8.25 points, and stay over 6 points in a chart set at three quarters. */
export const SMALL = 11;

const CONFIG = {
  font: FACE,
  background: '#ffffff',
  padding: 8,
  view: { stroke: null },
  title: {
    anchor: 'start',
    frame: 'group',
    color: INK,
    fontSize: 15,
    fontWeight: 'bold',
    subtitleColor: FAINT,
    subtitleFontSize: 12,
    subtitlePadding: 6,
    offset: 14,
  },
  axis: {
    labelColor: INK,
    labelFontSize: SMALL,
    titleColor: INK,
    titleFontSize: SMALL,
    titleFontWeight: 'normal',
    gridColor: RULE,
    domainColor: FAINT,
    tickColor: FAINT,
    labelLimit: 220,
  },
  axisX: { grid: false, labelAngle: 0 },
  legend: {
    labelColor: INK,
    labelFontSize: SMALL,
    titleColor: INK,
    titleFontSize: SMALL,
    symbolSize: 70,
    labelLimit: 240,
  },
  header: { labelColor: INK, labelFontSize: SMALL, labelAnchor: 'start', titleFontSize: SMALL },
} as const;

/** A text on lines of at most so many characters, as Vega-Lite takes it. */
export function lines(text: string, longest = 92): readonly string[] {
  const all: string[] = [];
  for (const word of text.split(' ')) {
    const last = all.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= longest)
      all[all.length - 1] = `${last} ${word}`;
    else all.push(word);
  }
  return all;
}

/** A document in the house style: heading, what may be said, and the drawing. */
export function inHouseStyle(
  {
    title,
    subtitle,
    description,
  }: { readonly title: string; readonly subtitle: string; readonly description: string },
  drawing: ChartDocument,
): ChartDocument {
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description,
    title: { text: lines(title, 70), subtitle: lines(subtitle) },
    config: CONFIG,
    ...drawing,
  };
}
