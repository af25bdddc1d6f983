import type { ChartDocument } from './chart.ts';
import { widthOf } from './text-width.ts';

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
/** Grey of texts beside the figures; 7:1 on white. */
export const FAINT = '#595959';
/** Grey of what is in doubt. */
export const DOUBT = '#cfcfcf';
export const INK = '#1a1a1a';
/** Lines behind figures. */
export const GRID = '#e2e2e2';

/** Width of the page: 170 mm, or a column of 85 mm. */
export type ChartSize = 'page' | 'column';
/** Width of a whole chart, px at 96 an inch: 169 mm and 85 mm. Texts keep their size, so that a column is not a page made smaller. */
const WHOLE_WIDTH = { page: 640, column: 320 } as const satisfies Record<ChartSize, number>;
const PADDING = 8;

/** Width inside the margins, px. */
export function innerWidth(size: ChartSize): number {
  return WHOLE_WIDTH[size] - 2 * PADDING;
}

/** Size of labels, px: 8.25 points at their own size. */
export const SMALL = 11;
/** Size of figures under an axis and of the lines under a chart, px: 7.5 points. */
export const SMALLEST = 10;
/** Distance of those lines, px. */
const LINE = 14;

const CONFIG = {
  font: `${FACE}, Verdana, sans-serif`,
  background: '#ffffff',
  padding: PADDING,
  // The SVG has one description; a label on each mark would repeat it a hundred times.
  aria: false,
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
    subtitleLineHeight: 16,
    lineHeight: 19,
    offset: 16,
  },
  axis: {
    labelColor: INK,
    labelFontSize: SMALL,
    titleColor: INK,
    titleFontSize: SMALL,
    titleFontWeight: 'normal',
    gridColor: GRID,
    domainColor: FAINT,
    tickColor: FAINT,
    labelLimit: 0,
    titleLimit: 0,
    labelOverlap: false,
  },
} as const;

/** A text on lines that are at most so wide, px; a word that is wider is cut. */
export function wrapped(text: string, width: number, size: number, isBold = false): readonly string[] {
  const all: string[] = [];
  const fits = (line: string) => widthOf(line, size, isBold) <= width;
  for (const word of text.split(/\s+/u).filter((one) => one !== '')) {
    const last = all.at(-1);
    if (last !== undefined && fits(`${last} ${word}`)) all[all.length - 1] = `${last} ${word}`;
    else all.push(...pieces(word, fits));
  }
  return all.length > 0 ? all : [''];
}

/** A word in pieces that fit: cut where small letters go over into a capital, as in `TemperatureSensor`, else anywhere. */
function pieces(word: string, fits: (text: string) => boolean): readonly string[] {
  if (fits(word)) return [word];
  const all = [''];
  const add = (piece: string) => {
    const last = all.at(-1) ?? '';
    if (last === '' || fits(last + piece)) all[all.length - 1] = last + piece;
    else all.push(piece);
  };
  for (const part of word.split(/(?<=\p{Ll})(?=\p{Lu})/u))
    for (const one of fits(part) ? [part] : part) add(one);
  return all;
}

/** A text, cut with an ellipsis where it is wider than so many px. */
export function shortened(text: string, width: number, size: number, isBold = false): string {
  if (widthOf(text, size, isBold) <= width) return text;
  const characters = [...text];
  while (characters.length > 0 && widthOf(`${characters.join('')}…`, size, isBold) > width) characters.pop();
  return `${characters.join('').trimEnd()}…`;
}

/** A text with an ellipsis inside it where it is wider than so many px: names that differ at their ends alone stay apart. */
export function shortenedInside(text: string, width: number, size: number): string {
  if (widthOf(text, size) <= width) return text;
  const characters = [...text];
  let kept = characters.length - 1;
  const cut = () =>
    `${characters
      .slice(0, Math.ceil(kept / 2))
      .join('')
      .trimEnd()}…${characters
      .slice(characters.length - Math.floor(kept / 2))
      .join('')
      .trimStart()}`;
  while (kept > 1 && widthOf(cut(), size) > width) kept--;
  return cut();
}

/** A name on one line, or on two where no word has to be cut for it; else with an ellipsis inside it. */
export function nameLines(name: string, width: number, size: number): readonly string[] {
  const lines = wrapped(name, width, size);
  const isWhole = name.split(/\s+/u).every((word) => widthOf(word, size) <= width);
  return isWhole && lines.length <= 2 ? lines : [shortenedInside(name, width, size)];
}

export interface Heading {
  readonly title: string;
  readonly subtitle: string;
  readonly description: string;
}

/** One layer of a panel. */
export interface Layer {
  readonly data?: unknown;
  readonly mark: Readonly<Record<string, unknown>>;
  readonly encoding?: Readonly<Record<string, unknown>>;
}

/** One plot, px. */
export interface Panel {
  readonly width: number;
  readonly height: number;
  readonly layer: readonly Layer[];
}

/** Plots in their places on the sheet, all distances in px. */
export interface Sheet {
  readonly size: ChartSize;
  readonly panels: readonly Panel[];
  /** Plots side by side. */
  readonly columns: number;
  /** From one plot to the next. */
  readonly spacing: { readonly row: number; readonly column: number };
  /** Distance of the first plot's left edge from that of its labels. */
  readonly left: number;
  /** What stands under the last plots, such as an axis. */
  readonly below: number;
  /** Lines under all. */
  readonly foot: readonly string[];
}

/** A document in the house style: heading, what may be said, the plots, and the lines under them. */
export function inHouseStyle(
  { title, subtitle, description }: Heading,
  { size, panels, columns, spacing, left, below, foot }: Sheet,
): ChartDocument {
  const width = innerWidth(size);
  const lines = foot.flatMap((line) => wrapped(line, width, SMALLEST));
  const lastRow = columns * Math.floor((panels.length - 1) / columns);
  const all = panels.map((panel, at) =>
    at === lastRow
      ? { ...panel, layer: [...panel.layer, ...footOf(lines, -left, panel.height + below + 12)] }
      : panel,
  );
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    description,
    title: {
      text: wrapped(title, width, CONFIG.title.fontSize, true),
      subtitle: wrapped(subtitle, width, CONFIG.title.subtitleFontSize),
      dx: -left,
    },
    config: CONFIG,
    ...(all.length === 1 ? all[0] : { concat: all, columns, bounds: 'flush', align: 'none', spacing }),
  };
}

function footOf(lines: readonly string[], x: number, y: number): readonly Layer[] {
  return lines.map((text, i) => ({
    data: { values: [{}] },
    mark: {
      type: 'text',
      text,
      x,
      y: y + i * LINE,
      align: 'left',
      baseline: 'top',
      fontSize: SMALLEST,
      color: FAINT,
    },
  }));
}
