import type { Component } from './dossier.ts';
import { distanceToSegment, type Point } from './outline.ts';

// Bodies as rectangles in the plane of a board, seen from the top side.

/** As much of a component as its place needs. */
export type PlacedBody = Pick<Component, 'at' | 'side' | 'rotation' | 'body'>;

/**
 * Corners of a component's body, turned as it is placed; mm, seen from the top side. `rotation` counts counter-clockwise as seen
 * from the component's own side, so that on the bottom it turns the other way.
 * @returns undefined without a place; the centre alone without a body
 */
export function cornersOfBody({ at, side, rotation = 0, body }: PlacedBody): readonly Point[] | undefined {
  if (!at) return undefined;
  if (!body) return [[at.x, at.y]];
  const angle = ((side === 'bottom' ? -rotation : rotation) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const [half, other] = [body.length / 2, body.width / 2];
  return [
    [-half, -other],
    [half, -other],
    [half, other],
    [-half, other],
  ].map(([x, y]): Point => [at.x + x * cos - y * sin, at.y + x * sin + y * cos]);
}

/**
 * Distance from edge to edge of two placed bodies in the plane, mm; 0 where they overlap. As {@link gapBetween} of their corners,
 * and quicker where both are turned by right angles, as nearly all are.
 * @returns undefined where one has no place
 */
export function gapOfBodies(a: PlacedBody, b: PlacedBody): number | undefined {
  const [boxA, boxB] = [uprightBox(a), uprightBox(b)];
  if (boxA && boxB) {
    const across = Math.abs(boxA.x - boxB.x) - boxA.halfWidth - boxB.halfWidth;
    const along = Math.abs(boxA.y - boxB.y) - boxA.halfHeight - boxB.halfHeight;
    return Math.hypot(Math.max(0, across), Math.max(0, along));
  }
  const [cornersA, cornersB] = [cornersOfBody(a), cornersOfBody(b)];
  return cornersA && cornersB && gapBetween(cornersA, cornersB);
}

/** Centre and half extents in x and y of a body turned by right angles; undefined for others. */
function uprightBox({ at, rotation = 0, body }: PlacedBody) {
  if (!at || (body && rotation % 90 !== 0)) return undefined;
  const { length, width } = body ?? { length: 0, width: 0 };
  const isTurned = rotation % 180 !== 0;
  return {
    x: at.x,
    y: at.y,
    halfWidth: (isTurned ? width : length) / 2,
    halfHeight: (isTurned ? length : width) / 2,
  };
}

/** Distance from edge to edge of two convex bodies in the plane, mm; 0 where they overlap. */
export function gapBetween(a: readonly Point[], b: readonly Point[]): number {
  if (overlap(a, b)) return 0;
  let least = Infinity;
  for (const [one, other] of [
    [a, b],
    [b, a],
  ]) {
    for (const corner of one)
      other.forEach((from, i) => {
        least = Math.min(least, distanceToSegment(corner, from, other[(i + 1) % other.length]));
      });
  }
  return least;
}

/** Separating axis theorem: two convex bodies are apart when some edge of one has all of the other beyond it. */
function overlap(a: readonly Point[], b: readonly Point[]): boolean {
  if (a.length < 3 && b.length < 3) return false;
  return ![a, b].some((ring) =>
    ring.length < 3
      ? false
      : ring.some(([x1, y1], i) => {
          const [x2, y2] = ring[(i + 1) % ring.length];
          const [nx, ny] = [y2 - y1, x1 - x2];
          const [minA, maxA] = spanAlong(a, nx, ny);
          const [minB, maxB] = spanAlong(b, nx, ny);
          return maxA < minB || maxB < minA;
        }),
  );
}

function spanAlong(ring: readonly Point[], nx: number, ny: number): readonly [number, number] {
  const along = ring.map(([x, y]) => x * nx + y * ny);
  return [Math.min(...along), Math.max(...along)];
}
