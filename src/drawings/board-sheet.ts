import { fixed } from '../text/rounding.ts';
import { type Arrangement, arranged, type Column, type Panel } from './arrange.ts';
import { BoardNotes } from './board-notes.ts';
import { drawSide } from './board-side.ts';
import { HATCHES, type Hatches } from './hatches.ts';
import { ASCENT, SIZES, shortened } from './lettering.ts';
import { MARGIN, Page, type SheetWords } from './page.ts';
import type { Box, Shape, Sheet } from './shapes.ts';

/** Width of a sheet, mm: the text width of an A4 page, when nothing else is asked. */
export const WIDTH = 170;
export const NARROWEST = 80;
export const WIDEST = 420;
/** Boards take at most this much of the height for each millimetre of width, so that legend and credits fit on a page. */
const TALLEST = 1.15;

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

  const page = new Page(right);
  page.heading({ title: words.title, subtitle: `${words.subtitle}, ${scaleInWords(scale)}` });

  const hatches = hatchesFor(panels);
  const notes = new BoardNotes();
  page.shapes.push(...drawPanels(arrangement, page.y, hatches, notes));
  page.y += arrangement.height + 2;

  const bar = scaleBar(scale, [MARGIN, page.y]);
  page.shapes.push(...bar.shapes);
  page.y += bar.height + 3;

  const sentences = [...notes.sentences(panels, hatches), ...(words.notes ?? [])];
  page.end(notes.legend(panels, hatches), sentences, words.credits);
  return page.sheet(
    `${words.title}: ${words.subtitle}`,
    [
      `${words.title}, ${words.subtitle}, ${scaleInWords(scale)}.`,
      ...notes.inWords(panels),
      ...sentences,
      ...words.credits,
    ].join(' '),
  );
}

/** Hatches of the subsystems on some views, in the order of the dossiers. */
export function hatchesFor(panels: readonly Pick<Panel, 'view'>[]): Hatches {
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
  const written = (ratio: number) => String(Number(fixed(ratio, 2)));
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
