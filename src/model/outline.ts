import type { Outline, Ring } from './board.ts';

/** A point of the plane of a board, mm: x to the right, y up, seen from the top side. */
export type Point = readonly [x: number, y: number];

/** How far the chords that stand for an arc may lie from it, mm. */
const CHORD_ERROR = 0.005;

/** Corners of a ring, arcs as chords that lie within 0.005 mm of them. */
export function cornersOfRing(ring: Ring): readonly Point[] {
  const last = ring.at(-1);
  let before: Point = last === undefined ? [0, 0] : Array.isArray(last) ? last : last.to;
  const corners: Point[] = [];
  for (const step of ring) {
    if (Array.isArray(step)) {
      corners.push(step);
      before = step;
    } else {
      corners.push(...arcTo(before, step.through, step.to));
      before = step.to;
    }
  }
  return corners;
}

const flattened = new WeakMap<Outline, readonly Point[]>();

/** Corners of the outline of a board, arcs as chords; a rectangle has its own at the origin. */
export function cornersOf(outline: Outline): readonly Point[] {
  if ('points' in outline) {
    const corners = flattened.get(outline) ?? cornersOfRing(outline.points);
    flattened.set(outline, corners);
    return corners;
  }
  const { length, width } = outline;
  return [
    [0, 0],
    [length, 0],
    [length, width],
    [0, width],
  ];
}

/** Corners of each cut-out; round ones as regular polygons of equal area. */
export function holesOf(outline: Outline): readonly (readonly Point[])[] {
  if (!('points' in outline)) return [];
  return (outline.holes ?? []).map((hole) => {
    if ('points' in hole) return cornersOfRing(hole.points);
    const sides = 48;
    const turn = (2 * Math.PI) / sides;
    const radius = (hole.diameter / 2) * Math.sqrt(turn / Math.sin(turn));
    return Array.from(
      { length: sides },
      (_, i): Point => [
        hole.centre[0] + radius * Math.cos(i * turn),
        hole.centre[1] + radius * Math.sin(i * turn),
      ],
    );
  });
}

/** Area inside the outline without its cut-outs, mm²: each closed line by its corners, after Gauss (the shoelace formula). */
export function areaOf(outline: Outline): number {
  const cut = holesOf(outline).reduce((sum, hole) => sum + areaInside(hole), 0);
  return areaInside(cornersOf(outline)) - cut;
}

/** The box around an outline, mm. */
export interface Extent {
  readonly left: number;
  readonly bottom: number;
  /** Along x. */
  readonly length: number;
  /** Along y. */
  readonly width: number;
}

/** The box around the outline of a board. */
export function extentOf(outline: Outline): Extent {
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of cornersOf(outline)) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    bottom = Math.min(bottom, y);
    top = Math.max(top, y);
  }
  return { left, bottom, length: right - left, width: top - bottom };
}

/** How far a point lies off the board, mm: beyond the outline, or inside a cut-out; 0 on the board. */
export function distanceOff(outline: Outline, point: Point): number {
  const corners = cornersOf(outline);
  if (!isInsideCorners(corners, ...point)) return distanceToEdges(corners, ...point);
  const cut = holesOf(outline).find((hole) => isInsideCorners(hole, ...point));
  return cut ? distanceToEdges(cut, ...point) : 0;
}

/** Distance of a point from the nearest edge of the board, cut-outs included, mm; 0 outside it. */
export function depthInside(outline: Outline, [x, y]: Point): number {
  const corners = cornersOf(outline);
  if (!isInsideCorners(corners, x, y)) return 0;
  return Math.min(...[corners, ...holesOf(outline)].map((ring) => distanceToEdges(ring, x, y)));
}

function areaInside(corners: readonly Point[]): number {
  const twice = corners.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length];
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

/** Even-odd rule: a ray to the right crosses the outline an odd number of times. */
function isInsideCorners(corners: readonly Point[], x: number, y: number): boolean {
  let inside = false;
  corners.forEach(([x1, y1], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length];
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside;
  });
  return inside;
}

function distanceToEdges(corners: readonly Point[], x: number, y: number): number {
  return Math.min(
    ...corners.map((corner, i) => distanceToSegment([x, y], corner, corners[(i + 1) % corners.length])),
  );
}

/** Distance of a point from a straight piece. */
export function distanceToSegment([x, y]: Point, [x1, y1]: Point, [x2, y2]: Point): number {
  const square = (x2 - x1) ** 2 + (y2 - y1) ** 2;
  const along =
    square === 0 ? 0 : Math.min(1, Math.max(0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / square));
  return Math.hypot(x - x1 - along * (x2 - x1), y - y1 - along * (y2 - y1));
}

/** Chords from one point through another to a third; a single one where the three lie on a straight line. */
function arcTo(from: Point, through: Point, to: Point): readonly Point[] {
  const centre = centreOf(from, through, to);
  if (!centre) return [to];
  const [cx, cy] = centre;
  const radius = Math.hypot(from[0] - cx, from[1] - cy);
  const angle = ([x, y]: Point) => Math.atan2(y - cy, x - cx);
  const full = 2 * Math.PI;
  const turn = (a: number) => ((a % full) + full) % full;
  const start = angle(from);
  const counter = turn(angle(through) - start) <= turn(angle(to) - start);
  const sweep = counter ? turn(angle(to) - start) : turn(angle(to) - start) - full;
  const step = 2 * Math.acos(Math.max(0.5, 1 - CHORD_ERROR / radius));
  const chords = Math.max(1, Math.ceil(Math.abs(sweep) / step));
  return Array.from({ length: chords }, (_, i): Point => {
    if (i === chords - 1) return to;
    const at = start + (sweep * (i + 1)) / chords;
    return [cx + radius * Math.cos(at), cy + radius * Math.sin(at)];
  });
}

/** Centre of the circle through three points; undefined where they lie on a straight line. */
function centreOf([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): Point | undefined {
  const d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by));
  if (Math.abs(d) < 1e-9) return undefined;
  const [a, b, c] = [ax ** 2 + ay ** 2, bx ** 2 + by ** 2, cx ** 2 + cy ** 2];
  return [
    (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d,
    (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d,
  ];
}
