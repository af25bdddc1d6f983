import { dateRange } from '../model/dates.ts';
import { fixed } from '../text/rounding.ts';
import type { Adopter, TrendAnswer } from '../trends/answer.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import {
  type ChartSize,
  COLOURS,
  DOUBT,
  FAINT,
  GRID,
  INK,
  inHouseStyle,
  innerWidth,
  type Layer,
  nameLines,
  SMALL,
  SMALLEST,
} from './house-style.ts';
import { counted } from './numbers.ts';
import { amountScale } from './scale.ts';
import { widthOf } from './text-width.ts';
import { onlyOf } from './trend-chart.ts';
import { isOfShares } from './trend-figures.ts';

/** Height of a row with one line, of the heading over the rows, and of the bars under them, px. */
const ROW = 17;
const HEAD = 22;
const BARS = 56;
const LINE = 13;
/** Devices drawn. */
const MOST_ROWS = 20;
/** Width of the columns of probabilities, px. */
const PROBABILITY = 42;
/** A date that leaves more than this is drawn as a bar, px. */
const TELLING = 4;

/** Whether an answer has first adopters: shares alone have. */
export function hasAdopters(answer: TrendAnswer): boolean {
  return isOfShares(answer);
}

/**
 * The first devices that have something, by release, each as exactly as its date is known, over the number of devices opened of each
 * period: where few were opened before, the first seen is not the first made.
 * @param answer of a share
 */
export function adoptersChart(answer: TrendAnswer, source: ChartSource, size: ChartSize = 'page'): Chart {
  const { firstAdopters, total, per, of } = answer;
  const adopters = firstAdopters.slice(0, MOST_ROWS);
  const subject = of.replace(/^share of devices with /u, '');
  const title = `First with ${subject}${onlyOf(answer.only)}`;
  const before = openedBefore(answer);
  const subtitle =
    firstAdopters.length === 0
      ? 'No device that was opened has it, as far as is known.'
      : `First seen among the devices opened, not first made. Opened of ${before.name}: ${counted(before.n, 'device')} looked at, ${before.notObserved} not observed.`;
  const n = counted(total.total.devices, 'device');
  const most = size === 'page' ? 170 : 100;
  const labels = adopters.map(({ device }) => [...nameLines(device.name, most, SMALL), device.released]);
  const periods = total.periods;
  const scale = amountScale(
    periods.map(({ devices }) => devices),
    2,
  );
  const left = Math.ceil(Math.max(scale.width, ...labels.flat().map((line) => widthOf(line, SMALL)))) + 14;
  const width = Math.floor(innerWidth(size) - left - 2 * PROBABILITY - 8);
  const years = yearsOf(answer, adopters);
  const x = {
    type: 'quantitative',
    scale: { domain: years, range: [0, width], nice: false, zero: false },
    axis: null,
  };
  const at = (year: number) => ((year - years[0]) / (years[1] - years[0])) * width;
  const ticks = ticksOf(years, width);
  const bars = barsPanel(answer, { x, ticks, at, width, left });
  const top = adoptersPanel(adopters, labels, { x, ticks, at, width, left });
  const notes = [
    ...(firstAdopters.length > adopters.length
      ? [`Not drawn: ${firstAdopters.length - adopters.length} more that may have been among the first.`]
      : []),
    ...(total.undated > 0
      ? [`${counted(total.undated, 'device')} dated too roughly for a ${per}: under no bar.`]
      : []),
  ];
  const foot = [
    ...(adopters.length > 0
      ? [
          '● certain (0.95 or more), ○ possible; a bar, black or grey in the same way, where the date leaves that span. At the right the probability that it has it, and that none released before it has.',
        ]
      : []),
    ...(periods.length > 0
      ? [`Lower bars: devices opened, by ${per} of release; dark: looked at, light: not observed.`]
      : []),
    ...notes,
    sourceLine(source, n),
  ];
  const words = [
    ...adopters.map(
      ({ device, probability, probabilityFirst }) =>
        `${device.name}, released ${device.released}: has it ${written(probability)}, is first ${written(probabilityFirst)}.`,
    ),
    ...periods.map((one) => `${one.period}: ${one.n} looked at, ${one.notObserved} not observed.`),
  ];
  const description = [`${title}.`, subtitle, ...words, ...notes].join(' ');
  const rows = [
    ...adopters.map(({ device, probability, probabilityFirst }) => ({
      released: device.released,
      device: device.name,
      'has it': written(probability),
      'is first': written(probabilityFirst),
      'looked at': '',
      'not observed': '',
    })),
    ...periods.map((one) => ({
      released: one.period,
      device: '',
      'has it': '',
      'is first': '',
      'looked at': String(one.n),
      'not observed': String(one.notObserved),
    })),
  ];
  const document = inHouseStyle(
    { title, subtitle, description },
    {
      size,
      panels: [top, bars],
      columns: 1,
      spacing: { row: 30, column: 0 },
      left,
      below: 18,
      foot,
    },
  );
  return { title, subtitle, n, description, rows, cautions: answer.cautions, document };
}

