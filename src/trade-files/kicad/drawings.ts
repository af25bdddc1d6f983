import type { Point } from '../../model/outline.ts';
import type { Findings } from '../board-design.ts';
import { type Loop, point, type Segment } from '../outline.ts';
import { childOf, type Form, firstValue } from './s-expression.ts';

/** What one drawing of a board file is: loose lines and arcs, or a closed loop. */
export interface Drawing {
  readonly segments: readonly Segment[];
  readonly loop?: Loop;
}

/** Straight pieces that a Bézier curve is drawn with. */
const CURVE_PIECES = 16;

/**
 * Lines, arcs, circles, rectangles, polygons and curves of a board or footprint (`gr_…`, `fp_…`), brought to other axes.
 * @returns undefined for what is none of these
 */
export function drawingOf(
  form: Form,
  toBoard: (x: number, y: number) => Point,
  findings: Findings,
): Drawing | undefined {
  const kind = /^(?:gr|fp)_(line|arc|circle|rect|poly|curve)$/u.exec(form.name)?.[1];
  if (!kind) return undefined;
  const place = (name: string): Point | undefined => {
    const [x, y] = pairOf(form, name);
    return x === undefined ? undefined : toBoard(x, y);
  };
  const bad = (): undefined => {
    findings.caution(
      form.line,
      `a drawing "${form.name}" lacks coordinates and is left out`,
      'look at it in the design',
    );
  };
  const [start, end] = [place('start'), place('end')];
  switch (kind) {
    case 'line':
      return start && end ? { segments: [{ from: start, to: end, line: form.line }] } : bad();
    case 'rect': {
      const [[x1, y1], [x2, y2]] = [pairOf(form, 'start'), pairOf(form, 'end')];
      if (x1 === undefined || x2 === undefined) return bad();
      const corners = [toBoard(x1, y1), toBoard(x2, y1), toBoard(x2, y2), toBoard(x1, y2)];
      return { segments: [], loop: { points: corners.map(([x, y]) => point(x, y)) } };
    }
    case 'circle': {
      const centre = place('center');
      if (!centre || !end) return bad();
      const diameter = 2 * Math.hypot(end[0] - centre[0], end[1] - centre[1]);
      return { segments: [], ...(diameter > 0 ? { loop: { centre: point(...centre), diameter } } : {}) };
    }
    case 'arc':
      return arcOf(form, start, place('mid'), end, toBoard) ?? bad();
    case 'curve': {
      const points = cornersOf(form, toBoard, form.line).map(({ to }) => to);
      if (points.length !== 4) return bad();
      return { segments: curvePieces(points as unknown as Bezier, form.line) };
    }
    default: {
      const corners = cornersOf(form, toBoard, form.line);
      if (corners.length < (corners.some(({ through }) => through) ? 2 : 3)) return bad();
      const points = corners.map(({ to, through }) =>
        through ? { to: point(...to), through: point(...through) } : point(...to),
      );
      return { segments: [], loop: { points } };
    }
  }
}

/** Numbers of a list such as `(at 1 2 90)`; undefined when there is none. Words among them are left out. */
export function numbersOf(form: Form | undefined): readonly number[] | undefined {
  return form?.values.map(Number).filter((one) => Number.isFinite(one));
}

/** Two numbers of a child; none when it lacks one. */
function pairOf(form: Form, name: string): readonly [number, number] | readonly [undefined, undefined] {
  const [x, y] = numbersOf(childOf(form, name)) ?? [];
  return x === undefined || y === undefined ? [undefined, undefined] : [x, y];
}

/** Versions from 6 give start, middle and end; version 5 gives the centre as start, the start as end, and an angle. */
function arcOf(
  form: Form,
  start: Point | undefined,
  mid: Point | undefined,
  end: Point | undefined,
  toBoard: (x: number, y: number) => Point,
): Drawing | undefined {
  if (start && mid && end) return { segments: [{ from: start, through: mid, to: end, line: form.line }] };
  const angle = Number(firstValue(form, 'angle'));
  const [[cx, cy], [sx, sy]] = [pairOf(form, 'start'), pairOf(form, 'end')];
  if (cx === undefined || sx === undefined || !Number.isFinite(angle) || angle === 0) return undefined;
  // Positive angles turn clockwise on the screen, where y points down: from x towards y.
  const turned = (degrees: number): Point => {
    const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    const [dx, dy] = [sx - cx, sy - cy];
    return toBoard(cx + dx * cos - dy * sin, cy + dx * sin + dy * cos);
  };
  return { segments: [{ from: turned(0), through: turned(angle / 2), to: turned(angle), line: form.line }] };
}

interface PolygonCorner {
  readonly to: Point;
  readonly through?: Point;
}

/** Corners of `(pts (xy x y) (arc (start) (mid) (end)) …)`. */
function cornersOf(
  form: Form,
  toBoard: (x: number, y: number) => Point,
  line: number,
): readonly PolygonCorner[] {
  const corners: PolygonCorner[] = [];
  for (const child of childOf(form, 'pts')?.children ?? []) {
    if (child.name === 'xy') {
      const [x, y] = numbersOf(child) ?? [];
      if (x !== undefined && y !== undefined) corners.push({ to: toBoard(x, y) });
    } else if (child.name === 'arc') {
      const { segments } = drawingOf({ ...child, name: 'gr_arc', line }, toBoard, NOBODY) ?? { segments: [] };
      for (const { from, to, through } of segments)
        corners.push({ to: from }, through ? { to, through } : { to });
    }
  }
  return corners.filter(
    ({ to, through }, i) => through !== undefined || String(to) !== String(corners.at(i - 1)?.to),
  );
}

/** A corner that cannot be read is left out; the drawing it belongs to tells of it. */
const NOBODY = { caution: () => undefined } as unknown as Findings;

type Bezier = readonly [Point, Point, Point, Point];

function curvePieces([a, b, c, d]: Bezier, line: number): readonly Segment[] {
  const at = (t: number): Point => {
    const u = 1 - t;
    const mix = (i: 0 | 1) => u ** 3 * a[i] + 3 * u * u * t * b[i] + 3 * u * t * t * c[i] + t ** 3 * d[i];
    return [mix(0), mix(1)];
  };
  return Array.from({ length: CURVE_PIECES }, (_, i) => ({
    from: at(i / CURVE_PIECES),
    to: at((i + 1) / CURVE_PIECES),
    line,
  }));
}
