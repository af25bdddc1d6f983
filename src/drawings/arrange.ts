import type { BoardSide } from './board-side.ts';

// Sides of boards on a sheet, all at one scale: the largest of a list that fits.

/** Sides above one another, such as the boards of one device. */
export interface Column {
  readonly heading?: string;
  readonly panels: readonly Panel[];
}

export interface Panel {
  readonly view: BoardSide;
  readonly caption: string;
}

/** Where a panel stands: left upper corner of the board's extent, and of the room around it. */
export interface Placed extends Panel {
  readonly at: readonly [x: number, y: number];
  readonly room: {
    readonly left: number;
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
  };
}

export interface PlacedColumn {
  readonly heading: string | undefined;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly panels: readonly Placed[];
}

export interface Arrangement {
  /** Millimetres of the sheet for one of the board. */
  readonly scale: number;
  readonly columns: readonly PlacedColumn[];
  /** Height of all, mm. */
  readonly height: number;
}

/** Room around each board for labels, mm. */
export interface Gutter {
  readonly beside: number;
  readonly above: number;
}

/** Room for a line of caption over a panel, mm. */
export const CAPTION = 4.2;
/** Room for the heading of a column, mm. */
export const HEADING = 5;
/** Room between columns, mm. */
const BETWEEN = 2;

const STEPS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8] as const;
/** Scales from 50 : 1 to 1 : 1000, the largest first. */
const SCALES: readonly number[] = [50, 40, 30, 25, 20, 15, 10].concat(
  [1, 0.1, 0.01, 0.001].flatMap((power) => [...STEPS].reverse().map((step) => step * power)),
);

/**
 * Places columns in rows at the largest scale that fits.
 * @param isOneRow whether all columns stand beside one another
 */
export function arranged(
  columns: readonly Column[],
  size: { readonly width: number; readonly height: number },
  gutter: Gutter,
  isOneRow: boolean,
): Arrangement {
  for (const scale of SCALES) {
    const placed = tried(columns, scale, size.width, gutter, isOneRow);
    if (placed && placed.height <= size.height) return placed;
  }
  return (
    tried(columns, SCALES[SCALES.length - 1], Infinity, gutter, isOneRow) ?? {
      scale: 1,
      columns: [],
      height: 0,
    }
  );
}

function tried(
  columns: readonly Column[],
  scale: number,
  width: number,
  gutter: Gutter,
  isOneRow: boolean,
): Arrangement | undefined {
  const placed: PlacedColumn[] = [];
  let [x, y, rowHeight] = [0, 0, 0];
  for (const { heading, panels } of columns) {
    const across = Math.max(...panels.map(({ view }) => view.extent.length * scale)) + 2 * gutter.beside;
    if (across > width) return undefined;
    if (x > 0 && x + across > width) {
      if (isOneRow) return undefined;
      [x, y, rowHeight] = [0, y + rowHeight + BETWEEN, 0];
    }
    let top = y + (heading === undefined ? 0 : HEADING);
    const own = panels.map((panel): Placed => {
      const { length, width: deep } = panel.view.extent;
      const roomTop = top + CAPTION;
      const bottom = roomTop + deep * scale + 2 * gutter.above;
      const left = x + (across - length * scale) / 2;
      top = bottom;
      return {
        ...panel,
        at: [left, roomTop + gutter.above],
        room: { left: x, top: roomTop, right: x + across, bottom },
      };
    });
    placed.push({ heading, left: x, top: y, width: across, panels: own });
    rowHeight = Math.max(rowHeight, top - y);
    x += across + BETWEEN;
  }
  return { scale, columns: placed, height: y + rowHeight };
}
