import { CasebackError } from '../model/problems.ts';
import { type Measured, type Measuring, measuredAt } from './measuring.ts';
import type { Place } from './plane.ts';
import type { Projection } from './projection.ts';

// Bodies of components as rectangles on the board, from what is drawn of them on the photo: their corners or outline, or the upright box
// around them. All places of the photo are in pixels, all of the board in mm as seen from the top side.

const DEGREES = Math.PI / 180;
const STEPS = 30;
/** mm within which the box around a body settles. */
const SETTLED = 1e-9;

/** What is drawn of a body on the photo. */
export type DrawnBody =
  | {
      /** In order around it, three or more. */
      readonly corners: readonly Place[];
    }
  | {
      /** Upright on the photo. */
      readonly box: {
        readonly left: number;
        readonly top: number;
        readonly right: number;
        readonly bottom: number;
      };
      /** Of the body, degrees counter-clockwise as seen from the top side: a box around it does not tell. */
      readonly rotation: number;
    };

/** A body on its board, mm and degrees. */
export interface MeasuredBody {
  readonly x: Measured;
  readonly y: Measured;
  /** Covariance of x and y, mm². */
  readonly covariance: number;
  /** Along its own x; the longer side, where nothing says which that is. */
  readonly length: Measured;
  readonly width: Measured;
  /** Counter-clockwise, seen from the top side, from 0 to below 360; undefined where it was given and not measured. */
  readonly rotation: Measured | undefined;
}

type Rectangle = readonly [x: number, y: number, length: number, width: number, rotation: number];

/**
 * @param near rotation from which length is told from width, degrees as seen from the top side; without it the longer side is the length
 * @throws CasebackError BAD_INPUT for what is no outline of a rectangle
 */
export function bodyOf(measuring: Measuring, drawn: DrawnBody, near?: number): MeasuredBody {
  if ('corners' in drawn) {
    const rectangle = drawn.corners.length === 4 ? ofFour : aroundMany(measuring.projection, drawn.corners);
    const first = rectangle(drawn.corners.map((place) => measuring.projection.toBoard(place)));
    const turn = turnOf(first, near);
    const found = measuring.of(drawn.corners, (projection, picks) =>
      turned(rectangle(picks.map((place) => projection.toBoard(place))), turn, first[4]),
    );
    const rotation = measuredAt(found, 4);
    return { ...ofValues(found), rotation: within360(rotation) };
  }
  const { left, top, right, bottom } = drawn.box;
  // Two of its corners carry its four edges.
  const found = measuring.of(
    [
      [left, top],
      [right, bottom],
    ],
    (projection, [[l, t], [r, b]]) => inBox(projection, [l, t, r, b], drawn.rotation * DEGREES),
  );
  return { ...ofValues(found), rotation: undefined };
}

function ofValues(found: Parameters<typeof measuredAt>[0]) {
  const [x, y, length, width] = [0, 1, 2, 3].map((i) => measuredAt(found, i));
  return { x, y, covariance: found.covariance[0][1], length, width };
}

/** The rectangle that is nearest to four corners, by least squares. */
function ofFour(corners: readonly Place[]): Rectangle {
  const [p, q, r, s] = corners;
  const hand = Math.sign(signedArea(corners));
  const along: Place = [(q[0] - p[0] + r[0] - s[0]) / 2, (q[1] - p[1] + r[1] - s[1]) / 2];
  const across: Place = [(s[0] - p[0] + r[0] - q[0]) / 2, (s[1] - p[1] + r[1] - q[1]) / 2];
  // Both sides say how it is turned, the longer one better.
  const angle = Math.atan2(along[1] - hand * across[0], along[0] + hand * across[1]);
  const [c, d] = [Math.cos(angle), Math.sin(angle)];
  const found: Rectangle = [
    (p[0] + q[0] + r[0] + s[0]) / 4,
    (p[1] + q[1] + r[1] + s[1]) / 4,
    along[0] * c + along[1] * d,
    hand * (across[1] * c - across[0] * d),
    angle / DEGREES,
  ];
  if (isThin(found)) throw noRectangle('the corners lie on a line, or are not in order around it');
  return found;
}

/** The smallest rectangle around an outline: one of its sides lies on one of the hull (Freeman and Shapira 1975), here always the same. */
function aroundMany(
  projection: Projection,
  outline: readonly Place[],
): (corners: readonly Place[]) => Rectangle {
  const board = outline.map((place) => projection.toBoard(place));
  const hull = hullOf(board);
  let least = Infinity;
  let side: readonly [number, number] | undefined;
  hull.forEach((i, at) => {
    const j = hull[(at + 1) % hull.length];
    const [, , length, width] = around(board, i, j);
    if (length * width < least) {
      least = length * width;
      side = [i, j];
    }
  });
  if (!side || isThin(around(board, ...side))) throw noRectangle('the corners lie on a line');
  const [i, j] = side;
  return (corners) => around(corners, i, j);
}

/** Whether a rectangle is no more than rounding makes of a line. */
const isThin = ([, , length, width]: Rectangle) =>
  !(Math.min(length, width) > 1e-9 * Math.max(length, width));