/** A probability; one that is not 0 is not written as 0. */
function written(probability: number): string {
  return probability > 0 && probability < 0.005 ? '<0.01' : fixed(probability, 2);
}

/** Devices of the periods before the first adopter's. */
function openedBefore({ firstAdopters, total, per }: TrendAnswer) {
  const first = Math.min(...firstAdopters.map(({ device }) => yearsIn(device.released)[0]));
  const length = LENGTHS[per];
  const earlier = total.periods.filter(({ start }) => start + length <= first + 1e-9);
  return {
    name: `an earlier ${per}`,
    n: earlier.reduce((sum, one) => sum + one.n, 0),
    notObserved: earlier.reduce((sum, one) => sum + one.notObserved, 0),
  };
}

const LENGTHS = { year: 1, 'half-year': 0.5, quarter: 0.25 } as const;

/** From the first day to the end of the last that a date may mean, in years. */
function yearsIn(date: string): readonly [number, number] {
  const { first, last } = dateRange(date);
  return [inYears(first, 0), inYears(last, 1)];
}

function inYears(day: string, add: number): number {
  const year = Number(day.slice(0, 4));
  const start = Date.UTC(year, 0, 1);
  const days = (Date.parse(`${day}T00:00:00Z`) - start) / 86_400_000 + add;
  return year + days / ((Date.UTC(year + 1, 0, 1) - start) / 86_400_000);
}

/** From the first period or adopter to the end of the last. */
function yearsOf({ total, per }: TrendAnswer, adopters: readonly Adopter[]): readonly [number, number] {
  const dates = adopters.flatMap(({ device }) => yearsIn(device.released));
  const starts = total.periods.map(({ start }) => start);
  const all = [...dates, ...starts, ...starts.map((start) => start + LENGTHS[per])];
  return all.length === 0 ? [0, 1] : [Math.min(...all), Math.max(...all)];
}

/** Years named under the axis: all, or those that 2, 5, 10 and so on divide. */
function ticksOf([from, to]: readonly [number, number], width: number): readonly number[] {
  if (from === 0) return [];
  const room = (widthOf('2020', SMALLEST) + 6) / (width / Math.max(1, to - from));
  const step = [1, 2, 5, 10, 20, 50].find((one) => one >= room) ?? 100;
  const first = Math.ceil(from / step) * step;
  const last = to - ((widthOf('2020', SMALLEST) / 2) * (to - from)) / width;
  return Array.from(
    { length: 1 + Math.max(-1, Math.floor((last - first) / step)) },
    (_, i) => first + i * step,
  );
}

interface Axis {
  readonly x: object;
  readonly ticks: readonly number[];
  /** Place of a year, px. */
  readonly at: (year: number) => number;
  readonly width: number;
  readonly left: number;
}

const text = (words: string, at: object): Layer => ({
  data: { values: [{}] },
  mark: { type: 'text', text: words, align: 'left', baseline: 'middle', fontSize: SMALL, color: INK, ...at },
});

function grid({ x, ticks }: Axis, from: number, to: number): readonly Layer[] {
  if (ticks.length === 0) return [];
  return [
    {
      data: { values: ticks.map((year) => ({ year })) },
      mark: { type: 'rule', strokeWidth: 1, color: GRID, y: from, y2: to },
      encoding: { x: { ...x, field: 'year' } },
    },
  ];
}

