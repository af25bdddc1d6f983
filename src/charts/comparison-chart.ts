import type { Section, TableRow } from '../compare/comparison-table.ts';
import type { Compared } from '../compare/representative.ts';
import type { Cell } from '../compare/table/cell.ts';
import { lastOfId } from '../model/ids.ts';
import { fixed } from '../text/rounding.ts';
import { type CellColumn, type CellFigures, cellRows, cellsSpoken, headed } from './cell-figures.ts';
import { cellSheet, MOST_CELL_ROWS } from './cells.ts';
import { type Chart, type ChartSource, sourceLine } from './chart.ts';
import { type ChartSize, inHouseStyle } from './house-style.ts';
import { amounts, counted } from './numbers.ts';

/** Devices whose names stand in a title. */
const MOST_NAMED = 3;

/**
 * Figures of devices side by side: a row a device, a column a figure, from what is certain to what is possible. Where not all
 * columns have room, those that differ between the devices come first.
 */
export function comparisonChart(
  columns: readonly Compared[],
  sections: readonly Section[],
  source: ChartSource,
  size: ChartSize = 'page',
): Chart {
  const names = specimenNames(columns).slice(0, MOST_CELL_ROWS);
  const what = sections.length > MOST_NAMED ? 'Figures' : joined(sections.map(({ label }) => label));
  const specimens = new Set(columns.map(({ specimen }) => specimen.id)).size;
  const devices = new Set(columns.map(({ device }) => device.id)).size;
  const n = `${counted(devices, 'device')}, ${counted(specimens, 'specimen')}`;
  const whose = columns.length > MOST_NAMED ? n : joined(names);
  return figuresChart(
    {
      title: `${what}: ${whose}`,
      subtitle: `${rowsAre(sections)} What was not observed may be anything, none included.`,
      n,
      rows: names.map((name) => ({ name })),
      columns: columnsOf(sections),
      cautions: [...othersOpened(columns), ...tooMany(columns.length)],
    },
    source,
    size,
  );
}

/** Decisions are concluded from all specimens of a device, all else from the one that stands for it. */
function rowsAre(sections: readonly Section[]): string {
  if (sections.every(({ key }) => key === 'decisions')) return 'Each row is a device.';
  const but = sections.some(({ key }) => key === 'decisions') ? ', for decisions all of its device' : '';
  return `Each row is one opened specimen${but}.`;
}

/** Figures with all that is said of them. */
export interface FiguresChart
  extends Pick<CellFigures, 'rows' | 'columns'>,
    Partial<Pick<CellFigures, 'rowsAre' | 'columnsAre'>> {
  readonly title: string;
  readonly subtitle: string;
  readonly n: string;
  readonly cautions: readonly string[];
  /** Whether no column may be left out for want of room. */
  readonly isWhole?: boolean;
  /** Lines under the chart, above the source. */
  readonly notes?: readonly string[];
}

/** Rows of devices and columns of figures as a chart. */
export function figuresChart(
  {
    title,
    subtitle,
    n,
    rows,
    columns,
    cautions,
    notes = [],
    rowsAre: whose = 'device',
    columnsAre = 'figure',
    isWhole,
  }: FiguresChart,
  source: ChartSource,
  size: ChartSize,
): Chart {
  const sheet = cellSheet({ rows, columns, isWhole }, size);
  const figures: CellFigures = { rowsAre: whose, columnsAre, rows, columns: sheet.drawn };
  const left = leftLine(sheet.undrawn.map(headed));
  const lines = [...notes, ...left];
  const words = columns.length === 0 ? 'No figure is on record.' : cellsSpoken(figures);
  const description = [`${title}.`, subtitle, words, ...lines].join(' ');
  const foot = [...sheet.key, ...lines, ...cautions, sourceLine(source, n)];
  const document = inHouseStyle({ title, subtitle, description }, { ...sheet, size, foot });
  return { title, subtitle, n, description, rows: cellRows(figures), cautions, document };
}

