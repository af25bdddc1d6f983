import { createHash } from 'node:crypto';
import { Matrix, solve } from 'ml-matrix';
import type { Place, Plane } from '../measurement/plane.ts';
import type { SIDES } from '../model/board.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { inThread } from '../threads/in-thread.ts';
import { upright } from './decoder.ts';
import type { Size } from './sizes.ts';
import type { Homography, Pixels, WarpTask } from './warp.ts';

// A photo as if the camera had looked straight down on the board.

/** A rectangle of a board as one looks at its side: a board is turned over by its `hinge`. */
export interface BoardWindow {
  readonly side: (typeof SIDES)[number];
  /** Axis about which the board was turned to show its other side. */
  readonly hinge: 'x' | 'y';
  /** mm of the board, seen from its top side. */
  readonly extent: {
    readonly left: number;
    readonly bottom: number;
    readonly length: number;
    readonly width: number;
  };
}

/** A photo to be laid on a board. */
export interface OnBoard {
  readonly file: PhotoFile;
  readonly plane: Plane;
  readonly window: BoardWindow;
}

/** Longer side of what is made, pixels: 300 dots an inch over the width of a page. */
const LONGEST = 2_400;
/** Pixels of the photo that are held while it is laid on the board; a larger photo is made smaller first, which is no loss at the size above. */
const MOST_HELD = 12_000_000;
const QUALITY = 88;

/** Place on the board that is seen at a place of the window: mm from its left and from its top. */
export function boardPlace(
  { side, hinge, extent: { left, bottom, length, width } }: BoardWindow,
  [x, y]: Place,
): Place {
  const isTurned = side === 'bottom';
  return [
    isTurned && hinge === 'y' ? left + length - x : left + x,
    isTurned && hinge === 'x' ? bottom + y : bottom + width - y,
  ];
}

/** Pixels of what is made: no more than the photo has to show. */
export function sizeOnBoard({ plane, window }: OnBoard): Size {
  const { length, width } = window.extent;
  const middle = plane.toPhoto(boardPlace(window, [length / 2, width / 2]));
  const scale = Math.min(plane.scaleAt(middle)[1], LONGEST / Math.max(length, width));
  return { width: Math.max(2, Math.round(length * scale)), height: Math.max(2, Math.round(width * scale)) };
}

/** What the picture follows from beside the photo, as a short text: the same for the same plane and window. */
export function nameOnBoard(on: OnBoard): string {
  const { extent } = on.window;
  const corners = cornersOf(extent).map((place) => on.plane.toPhoto(boardPlace(on.window, place)));
  const told = JSON.stringify([
    corners.flat().map((one) => one.toFixed(3)),
    extent.length,
    extent.width,
    LONGEST,
  ]);
  return createHash('sha256').update(told).digest('hex').slice(0, 24);
}

/**
 * The photo as the board would be seen from straight above, as JPEG; where the photo does not show the board it is white.
 * @param served the file as it is handed on
 */
export async function photoOnBoard(served: Uint8Array, on: OnBoard): Promise<Uint8Array> {
  const size = sizeOnBoard(on);
  const { file, plane, window } = on;
  const { length } = window.extent;
  const middle = plane.toPhoto(boardPlace(window, [length / 2, window.extent.width / 2]));
  const wanted = (1.25 * (size.width / length)) / plane.scaleAt(middle)[1];
  const shrunk = Math.min(1, wanted, Math.sqrt(MOST_HELD / (file.width * file.height)));
  const held = {
    width: Math.max(2, Math.round(file.width * shrunk)),
    height: Math.max(2, Math.round(file.height * shrunk)),
  };
  const { data, info } = await upright(served)
    .flatten({ background: '#fff' })
    .toColourspace('srgb')
    .resize(held.width, held.height, { fit: 'fill' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const homography = homographyOf(on, size, held);
  const pixels: Pixels = { data, width: info.width, height: info.height, channels: info.channels };
  const task: WarpTask = { pixels, homography, size };
  const made = await inThread<Pixels>(new URL('./warp-thread.ts', import.meta.url), task);
  // Loaded with the decoder, which has closed all loaders that are not wanted.
  const { default: sharp } = await import('sharp');
  return sharp(made.data, { raw: { ...size, channels: made.channels as 1 | 3 } })
    .jpeg({ quality: QUALITY })
    .toBuffer();
}

const cornersOf = ({ length, width }: BoardWindow['extent']): readonly Place[] => [
  [0, 0],
  [length, 0],
  [length, width],
  [0, width],
];

/** From pixels of what is made to pixels of the photo as it is held: a plane seen by a camera is one homography, which four points settle. */
function homographyOf({ file, plane, window }: OnBoard, size: Size, held: Size): Homography {
  const { extent } = window;
  const rows: number[][] = [];
  const right: number[] = [];
  for (const place of cornersOf(extent)) {
    const [x, y] = [(place[0] / extent.length) * size.width, (place[1] / extent.width) * size.height];
    const [px, py] = plane.toPhoto(boardPlace(window, place));
    const [u, v] = [(px * held.width) / file.width, (py * held.height) / file.height];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    right.push(u, v);
  }
  return solve(new Matrix(rows), Matrix.columnVector(right)).to1DArray();
}
