import {
  type CellColumn,
  type CellFigures,
  type CellRow,
  headed,
  isDoubtful,
  type KnownCell,
  knownOf,
  missingWords,
} from './cell-figures.ts';
import {
  type ChartSize,
  COLOURS,
  DOUBT,
  FAINT,
  GRID,
  INK,
  innerWidth,
  type Layer,
  nameLines,
  type Panel,
  type Sheet,
  SMALL,
  SMALLEST,
  shortened,
  shortenedInside,
  wrapped,
} from './house-style.ts';
import { amounts } from './numbers.ts';
import { amountScale } from './scale.ts';
import { widthOf } from './text-width.ts';

// A sheet of small bars: one row a device (or step), one column a figure with a scale from 0 of its own, the number beside the bar.
// Where the columns need more room than there is they go on in a band below, with the names of the rows again.

/** Height of a row with a name alone, px. */
const ROW = 18;
/** Between columns, px. */
const GAP = 14;
/** Between the lines of a heading, px. */
const LINE = 13;
/** Lines of a heading. */
const MOST_LINES = 4;
/** Under a band: the ends of its scales, px. */
const AXIS = 14;
/** Between bands, px. */
const BETWEEN = 16;
/** Room of the shortest bar that is as long as its scale, px. */
const BAR = 40;
/** Widest column, px. */
const MOST_WIDTH = 220;
/** Widest word of a heading that makes its column wider, px; longer words are cut. */
const MOST_WORD = 110;
/** Where a heading may be cut. */
const WORDS = /\s+|(?<=\p{Ll})(?=\p{Lu})/u;
/** Height of all bands that a page has room for beside heading and foot, px: 190 of 240 mm. */
const MOST_HEIGHT = 720;

/** Rows up to which a name may take two lines. */
const MOST_ROOMY = 16;
/** Rows drawn. */
export const MOST_CELL_ROWS = 36;

/** A sheet of cells, but for what stands under it. */
export interface CellSheet extends Omit<Sheet, 'foot' | 'size'> {
  /** The columns drawn, in their order. */
  readonly drawn: readonly CellColumn[];
  /** Columns that there was no room for. */
  readonly undrawn: readonly CellColumn[];
  /** What bars, shades and marks are. */
  readonly key: readonly string[];
}

/** Draws cells for a size. Columns that the page has no room for are left out, from the end, unless they belong together (`isWhole`). */
export function cellSheet(
  { rows, columns, isWhole = false }: Pick<CellFigures, 'rows' | 'columns'> & { readonly isWhole?: boolean },
  size: ChartSize,
): CellSheet {
  const width = innerWidth(size);
  const isRoomy = rows.length <= MOST_ROOMY;
  const labels = rows.map((one) => labelOf(one, size === 'page' ? 170 : 114, isRoomy));
  const row = ROW + LINE * (Math.max(1, ...labels.map((lines) => lines.length)) - 1);
  const left = Math.ceil(Math.max(0, ...labels.flat().map(({ text }) => widthOf(text, SMALL)))) + 12;
  const number = Math.max(0, ...columns.map(numberWidth));
  const words = columns.flatMap((column) => headed(column).split(WORDS));
  const word = Math.max(0, ...words.map((one) => widthOf(one, SMALL, true)));
  const least = Math.max(widthOf('not observed', SMALLEST) + 2, BAR + 6 + number, Math.min(word, MOST_WORD));
  const across = Math.max(1, Math.floor((width - left + GAP) / (least + GAP)));
  const bands = Math.max(1, Math.ceil(columns.length / across));
  const inBand = Math.max(1, Math.ceil(columns.length / bands));
  const cell = Math.min(MOST_WIDTH, Math.floor((width - left - (inBand - 1) * GAP) / inBand));
  const headings = columns.map((column) => linesOf(headed(column), cell));
  const heads = Array.from({ length: bands }, (_, band) => {
    const lines = headings.slice(band * inBand, (band + 1) * inBand).map((one) => one.length);
    return LINE * Math.max(1, ...lines) + 4;
  });
  const drawn = isWhole ? columns : columns.slice(0, inBand * fitting(heads, row * rows.length));
  const tops = topsOf(drawn);
  const panels = drawn.map((column, at) =>
    panelOf(column, rows, {
      width: cell,
      head: heads[Math.floor(at / inBand)],
      row,
      top: tops.get(column.scale) as number,
      number,
      heading: headings[at],
      labels: at % inBand === 0 ? labels : [],
      left,
    }),
  );
  return {
    panels: panels.length > 0 ? panels : [emptyPanel(width - left)],
    columns: inBand,
    spacing: { row: AXIS + BETWEEN, column: GAP },
    left,
    below: AXIS - 4,
    drawn,
    undrawn: columns.slice(drawn.length),
    key: keyOf(drawn),
  };
}

