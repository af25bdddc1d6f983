import type { Outline, Ring } from '../model/board.ts';
import { areaOf, distanceOff, type Point } from '../model/outline.ts';
import { fixed } from '../text/rounding.ts';
import { type Findings, tidy } from './board-design.ts';

// Closed outlines from loose lines and arcs, as drawings of board edges have them.

/** A straight line, or an arc through a third point, between two ends. */
export interface Segment {
  readonly from: Point;
  readonly to: Point;
  readonly through?: Point;
  readonly line: number;
}

/** A closed line: a circle, or corners. */
export type Loop = { readonly centre: Point; readonly diameter: number } | { readonly points: Ring };

/**
 * Ends this near meet, mm: design tools write coordinates to a micrometre, and their grids leave ends some micrometres apart
 * where arcs join (common practice, no source).
 */
export const JOINING = 0.02;

/**
 * Loops from segments in any order and direction, chained by their ends. What does not close is told, with the two
 * ends that lie apart; it gives no loop. Time grows with the segments, not with their square.
 */
export function closedLoops(segments: readonly Segment[], findings: Findings): readonly Loop[] {
  const ends = new EndIndex(distinct(segments));
  const loops: Loop[] = [];
  for (let first = ends.take(); first; first = ends.take()) {
    const chain: Segment[] = [first];
    let { to } = first;
    while (!near(to, first.from)) {
      const next = ends.takeAt(to);
      if (!next) break;
      chain.push(next);
      to = next.to;
    }
    if (near(to, first.from)) {
      const loop = { points: chain.map((one) => cornerOf(one)) };
      if (areaWithin(loop) > JOINING * JOINING) loops.push(loop);
      continue;
    }
    // Backwards from the first end, so that one gap is told once.
    let { from } = first;
    for (let next = ends.takeAt(from); next; next = ends.takeAt(from)) from = next.to;
    findings.caution(
      first.line,
      `the board outline is open: ${place(to)} does not meet ${place(from)}, ${fixed(distance(from, to), 3)} mm apart`,
      'close it in the design and export again; this piece of it is left out',
    );
  }
  return loops;
}

/** The loop that encloses most, and those inside it as its holes; loops beside it are told and left out. */
export function outlineOf(loops: readonly Loop[], findings: Findings): Outline | undefined {
  const [largest, ...rest] = loops.toSorted((a, b) => areaWithin(b) - areaWithin(a));
  if (!largest) return undefined;
  const points = ringOf(largest);
  const holes = rest.filter((one) => distanceOff({ points }, someCornerOf(one)) === 0);
  const beside = rest.length - holes.length;
  if (beside > 0) {
    findings.caution(
      undefined,
      `${beside} closed ${beside === 1 ? 'outline lies' : 'outlines lie'} beside the largest and ${beside === 1 ? 'is' : 'are'} left out`,
      'give each board of a panel a file of its own',
    );
  }
  return { points, ...(holes.length > 0 ? { holes: holes.map(writtenHole) } : {}) };
}

/** A circle as two arcs, any other loop as it is. */
export function ringOf(loop: Loop): Ring {
  if ('points' in loop) return loop.points;
  const { centre, diameter } = loop;
  const [x, y, radius] = [...centre, diameter / 2];
  return [
    { to: point(x + radius, y), through: point(x, y - radius) },
    { to: point(x - radius, y), through: point(x, y + radius) },
  ];
}

/** Middle of an arc from its ends and centre. @param clockwise seen with y up */
export function arcMiddle(centre: Point, from: Point, to: Point, clockwise: boolean): Point {
  const radius = distance(centre, from);
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  let sweep = Math.atan2(to[1] - centre[1], to[0] - centre[0]) - start;
  if (clockwise && sweep >= -1e-12) sweep -= 2 * Math.PI;
  if (!clockwise && sweep <= 1e-12) sweep += 2 * Math.PI;
  const middle = start + sweep / 2;
  return point(centre[0] + radius * Math.cos(middle), centre[1] + radius * Math.sin(middle));
}

