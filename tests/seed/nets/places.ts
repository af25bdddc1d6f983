import type { Outline } from '../../../src/model/board.ts';
import type { Component } from '../../../src/model/dossier.ts';
import { chance } from './pins.ts';

// Free places on a board for passives and test pads, as near as possible to the chip that they serve.

/** A body that stands on a side of a board; mm. */
interface Standing {
  readonly x: number;
  readonly y: number;
  /** Half its extent along x and y. */
  readonly halfX: number;
  readonly halfY: number;
}

/** Where a part is put. */
export interface Place {
  readonly x: number;
  readonly y: number;
  readonly rotation: 0 | 90;
}

/** Space that is left between bodies, and to the edge; mm. */
const CLEARANCE = 0.15;
const STEP = 0.1;
/** How far from the chip is looked, nearest first; mm. */
const RINGS = [1.5, 5, 20];
/** Extents of parts of which no body was measured: common sizes. */
const UNMEASURED: Readonly<Record<string, readonly [number, number]>> = {
  ProgrammingContact: [5.1, 2],
  Resistor: [1, 0.5],
  Capacitor: [1, 0.5],
};

/** The bodies on each side of each board, to which parts are added one by one. */
export class Floor {
  readonly #standing = new Map<string, Standing[]>();
  readonly #outlines: ReadonlyMap<string, Outline | undefined>;

  constructor(outlines: ReadonlyMap<string, Outline | undefined>, components: readonly Component[]) {
    this.#outlines = outlines;
    for (const { board, side, at, body, rotation, appears = '', inside } of components) {
      if (!board || !side || !at || inside || appears === 'Shield') continue;
      const [length, width] = body ? [body.length, body.width] : (UNMEASURED[appears] ?? [1, 1]);
      const standing = turned(at, length, width, rotation === 90 || rotation === 270);
      for (const face of appears === 'MountingHole' ? ['top', 'bottom'] : [side])
        this.#on(board, face).push(standing);
    }
  }

  #on(board: string, side: string): Standing[] {
    const key = `${board} ${side}`;
    const standing = this.#standing.get(key) ?? [];
    this.#standing.set(key, standing);
    return standing;
  }

  /**
   * Takes the free place nearest to a component, from edge to edge.
   * @param name what the part is called, for the draw among places equally near
   * @throws Error when the board is full around it
   */
  take(name: string, near: Component, side: string, length: number, width: number): Place {
    const { board, at, body } = near;
    if (!board || !at) throw new Error(`${name}: ${near.id} has no place to be near to`);
    const standing = this.#on(board, side);
    const turn = chance(name) % 4;
    const quarter = ({ x, y }: Place) =>
      (Math.floor((Math.atan2(y - at.y, x - at.x) / Math.PI + 1) * 2) + turn) % 4;
    const own = near.rotation === 90 || near.rotation === 270;
    const reach = turned(at, body?.length ?? 1, body?.width ?? 1, own);
    const outline = this.#outlines.get(board);
    for (const farthest of RINGS) {
      let best: { readonly gap: number; readonly place: Place } | undefined;
      for (const rotation of [0, 90] as const) {
        const half = turned(at, length, width, rotation === 90);
        const [toX, toY] = [reach.halfX + half.halfX, reach.halfY + half.halfY];
        const [mostX, mostY] = [toX, toY].map((to) => Math.ceil((to + farthest) / STEP));
        for (let i = -mostX; i <= mostX; i++) {
          for (let j = -mostY; j <= mostY; j++) {
            const [dx, dy] = [i * STEP, j * STEP];
            const clear = Math.hypot(Math.max(0, Math.abs(dx) - toX), Math.max(0, Math.abs(dy) - toY));
            // Corners are left free; parts stand square to the chip.
            const gap = clear + Math.min(Math.abs(dx), Math.abs(dy)) * 0.05;
            if (clear > farthest || (best && gap > best.gap)) continue;
            const place = { x: hundredths(at.x + dx), y: hundredths(at.y + dy), rotation };
            if (best && gap === best.gap && quarter(best.place) <= quarter(place)) continue;
            const placed = turned(place, length, width, rotation === 90);
            if (standing.some((other) => tooNear(placed, other)) || !inside(outline, placed)) continue;
            best = { gap, place };
          }
        }
      }
      if (best) {
        standing.push(turned(best.place, length, width, best.place.rotation === 90));
        return best.place;
      }
    }
    throw new Error(`${name}: no free place near ${near.id}`);
  }
}

function turned(at: { x: number; y: number }, length: number, width: number, turn: boolean): Standing {
  return { x: at.x, y: at.y, halfX: (turn ? width : length) / 2, halfY: (turn ? length : width) / 2 };
}

function tooNear(a: Standing, b: Standing): boolean {
  return (
    Math.abs(a.x - b.x) < a.halfX + b.halfX + CLEARANCE && Math.abs(a.y - b.y) < a.halfY + b.halfY + CLEARANCE
  );
}

/** Whether a body lies on the board with all its corners; arcs count as the lines to and from the point they go through. */
function inside(outline: Outline | undefined, { x, y, halfX, halfY }: Standing): boolean {
  if (!outline) throw new Error('the board has no outline');
  const corners = [-1, 1].flatMap((i) =>
    [-1, 1].map((j): [number, number] => [x + i * (halfX + CLEARANCE), y + j * (halfY + CLEARANCE)]),
  );
  if (!('points' in outline))
    return corners.every(([cx, cy]) => cx >= 0 && cy >= 0 && cx <= outline.length && cy <= outline.width);
  const ring = (points: (typeof outline)['points']) =>
    points.flatMap((corner): [number, number][] =>
      Array.isArray(corner) ? [corner] : [corner.through, corner.to],
    );
  const holes = (outline.holes ?? []).map((hole) => ('points' in hole ? ring(hole.points) : roundHole(hole)));
  const away = (outline.breakaway ?? []).map(ring);
  return corners.every(
    (corner) =>
      holds(ring(outline.points), corner) && ![...holes, ...away].some((hole) => holds(hole, corner)),
  );
}

function roundHole({
  centre: [x, y],
  diameter,
}: {
  centre: [number, number];
  diameter: number;
}): [number, number][] {
  return Array.from({ length: 16 }, (_, i): [number, number] => {
    const angle = (i * Math.PI) / 8;
    return [x + (diameter / 2 + 0.3) * Math.cos(angle), y + (diameter / 2 + 0.3) * Math.sin(angle)];
  });
}

/** Whether a point lies inside a closed line: an odd number of edges to its right. */
function holds(ring: readonly [number, number][], [x, y]: [number, number]): boolean {
  return ring.reduce((within, [bx, by], i) => {
    const [ax, ay] = ring[(i + ring.length - 1) % ring.length];
    return ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax ? !within : within;
  }, false);
}

function hundredths(value: number): number {
  return Number(value.toFixed(2));
}