function adoptersPanel(adopters: readonly Adopter[], labels: readonly (readonly string[])[], axis: Axis) {
  const { x, at, width, left } = axis;
  const row = ROW + LINE * (Math.max(1, ...labels.map((lines) => lines.length)) - 1);
  const height = HEAD + row * Math.max(1, adopters.length);
  const y = {
    field: 'y',
    type: 'quantitative',
    scale: { domain: [0, height], range: [0, height], nice: false, zero: false },
    axis: null,
  };
  const middle = (at: number) => HEAD + row * (at + 0.5);
  const placed = adopters.map(({ device, certain }, row) => {
    const [from, to] = yearsIn(device.released);
    return { device: device.name, from, to, middle: (from + to) / 2, y: middle(row), certain };
  });
  const isWide = ({ from, to }: (typeof placed)[number]) => at(to) - at(from) > TELLING;
  const spans = (certain: boolean): readonly Layer[] => {
    const values = placed.filter((one) => isWide(one) && one.certain === certain);
    if (values.length === 0) return [];
    return [
      {
        data: { values },
        mark: { type: 'rule', strokeWidth: 9, color: certain ? COLOURS[0] : DOUBT },
        encoding: { x: { ...x, field: 'from' }, x2: { field: 'to' }, y },
      },
    ];
  };
  const points = (certain: boolean): readonly Layer[] => {
    const values = placed.filter((one) => !isWide(one) && one.certain === certain);
    if (values.length === 0) return [];
    const mark = { type: 'point', shape: 'circle', filled: true, opacity: 1, size: 60, strokeWidth: 1.2 };
    return [
      {
        data: { values },
        mark: { ...mark, fill: certain ? COLOURS[0] : '#ffffff', stroke: COLOURS[0] },
        encoding: { x: { ...x, field: 'middle' }, y },
      },
    ];
  };
  const right = (column: number) => width + 8 + PROBABILITY * (column + 1);
  const layer: readonly Layer[] = [
    ...grid(axis, HEAD, height),
    ...spans(false),
    ...spans(true),
    ...points(false),
    ...points(true),
    ...labels.flatMap((lines, row) =>
      lines.map((line, i) =>
        text(line, {
          x: -left,
          y: middle(row) + LINE * (i - (lines.length - 1) / 2),
          ...(i === lines.length - 1 ? { color: FAINT } : {}),
        }),
      ),
    ),
    ...adopters.flatMap(({ probability, probabilityFirst }, row) => [
      text(written(probability), { x: right(0), y: middle(row), align: 'right' }),
      text(written(probabilityFirst), { x: right(1), y: middle(row), align: 'right' }),
    ]),
    ...(adopters.length > 0
      ? [
          ['has it', 0],
          ['is first', 1],
        ].map(([words, column]) =>
          text(String(words), {
            x: right(Number(column)),
            y: HEAD - 8,
            align: 'right',
            fontSize: SMALLEST,
            color: FAINT,
          }),
        )
      : [text('no device opened has it', { x: 0, y: middle(0), color: FAINT })]),
  ];
  return { width, height, layer };
}

function barsPanel({ total, per }: TrendAnswer, axis: Axis) {
  const { x, ticks, at, width, left } = axis;
  const scale = amountScale(
    total.periods.map(({ devices }) => devices),
    2,
  );
  const length = LENGTHS[per];
  const y = {
    type: 'quantitative',
    scale: { domain: scale.domain, range: [BARS, 0], nice: false, zero: false },
    axis: null,
  };
  const thickness = Math.max(1, at(length) - at(0) - 2);
  const bars = (from: (one: (typeof total.periods)[number]) => readonly [number, number], color: string) => {
    const values = total.periods
      .map((one) => ({
        period: one.period,
        middle: one.start + length / 2,
        from: from(one)[0],
        to: from(one)[1],
      }))
      .filter((one) => one.to > one.from);
    if (values.length === 0) return [];
    return [
      {
        data: { values },
        mark: { type: 'rule', strokeWidth: thickness, color },
        encoding: { x: { ...x, field: 'middle' }, y: { ...y, field: 'from' }, y2: { field: 'to' } },
      },
    ];
  };
  const place = (value: number) => BARS * (1 - value / scale.domain[1]);
  const layer: readonly Layer[] = [
    ...(total.periods.length === 0
      ? []
      : [
          {
            data: { values: scale.values.map((line) => ({ line })) },
            mark: { type: 'rule', strokeWidth: 1, color: GRID },
            encoding: { x: { value: 0 }, x2: { value: width }, y: { ...y, field: 'line' } },
          },
          ...scale.values.map((value) =>
            text(String(value), { x: -8, y: place(value), align: 'right', fontSize: SMALLEST, color: FAINT }),
          ),
        ]),
    ...bars((one) => [0, one.n], FAINT),
    ...bars((one) => [one.n, one.n + one.notObserved], DOUBT),
    ...ticks.map((year) =>
      text(String(year), { x: at(year), y: BARS + 10, align: 'center', fontSize: SMALLEST, color: FAINT }),
    ),
    text('devices opened', { x: -left, y: -12, fontSize: SMALLEST, color: FAINT }),
  ];
  return { width, height: BARS, layer };
}