/** How many bands the page has room for, at least one. */
function fitting(heads: readonly number[], rows: number): number {
  let height = 0;
  const beyond = heads.findIndex((head) => {
    height += head + rows + AXIS + BETWEEN;
    return height > MOST_HEIGHT;
  });
  return beyond < 0 ? heads.length : Math.max(1, beyond);
}

/** The lines of a row's label. */
function labelOf(
  { name, beside }: CellRow,
  width: number,
  isRoomy: boolean,
): readonly { readonly text: string; readonly isFaint: boolean }[] {
  const under = beside ? beside.join(', ') : '';
  const lines = widthOf(under, SMALL) <= width ? [under].filter((line) => line !== '') : (beside ?? []);
  const names = isRoomy ? nameLines(name, width, SMALL) : [shortenedInside(name, width, SMALL)];
  return [
    ...names.map((text) => ({ text, isFaint: false })),
    ...lines.map((line) => ({ text: shortenedInside(line, width, SMALL), isFaint: true })),
  ];
}

/** Width of the widest number of a column, px. */
function numberWidth({ unit, cells }: CellColumn): number {
  const { value } = amounts(unit);
  const known = cells.flatMap((cell) => knownOf(cell) ?? []);
  return Math.max(0, ...known.map(({ expected }) => widthOf(value(expected), SMALL)));
}

function linesOf(heading: string, width: number): readonly string[] {
  const lines = wrapped(heading, width, SMALL, true);
  if (lines.length <= MOST_LINES) return lines;
  const last = shortened(lines.slice(MOST_LINES - 1).join(' '), width, SMALL, true);
  return [...lines.slice(0, MOST_LINES - 1), last];
}

/** Where each scale ends. */
function topsOf(columns: readonly CellColumn[]): ReadonlyMap<string, number> {
  return new Map(
    columns.map(({ scale }) => {
      const all = columns
        .filter((one) => one.scale === scale)
        .flatMap(({ cells }) => cells.flatMap((cell) => knownOf(cell) ?? []))
        .flatMap(({ certain, expected, possible }) => [certain ?? 0, expected, possible ?? 0]);
      return [scale, amountScale(all, 4).domain[1]];
    }),
  );
}

interface Layout {
  readonly width: number;
  /** Height of the heading. */
  readonly head: number;
  /** Height of a row. */
  readonly row: number;
  /** End of the scale. */
  readonly top: number;
  /** Width of the numbers. */
  readonly number: number;
  readonly heading: readonly string[];
  /** Labels of the rows, for the first column of a band. */
  readonly labels: readonly ReturnType<typeof labelOf>[];
  readonly left: number;
}

