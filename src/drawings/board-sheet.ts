import { type Arrangement, arranged, type Column, type Panel } from './arrange.ts';
import { BoardNotes } from './board-notes.ts';
import { drawSide } from './board-view.ts';
import { HATCHES, type Hatches } from './hatches.ts';
import { type LegendEntry, legend } from './legend.ts';
import { ASCENT, SIZES, shortened, wrapped } from './lettering.ts';
import type { Box, Shape, Sheet } from './shapes.ts';

/** Heading and last lines of a sheet of boards. */
export interface SheetWords {
  readonly title: string;
  readonly subtitle: string;
  /** Who is to be credited, a sentence each. */
  readonly credits: readonly string[];
}

/** Width of a sheet, mm: the text width of an A4 page, when nothing else is asked. */
export const WIDTH = 170;
export const NARROWEST = 80;
export const WIDEST = 420;
/** Boards take at most this much of the height for each millimetre of width, so that legend and credits fit on a page. */
const TALLEST = 1.15;
const MARGIN = 3;

/** A sheet of boards, all at one scale, with scale bar, legend, what could not be drawn, and credits. */
export function boardSheet(
  columns: readonly Column[],
  words: SheetWords,
  { width, isOneRow }: { readonly width: number; readonly isOneRow: boolean },
): Sheet {
  const panels = columns.flatMap((column) => column.panels);
  const gutter = { beside: panels.length > 2 || columns.length > 2 ? 7 : 12, above: 5 };
  const inner = width - 2 * MARGIN;
  const arrangement = arranged(columns, { width: inner, height: width * TALLEST }, gutter, isOneRow);
  const { scale } = arrangement;
  const right = Math.max(width, ...arrangement.columns.map((one) => one.left + one.width + 2 * MARGIN));

  const shapes: Shape[] = [];
  let y = MARGIN;
  const paragraph = (text: string, size: number, isBold = false, faint = false) => {
    // Bold is wider: lines are broken for it.
    for (const line of wrapped(text, (right - 2 * MARGIN) / (isBold ? 1.2 : 1), size)) {
      shapes.push({
        kind: 'text',
        at: [MARGIN, y + ASCENT * size],
        text: line,
        size,
        ...(isBold ? { isBold } : {}),
        ...(faint ? { ink: 'faint' as const } : {}),
      });
      y += size * 1.32;
    }
  };
  paragraph(words.title, SIZES.heading, true);
  paragraph(`${words.subtitle}, ${scaleInWords(scale)}`, SIZES.caption, false, true);
  y += 1.5;

  const hatches = hatchesFor(panels);
  const notes = new BoardNotes();
  shapes.push(...drawPanels(arrangement, y, hatches, notes));
  y += arrangement.height + 2;

  const bar = scaleBar(scale, [MARGIN, y]);
  shapes.push(...bar.shapes);
  y += bar.height + 3;

  const entries: readonly LegendEntry[] = notes.legend(panels, hatches);
  const drawnLegend = legend(entries, [MARGIN, y], right - 2 * MARGIN);
  shapes.push(...drawnLegend.shapes);
  y += drawnLegend.height + (entries.length > 0 ? 2 : 0);
  for (const note of notes.sentences(panels, hatches)) paragraph(note, SIZES.note);
  if (words.credits.length > 0) y += 1;
  for (const credit of words.credits) paragraph(credit, SIZES.note, false, true);

  return {
    title: `${words.title}: ${words.subtitle}`,
    description: [
      `${words.title}, ${words.subtitle}, ${scaleInWords(scale)}.`,
      ...notes.inWords(panels),
      ...notes.sentences(panels, hatches),
      ...words.credits,
    ].join(' '),
    width: right,
    height: Math.ceil(y + MARGIN),
    shapes,
  };
}

function hatchesFor(panels: readonly Panel[]): Hatches {
  const byName = new Map<string, number>();
  const without = new Set<string>();
  const bySpecimen = new Map<string, Map<string, number>>();
  for (const { view } of panels) {
    const { specimen } = view;
    const used = new Set(view.placed.map(({ subsystem }) => subsystem));
    const own = bySpecimen.get(specimen.id) ?? new Map<string, number>();
    bySpecimen.set(specimen.id, own);
    for (const { id, name, kind } of specimen.dossier.subsystems) {
      if (!used.has(id)) continue;
      const called = name ?? kind;
      let hatch = byName.get(called);
      if (hatch === undefined && byName.size < HATCHES.length) {
        hatch = byName.size;
        byName.set(called, hatch);
      }
      if (hatch === undefined) without.add(called);
      else own.set(id, hatch);
    }
  }
  return { byName, without: [...without], of: (specimen) => bySpecimen.get(specimen) ?? new Map() };
}

function drawPanels(
  { columns, scale }: Arrangement,
  top: number,
  hatches: Hatches,
  notes: BoardNotes,
): readonly Shape[] {
  const shapes: Shape[] = [];
  const moved = ({ left, right, top: t, bottom }: Box): Box => ({
    left: left + MARGIN,
    right: right + MARGIN,
    top: t + top,
    bottom: bottom + top,
  });
  for (const { heading, left, top: at, width, panels } of columns) {
    if (heading !== undefined) {
      const size = SIZES.caption;
      const text = shortened(heading, width, size, true);
      shapes.push({ kind: 'text', at: [left + MARGIN, at + top + ASCENT * size], text, size, isBold: true });
    }
    for (const {
      view,
      caption,
      at: [x, y],
      room,
    } of panels) {
      const frame = moved(room);
      const size = SIZES.caption;
      const text = shortened(caption, frame.right - frame.left, size);
      shapes.push({ kind: 'text', at: [frame.left, frame.top - 1], text, size });
      const drawn = drawSide(view, [x + MARGIN, y + top], scale, frame, hatches.of(view.specimen.id));
      shapes.push(...drawn.shapes);
      notes.add(view, caption, drawn);
    }
  }
  return shapes;
}

/** `scale 4 : 1`, `scale 1 : 2.5` */
export function scaleInWords(scale: number): string {
  const written = (ratio: number) => String(Math.round(ratio * 100) / 100);
  return scale >= 1 ? `scale ${written(scale)} : 1` : `scale 1 : ${written(1 / scale)}`;
}

/** A bar of 1, 2 or 5 times a power of ten millimetres, about a quarter of a page wide. */
function scaleBar(
  scale: number,
  [x, y]: readonly [number, number],
): { shapes: readonly Shape[]; height: number } {
  const longest = 45 / scale;
  const power = 10 ** Math.floor(Math.log10(longest));
  const length = ([5, 2, 1].find((step) => step * power <= longest) ?? 1) * power;
  const end = x + length * scale;
  const stroke = { ink: 'ink', width: 0.25 } as const;
  const size = SIZES.note;
  const base = y + 2;
  return {
    shapes: [
      {
        kind: 'line',
        of: 'scale-bar',
        points: [
          [x, base],
          [end, base],
        ],
        stroke: { ink: 'ink', width: 0.6 },
      },
      {
        kind: 'line',
        points: [
          [x, base - 1.2],
          [x, base + 1.2],
        ],
        stroke,
      },
      {
        kind: 'line',
        points: [
          [end, base - 1.2],
          [end, base + 1.2],
        ],
        stroke,
      },
      { kind: 'text', at: [end + 2, base + 0.35 * size], text: `${Number(length.toPrecision(1))} mm`, size },
    ],
    height: 4,
  };
}
