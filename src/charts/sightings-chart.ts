import type { Generations } from '../compare/generations.ts';
import type { Sighting } from '../compare/line/sightings.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import { fixed } from '../text/rounding.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import {
  type ChartSize,
  COLOURS,
  FAINT,
  GRID,
  INK,
  inHouseStyle,
  innerWidth,
  type Layer,
  SMALL,
  SMALLEST,
  shortenedInside,
  wrapped,
} from './house-style.ts';
import { counted } from './numbers.ts';
import { widthOf } from './text-width.ts';

/** Height of a row, px. */
const ROW = 17;
const LINE = 13;
/** Rows drawn; those of several devices first. */
const MOST_ROWS = 40;
/** Width of a column, px. */
const NARROWEST = 16;
const WIDEST = 84;
/** Grey of what is there rather than not; told from black and white on paper. */
const HALF = '#9a9a9a';

/** A part or a maker of parts along a line. */
export interface SeenAlong {
  readonly name: string;
  readonly sighting: Sighting;
  /** Probability in each device, in the order of the line. */
  readonly chances: readonly number[];
}

/**
 * What came and went along a product line: a row a part (or maker of parts) in the order of first sighting, a column a device.
 * Nothing joins the marks: that a part stands on both sides of a device says nothing of that device.
 * @param of what stands in the rows
 */
export function sightingsChart(
  { productLine, generations }: Generations,
  seen: readonly SeenAlong[],
  of: 'parts' | 'makers',
  source: ChartSource,
  size: ChartSize = 'page',
): Chart {
  const what = of === 'parts' ? 'part' : 'maker';
  const byDevices = [...seen].sort((a, b) => b.sighting.expected - a.sighting.expected);
  const chosen = new Set(byDevices.slice(0, MOST_ROWS));
  const rows = seen.filter((one) => chosen.has(one));
  const width = innerWidth(size);
  const most = size === 'page' ? 190 : 120;
  const labels = rows.map(({ name }) => shortenedInside(name, most, SMALL));
  const left = Math.ceil(Math.max(0, ...labels.map((label) => widthOf(label, SMALL)))) + 12;
  const devices = generations
    .slice(0, Math.floor((width - left) / NARROWEST))
    .map(({ device: { name, released } }) => ({ name, released }));
  const wide = Math.min(WIDEST, Math.floor((width - left) / Math.max(1, devices.length)));
  const names = devices.map(({ name }) => wrapped(name, wide - 6, SMALL));
  const isNamed = names.every(
    (lines, at) =>
      lines.length <= 3 && devices[at].name.split(/\s+/u).every((word) => widthOf(word, SMALL) <= wide - 6),
  );
  const heads = isNamed ? names : devices.map((_, at) => [String(at + 1)]);
  const head = LINE * Math.max(1, ...heads.map((lines) => lines.length)) + 6;
  const height = head + ROW * Math.max(1, rows.length);
  const marks = rows.flatMap(({ name, chances }, row) =>
    devices.flatMap((device, at) =>
      chances[at] >= POSSIBLE
        ? [
            {
              row: name,
              device: device.name,
              probability: chances[at],
              x: wide * (at + 0.5),
              y: head + ROW * (row + 0.5),
            },
          ]
        : [],
    ),
  );
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
  const place = (field: string, end: number) => ({
    field,
    type: 'quantitative',
    scale: { domain: [0, end], range: [0, end], nice: false, zero: false },
    axis: null,
  });
  const points = (from: number, to: number, fill: string): readonly Layer[] => {
    const values = marks.filter(({ probability }) => probability >= from && probability < to);
    if (values.length === 0) return [];
    const mark = {
      type: 'point',
      shape: 'circle',
      filled: true,
      opacity: 1,
      size: 70,
      fill,
      stroke: COLOURS[0],
    };
    return [
      {
        data: { values },
        mark: { ...mark, strokeWidth: 1.2 },
        encoding: { x: place('x', wide * devices.length), y: place('y', height) },
      },
    ];
  };
  const layer: readonly Layer[] = [
    ...(rows.length === 0
      ? []
      : [
          {
            data: { values: rows.map((_, row) => ({ line: head + ROW * (row + 0.5) })) },
            mark: { type: 'rule', strokeWidth: 1, color: GRID },
            encoding: {
              x: { value: 0 },
              x2: { value: wide * devices.length },
              y: place('line', height),
            },
          },
        ]),
    ...points(POSSIBLE, 0.5, '#ffffff'),
    ...points(0.5, CERTAIN, HALF),
    ...points(CERTAIN, Number.POSITIVE_INFINITY, COLOURS[0]),
    ...labels.map((label, row) => text(label, { x: -left, y: head + ROW * (row + 0.5) })),
    ...heads.flatMap((lines, at) =>
      lines.map((line, i) =>
        text(line, {
          x: wide * (at + 0.5),
          y: head - 6 - LINE * (lines.length - i - 0.5),
          align: 'center',
          fontWeight: 'bold',
          fontSize: isNamed ? SMALLEST : SMALL,
        }),
      ),
    ),
    ...(rows.length === 0
      ? [text(`no ${what} is there rather than not`, { x: 0, y: height - ROW / 2, color: FAINT })]
      : []),
  ];
  const title = `${productLine.name}: ${of === 'parts' ? 'parts' : 'makers of parts'} that came and went`;
  const subtitle = `In the order of first sighting among the devices opened. No mark: absent, or not observed.`;
  const n = `${counted(generations.length, 'device')}, ${counted(seen.length, what)}`;
  const left_ = seen.length - rows.length;
  const notes = [
    ...(isNamed ? [] : [`Columns: ${devices.map(({ name }, at) => `${at + 1} ${name}`).join('; ')}.`]),
    ...(left_ > 0 ? [`Not drawn: ${counted(left_, what)} seen in the fewest devices.`] : []),
    ...(devices.length < generations.length
      ? [`Drawn are the first ${devices.length} of ${generations.length} devices.`]
      : []),
  ];
  const said = rows.map(({ name, chances }) => {
    const all = devices.flatMap((device, at) =>
      chances[at] >= POSSIBLE ? [`${device.name} ${fixed(chances[at], 2)}`] : [],
    );
    return `${name}: ${all.join('; ')}.`;
  });
  const description = [`${title}.`, subtitle, 'Probabilities.', ...said, ...notes].join(' ');
  const foot = [
    '● certain (0.95 or more); grey: there rather than not; ○ possible (0.05 or more).',
    ...notes,
    sourceLine(source, n),
  ];
  const document = inHouseStyle(
    { title, subtitle, description },
    {
      size,
      panels: [{ width: wide * devices.length, height, layer }],
      columns: 1,
      spacing: { row: 0, column: 0 },
      left,
      below: 0,
      foot,
    },
  );
  const table = marks.map(({ row, device, probability }) => ({
    [what]: row,
    device,
    probability: fixed(probability, 2),
  }));
  return { title, subtitle, n, description, rows: table, cautions: [], document };
}