/** The rows of sections as columns of a chart, those that differ between devices first. */
export function columnsOf(sections: readonly Section[]): readonly CellColumn[] {
  const all = sections.flatMap(({ key, rows }) => rows.map((row) => columnOf(key, row)));
  return [...all.filter(differsInRows), ...all.filter((column) => !differsInRows(column))];
}

function columnOf(section: string, { key, label, unit, cells: all }: TableRow): CellColumn {
  const cells = all.slice(0, MOST_CELL_ROWS);
  // Counts and shares of one section are seen side by side; other figures have nothing in common but their unit.
  const scale = unit === '1' || unit === '%' ? `${section} ${unit}` : key;
  if (section === 'decisions') return { heading: label, unit, scale, cells: cells.map(toHundredths) };
  if (unit !== 'KiBy') return { heading: label, unit, scale, cells };
  const most = Math.max(0, ...cells.map(({ certain, expected }) => Math.max(certain ?? 0, expected ?? 0)));
  const power = most >= 1024 ** 2 ? 2 : most >= 1024 ? 1 : 0;
  const inUnit = (value: number | null) => (value === null ? null : value / 1024 ** power);
  return {
    heading: label,
    unit: ['KiBy', 'MiBy', 'GiBy'][power],
    scale,
    cells: cells.map((cell) => ({
      ...cell,
      certain: inUnit(cell.certain),
      expected: inUnit(cell.expected),
      possible: inUnit(cell.possible),
    })),
  };
}

/** A probability is known to hundredths at best. */
function toHundredths(cell: Cell): Cell {
  return cell.expected === null ? cell : { ...cell, expected: Number(fixed(cell.expected, 2)) };
}

/** Whether a figure is another in some device than in others, in what is written of it. */
export function differsInRows({ unit, cells }: CellColumn): boolean {
  const { value } = amounts(unit);
  const written = ({ missing, expected, certain }: Cell) => missing ?? value(expected ?? certain);
  return new Set(cells.map(written)).size > 1;
}

/** Names of devices; with the specimen where two of one device stand there, and numbered where one does twice. */
export function specimenNames(columns: readonly Compared[]): readonly string[] {
  const all = columns.map(({ device, specimen }) => {
    const others = columns.filter((one) => one.device.id === device.id && one.specimen.id !== specimen.id);
    return others.length === 0 ? device.name : `${device.name} (${lastOfId(specimen.id)})`;
  });
  return all.map((name, at) => {
    const before = all.slice(0, at).filter((one) => one === name).length;
    return before === 0 ? name : `${name} #${before + 1}`;
  });
}

/** Which devices have specimens that are not shown. */
export function othersOpened(columns: readonly Compared[]): readonly string[] {
  const byDevice = Map.groupBy(columns, ({ device }) => device.id);
  const names = [...byDevice.values()].flatMap((all) => {
    const shown = new Set(all.map(({ specimen }) => specimen.id)).size;
    const others = all[0].otherSpecimens + 1 - shown;
    return others > 0 ? [`${all[0].device.name} (${others})`] : [];
  });
  return names.length === 0 ? [] : [`Other specimens were opened, which may differ: ${joined(names)}.`];
}

function tooMany(devices: number): readonly string[] {
  return devices > MOST_CELL_ROWS
    ? [`Drawn are the first ${MOST_CELL_ROWS} of ${devices}; the comparison has all.`]
    : [];
}

/** What there was no room for. */
export function leftLine(names: readonly string[]): readonly string[] {
  if (names.length === 0) return [];
  const first = names.slice(0, 6);
  const more = names.length > first.length ? ` and ${names.length - first.length} more` : '';
  return [`Not drawn: ${first.join(', ')}${more}; the comparison has their figures.`];
}

/** "a", "a and b", "a, b and c". */
export function joined(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
