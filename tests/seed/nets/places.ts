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
const FARTHEST = 20;
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
    const [reachX, reachY] = near.rotation === 90 ? [body?.width, body?.length] : [body?.length, body?.width];
    const candidates: { readonly gap: number; readonly tie: number; readonly place: Place }[] = [];
    for (const rotation of [0, 90] as const) {
      const half = turned(at, length, width, rotation === 90);
      const [toX, toY] = [(reachX ?? 1) / 2 + half.halfX, (reachY ?? 1) / 2 + half.halfY];
      const most = Math.ceil((Math.max(toX, toY) + FARTHEST) / STEP);
      for (let i = -most; i <= most; i++) {
        for (let j = -most; j <= most; j++) {
          const [dx, dy] = [i * STEP, j * STEP];
          const gap = Math.hypot(Math.max(0, Math.abs(dx) - toX), Math.max(0, Math.abs(dy) - toY));
          if (gap > FARTHEST) continue;
          const place = { x: tenths(at.x + dx), y: tenths(at.y + dy), rotation };
          // Corners are left free; parts stand square to the chip.
          const tie = Math.min(Math.abs(dx), Math.abs(dy)) * 0.05;
          candidates.push({ gap: gap + tie, tie: 0, place });
        }
      }
    }
    const turn = chance(name) % 4;
    const quarter = ({ x, y }: Place) =>
      (Math.floor((Math.atan2(y - at.y, x - at.x) / Math.PI + 1) * 2) + turn) % 4;
    candidates.sort((a, b) => a.gap - b.gap || quarter(a.place) - quarter(b.place) || a.place.x - b.place.x);
    const outline = this.#outlines.get(board);
    for (const { place } of candidates) {
      const body = turned(place, length, width, place.rotation === 90);
      if (!inside(outline, body) || standing.some((other) => tooNear(body, other))) continue;
      standing.push(body);
      return place;
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

function tenths(value: number): number {
  return Number(value.toFixed(2));
}