/** Which corners of an outline are those of its convex hull, in order around it (Andrew 1979, monotone chains). */
function hullOf(board: readonly Place[]): readonly number[] {
  const sorted = board
    .map((_, i) => i)
    .sort((i, j) => board[i][0] - board[j][0] || board[i][1] - board[j][1]);
  const chain = (order: readonly number[]) => {
    const kept: number[] = [];
    for (const next of order) {
      while (
        kept.length > 1 &&
        turn(board[kept.at(-2) as number], board[kept.at(-1) as number], board[next]) <= 0
      )
        kept.pop();
      kept.push(next);
    }
    return kept.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.toReversed())];
}

const turn = ([a, b]: Place, [c, d]: Place, [x, y]: Place) => (c - a) * (y - b) - (d - b) * (x - a);

function around(board: readonly Place[], i: number, j: number): Rectangle {
  const angle = Math.atan2(board[j][1] - board[i][1], board[j][0] - board[i][0]);
  const [c, d] = [Math.cos(angle), Math.sin(angle)];
  let [l, r, b, t] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const [x, y] of board) {
    const [along, across] = [x * c + y * d, y * c - x * d];
    l = Math.min(l, along);
    r = Math.max(r, along);
    b = Math.min(b, across);
    t = Math.max(t, across);
  }
  const [u, v] = [(l + r) / 2, (b + t) / 2];
  return [u * c - v * d, u * d + v * c, r - l, t - b, angle / DEGREES];
}

/** The rectangle of a known rotation that an upright box of the photo fits around, by Newton's steps. */
function inBox(projection: Projection, box: readonly number[], rotation: number): readonly number[] {
  const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
  const cornersOf = ([x, y, length, width]: readonly number[]): readonly Place[] =>
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ].map(([i, j]): Place => {
      const [u, v] = [(i * length) / 2, (j * width) / 2];
      return [x + u * c - v * s, y + u * s + v * c];
    });
  const middle = projection.toBoard([(box[0] + box[2]) / 2, (box[1] + box[3]) / 2]);
  const [a, b, e, f] = projection.localAt(middle);
  // How far the box goes right and down from its middle for half a mm of length and of width; exact where the projection is parallel.
  const [al, aw, bl, bw] = [a * c + b * s, b * c - a * s, e * c + f * s, f * c - e * s].map(Math.abs);
  const determinant = al * bw - aw * bl;
  const [w, h] = [box[2] - box[0], box[3] - box[1]];
  let own = [middle[0], middle[1], (w * bw - h * aw) / determinant, (h * al - w * bl) / determinant];
  for (let step = 0; step < STEPS; step++) {
    if (!(own[2] > 0 && own[3] > 0)) throw notTurnedSo();
    const boxed = around4(cornersOf(own).map((place) => projection.toPhoto(place)));
    const off = box.map((edge, i) => edge - boxed[i]);
    // Each edge of the box is that of one corner; its row says how the corner moves it.
    const place: Place = [own[0], own[1]];
    const [ga, gb, gc, gd] = projection.localAt(place);
    const [hl, hw, vl, vw] = [ga * c + gb * s, gb * c - ga * s, gc * c + gd * s, gd * c - gc * s].map(
      (one) => Math.abs(one) / 2,
    );
    const across = [(off[0] + off[2]) / 2, (off[1] + off[3]) / 2];
    const wider = [(off[2] - off[0]) / 2, (off[3] - off[1]) / 2];
    const moves = solved([ga, gb, gc, gd], across);
    const sizes = solved([hl, hw, vl, vw], wider);
    own = [own[0] + moves[0], own[1] + moves[1], own[2] + sizes[0], own[3] + sizes[1]];
    if (Math.max(...[...moves, ...sizes].map(Math.abs)) < SETTLED) return own;
  }
  throw notTurnedSo();
}

function solved([a, b, c, d]: readonly number[], [u, v]: readonly number[]): readonly [number, number] {
  const determinant = a * d - b * c;
  return [(u * d - b * v) / determinant, (a * v - u * c) / determinant];
}

function around4(corners: readonly Place[]): readonly number[] {
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Quarter turns that make the length the side that is meant. */
function turnOf([, , length, width, rotation]: Rectangle, near: number | undefined): number {
  if (near === undefined) return length >= width ? 0 : 1;
  return Math.round((near - rotation) / 90);
}

/** A rectangle said with another of its sides as length; its rotation as near to the first one's as it can be, so that differences of two are small. */
function turned([x, y, length, width, rotation]: Rectangle, turn: number, first: number): readonly number[] {
  const straight = first + ((((rotation - first + 180) % 360) + 360) % 360) - 180;
  return [x, y, ...(turn % 2 === 0 ? [length, width] : [width, length]), straight + 90 * turn];
}

/** Without being told apart, a body looks the same turned by half. */
function within360(rotation: Measured): Measured {
  const by = 360 * Math.floor(rotation.value / 360);
  return { ...rotation, value: rotation.value - by, low: rotation.low - by, high: rotation.high - by };
}

function signedArea(corners: readonly Place[]): number {
  return corners.reduce((sum, [x, y], i) => {
    const [u, v] = corners[(i + 1) % corners.length];
    return sum + x * v - u * y;
  }, 0);
}

const noRectangle = (why: string) =>
  new CasebackError('BAD_INPUT', `Not the outline of a body: ${why}; mark its corners in order around it`);
const notTurnedSo = () =>
  new CasebackError(
    'BAD_INPUT',
    'A rectangle that is turned as recorded does not fit into the box; mark its corners instead',
  );