/** The outline with every point brought elsewhere; circles keep their size. */
export function mapOutline(outline: Outline, to: (at: Point) => Point): Outline {
  if ('length' in outline) return outline;
  const ring = (points: Ring): Ring =>
    points.map((step) =>
      Array.isArray(step)
        ? mutable(to(step))
        : { to: mutable(to(step.to)), through: mutable(to(step.through)) },
    );
  const holes = outline.holes?.map((hole) =>
    'points' in hole ? { points: ring(hole.points) } : { ...hole, centre: mutable(to(hole.centre)) },
  );
  return { points: ring(outline.points), ...(holes ? { holes } : {}) };
}

/** A point without rounding error. */
export function point(x: number, y: number): [number, number] {
  return [tidy(x), tidy(y)];
}

export function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

function mutable([x, y]: Point): [number, number] {
  return [x, y];
}

function near(a: Point, b: Point): boolean {
  return distance(a, b) <= JOINING;
}

/** Segments that have a length, each once however often and in whichever direction it was drawn. */
function distinct(segments: readonly Segment[]): readonly Segment[] {
  const seen = new Set<string>();
  return segments.filter(({ from, to, through }) => {
    if (!through && near(from, to)) return false;
    const [a, b] = [String(point(...from)), String(point(...to))].toSorted();
    const key = `${a} ${b} ${through ? point(...through) : ''}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function cornerOf({ to, through }: Segment): Ring[number] {
  return through ? { to: point(...to), through: point(...through) } : point(...to);
}

function areaWithin(loop: Loop): number {
  return 'points' in loop ? areaOf({ points: loop.points }) : (Math.PI / 4) * loop.diameter ** 2;
}

function someCornerOf(loop: Loop): Point {
  if (!('points' in loop)) return [loop.centre[0] + loop.diameter / 2, loop.centre[1]];
  const [first] = loop.points as [Ring[number]];
  return Array.isArray(first) ? first : first.to;
}

function writtenHole(loop: Loop): NonNullable<Extract<Outline, { points: unknown }>['holes']>[number] {
  return 'points' in loop
    ? { points: [...loop.points] }
    : { centre: point(...loop.centre), diameter: tidy(loop.diameter) };
}

function place([x, y]: Point): string {
  return `(${tidy(x)}, ${tidy(y)})`;
}

/** Ends looked at in one place; an outline has two, and a drawing of thousands must not cost their square. */
const MAX_ENDS = 64;

/** Segments found by their ends, in cells of a grid, each taken once; a segment taken at its far end comes turned round. */
class EndIndex {
  readonly #segments: readonly Segment[];
  readonly #cells = new Map<string, Set<number>>();
  readonly #taken: boolean[];
  #next = 0;

  constructor(segments: readonly Segment[]) {
    this.#segments = segments;
    this.#taken = segments.map(() => false);
    segments.forEach(({ from, to }, i) => {
      this.#cell(from).add(i);
      this.#cell(to).add(i);
    });
  }

  take(): Segment | undefined {
    while (this.#taken[this.#next]) this.#next++;
    return this.#next < this.#segments.length ? this.#take(this.#next) : undefined;
  }

  takeAt(end: Point): Segment | undefined {
    let found: { readonly i: number; readonly turned: boolean; readonly gap: number } | undefined;
    let looked = 0;
    for (const i of this.#around(end)) {
      if (found && ++looked > MAX_ENDS) break;
      const { from, to } = this.#segments[i];
      for (const [at, turned] of [
        [from, false],
        [to, true],
      ] as const) {
        const gap = distance(at, end);
        if (gap <= JOINING && (!found || gap < found.gap)) found = { i, turned, gap };
      }
    }
    if (!found) return undefined;
    const segment = this.#take(found.i);
    return found.turned ? { ...segment, from: segment.to, to: segment.from } : segment;
  }

  #take(i: number): Segment {
    this.#taken[i] = true;
    const segment = this.#segments[i];
    this.#cell(segment.from).delete(i);
    this.#cell(segment.to).delete(i);
    return segment;
  }

  *#around([x, y]: Point): Generator<number> {
    const [column, row] = [Math.round(x / JOINING), Math.round(y / JOINING)];
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++) yield* this.#cells.get(`${column + dx},${row + dy}`) ?? [];
  }

  #cell([x, y]: Point): Set<number> {
    const key = `${Math.round(x / JOINING)},${Math.round(y / JOINING)}`;
    let cell = this.#cells.get(key);
    if (!cell) {
      cell = new Set();
      this.#cells.set(key, cell);
    }
    return cell;
  }
}
