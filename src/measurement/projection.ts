import { CasebackError } from '../model/problems.ts';

/** A place: on a photo in pixels, x to the right and y down; on a board in mm, as seen from its top side. */
export type Place = readonly [x: number, y: number];

/** Coordinates about the middle of the points, in units of their spread, so that all numbers of a fit are of one size (Hartley 1997). */
export interface Frame {
  readonly middle: Place;
  readonly size: number;
}

/** How a board is mapped to a photo: a homography, h0 to h7, between frames of the two. */
export class Projection {
  readonly h: readonly number[];
  readonly photo: Frame;
  readonly board: Frame;

  constructor(h: readonly number[], photo: Frame, board: Frame) {
    this.h = h;
    this.photo = photo;
    this.board = board;
  }

  /** Where a place of the board is on the photo, pixels. */
  toPhoto(place: Place): Place {
    return outOf(this.photo, projected(this.h, into(this.board, place)));
  }

  /** Where a place of the photo is on the board, mm. @throws CasebackError BAD_INPUT for one beyond the horizon of the board */
  toBoard(place: Place): Place {
    return outOf(this.board, unprojected(this.h, into(this.photo, place)));
  }

  /** How a small step on the board, mm, shows on the photo, pixels, at a place of the board: du/dx, du/dy, dv/dx, dv/dy. */
  localAt(place: Place): readonly [number, number, number, number] {
    const ratio = this.photo.size / this.board.size;
    const [a, b, c, d] = byPlace(this.h, into(this.board, place));
    return [a * ratio, b * ratio, c * ratio, d * ratio];
  }

  /** By which share a mm in x and in y takes the board further from the camera, at a place of the board. */
  recedingAt(place: Place): Place {
    const [x, y] = into(this.board, place);
    const [, , , , , , h6, h7] = this.h;
    const w = (h6 * x + h7 * y + 1) * this.board.size;
    return [h6 / w, h7 / w];
  }
}

export const into = ({ middle, size }: Frame, [x, y]: Place): Place => [
  (x - middle[0]) / size,
  (y - middle[1]) / size,
];
export const outOf = ({ middle, size }: Frame, [x, y]: Place): Place => [
  x * size + middle[0],
  y * size + middle[1],
];

/** Where a place is mapped to, in own units of the frames. */
export function projected(h: readonly number[], [x, y]: Place): Place {
  const w = h[6] * x + h[7] * y + 1;
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}

/** The place that is mapped to one of the photo, in own units. @throws CasebackError BAD_INPUT beyond the horizon */
export function unprojected(h: readonly number[], [u, v]: Place): Place {
  const [a, b, c, d] = [h[0] - u * h[6], h[1] - u * h[7], h[3] - v * h[6], h[4] - v * h[7]];
  const determinant = a * d - b * c;
  const [x, y] = [
    (d * (u - h[2]) - b * (v - h[5])) / determinant,
    (a * (v - h[5]) - c * (u - h[2])) / determinant,
  ];
  if (!(h[6] * x + h[7] * y + 1 > 0))
    throw new CasebackError('BAD_INPUT', 'The place on the photo is beyond the horizon of the board');
  return [x, y];
}

/** Derivatives of the projection by the place, in own units: du/dx, du/dy, dv/dx, dv/dy. */
export function byPlace(h: readonly number[], place: Place): readonly [number, number, number, number] {
  const [u, v] = projected(h, place);
  const w = h[6] * place[0] + h[7] * place[1] + 1;
  return [(h[0] - u * h[6]) / w, (h[1] - u * h[7]) / w, (h[3] - v * h[6]) / w, (h[4] - v * h[7]) / w];
}