function panelOf(column: CellColumn, rows: readonly CellRow[], layout: Layout): Panel {
  const { width, head, row, top, number, heading, labels, left } = layout;
  const height = head + row * rows.length;
  const numbers = amounts(column.unit);
  const bar = width - number - 6;
  const middle = (at: number) => head + row * (at + 0.5);
  const named = { column: headed(column) };
  const x = {
    type: 'quantitative',
    scale: { domain: [0, top], range: [0, bar], nice: false, zero: false },
    axis: null,
  };
  const y = {
    field: 'y',
    type: 'quantitative',
    scale: { domain: [0, height], range: [0, height], nice: false, zero: false },
    axis: null,
  };
  const known = rows.flatMap(({ name }, at) => {
    const cell = knownOf(column.cells[at]);
    return cell ? [{ ...named, row: name, y: middle(at), cell }] : [];
  });
  const bars = (values: readonly object[], mark: object): readonly Layer[] =>
    values.length === 0
      ? []
      : [
          {
            data: { values },
            mark: { type: 'rule', ...mark },
            encoding: { x: { ...x, field: 'low' }, x2: { field: 'high' }, y },
          },
        ];
  const text = (words: string, at: object): Layer => ({
    data: { values: [{}] },
    mark: {
      type: 'text',
      text: words,
      align: 'left',
      baseline: 'middle',
      fontSize: SMALL,
      color: INK,
      ...at,
    },
  });
  const ticks = known
    .filter(({ cell }) => isDoubtful(cell, numbers))
    .map(({ cell: { expected }, ...one }) => ({ ...one, expected }));
  const layer: readonly Layer[] = [
    // No line where words stand.
    ...known.flatMap(({ y: at }) =>
      [0, top].map((end) => ({
        data: { values: [{ end }] },
        mark: { type: 'rule', strokeWidth: 1, color: GRID, y: at - row / 2, y2: at + row / 2 },
        encoding: { x: { ...x, field: 'end' } },
      })),
    ),
    ...bars(
      known.flatMap(({ cell, ...one }) => {
        const range = doubtOf(cell);
        return range ? [{ ...one, ...range }] : [];
      }),
      { strokeWidth: 10, color: DOUBT },
    ),
    ...bars(
      known.flatMap(({ cell: { certain }, ...one }) =>
        (certain ?? 0) > 0 ? [{ ...one, low: 0, high: certain }] : [],
      ),
      { strokeWidth: 10, color: COLOURS[1] },
    ),
    ...(ticks.length === 0
      ? []
      : [
          {
            data: { values: ticks },
            mark: { type: 'tick', orient: 'vertical', thickness: 2, size: 15, color: COLOURS[0], opacity: 1 },
            encoding: { x: { ...x, field: 'expected' }, y },
          },
        ]),
    ...known.map(({ cell: { expected }, y: at }) =>
      text(numbers.value(expected), { x: width, y: at, align: 'right' }),
    ),
    ...rows.flatMap((_, at) =>
      knownOf(column.cells[at])
        ? []
        : [text(missingWords(column.cells[at]), { x: 2, y: middle(at), fontSize: SMALLEST, color: FAINT })],
    ),
    ...heading.map((line, at) =>
      text(line, { x: 0, y: head - 4 - LINE * (heading.length - at - 0.5), fontWeight: 'bold' }),
    ),
    ...labels.flatMap((lines, at) =>
      lines.map(({ text: line, isFaint }, i) =>
        text(line, {
          x: -left,
          y: middle(at) + LINE * (i - (lines.length - 1) / 2),
          ...(isFaint ? { color: FAINT } : {}),
        }),
      ),
    ),
    ...(known.length === 0
      ? []
      : [
          text('0', { x: 0, y: height + AXIS / 2, fontSize: SMALLEST, color: FAINT }),
          text(numbers.value(top), {
            x: bar,
            y: height + AXIS / 2,
            align: 'right',
            fontSize: SMALLEST,
            color: FAINT,
          }),
        ]),
  ];
  return { width, height, layer };
}

function emptyPanel(width: number): Panel {
  const mark = {
    type: 'text',
    text: 'no figure on record',
    x: 0,
    y: ROW / 2,
    align: 'left',
    fontSize: SMALL,
  };
  return { width, height: ROW, layer: [{ data: { values: [{}] }, mark: { ...mark, color: FAINT } }] };
}

/** What doubt leaves, from what is certain on: to what is possible, or at least to what is expected. */
function doubtOf({ certain, expected, possible }: KnownCell) {
  const low = certain ?? expected;
  const high = Math.max(possible ?? expected, expected);
  return high > low ? { low, high } : undefined;
}

function keyOf(columns: readonly CellColumn[]): readonly string[] {
  const known = columns.flatMap(({ cells, unit }) =>
    cells.flatMap((cell) => {
      const one = knownOf(cell);
      return one ? [{ one, numbers: amounts(unit) }] : [];
    }),
  );
  const parts = [
    ...(known.some(({ one }) => (one.certain ?? 0) > 0) ? ['dark bar: certain (0.95 or more)'] : []),
    ...(known.some(({ one }) => doubtOf(one))
      ? ['grey bar: what may be there as well (0.05 or more), or is expected']
      : []),
    ...(known.some(({ one, numbers }) => isDoubtful(one, numbers))
      ? ['tick and number: expected, weighted by probability']
      : []),
  ];
  if (parts.length === 0) return [];
  return [`${parts.join('; ').replace(/^./u, (first) => first.toUpperCase())}. Every scale begins at 0.`];
}
