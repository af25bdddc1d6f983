import type { Ring } from '../../model/board.ts';
import type { Point } from '../../model/outline.ts';
import { type Findings, tidy } from '../board-design.ts';
import { arcMiddle, distance, JOINING, point } from '../outline.ts';
import { attribute, type Element } from './xml.ts';

/** Reads polygons and cut-outs: `PolyBegin`, then `PolyStepSegment` and `PolyStepCurve` (end, centre, direction). */
export class PolygonReader {
  readonly #unit: number;
  readonly #findings: Findings;

  constructor(unit: number, findings: Findings) {
    this.#unit = unit;
    this.#findings = findings;
  }

  /** The closed line of a polygon; undefined, with a caution, where it has too few corners or lacks a coordinate. */
  ring(polygon: Element): Ring | undefined {
    const steps: Ring = [];
    let start: Point | undefined;
    let before: Point | undefined;
    for (const step of polygon.children) {
      if (!step.name.startsWith('Poly')) continue;
      const to = this.#place(step, 'x', 'y');
      if (!to) return this.#left(step, 'lacks a coordinate');
      if (step.name === 'PolyBegin') start = to;
      else if (step.name === 'PolyStepCurve') {
        const centre = this.#place(step, 'centerX', 'centerY');
        if (!centre || !before) return this.#left(step, 'has an arc without a centre');
        steps.push(this.#arc(before, to, centre, step));
      } else if (step.name === 'PolyStepSegment') steps.push(point(...to));
      before = to;
    }
    if (!start || !before || steps.length === 0) return this.#left(polygon, 'has no corners');
    // The start is a corner of its own unless the last step comes back to it.
    if (distance(start, before) > JOINING) steps.push(point(...start));
    const corners = steps.every((step) => Array.isArray(step)) ? 3 : 2;
    return steps.length >= corners ? steps : this.#left(polygon, 'has too few corners');
  }

  #arc(from: Point, to: Point, centre: Point, step: Element): Ring[number] {
    const clockwise = attribute(step, 'clockwise')?.toLowerCase() === 'true';
    const [near, far] = [distance(centre, from), distance(centre, to)];
    if (near <= JOINING || Math.abs(near - far) > Math.max(JOINING, near / 100)) {
      this.#findings.caution(
        step.line,
        `an arc of a polygon does not fit its centre, ${tidy(Math.abs(near - far))} mm off; it is taken as a straight line`,
        'look at it in the design',
      );
      return point(...to);
    }
    return { to: point(...to), through: point(...arcMiddle(centre, from, to, clockwise)) };
  }

  #place(element: Element, x: string, y: string): Point | undefined {
    const [first, second] = [attribute(element, x), attribute(element, y)];
    if (first === undefined || second === undefined) return undefined;
    const at: Point = [Number(first) * this.#unit, Number(second) * this.#unit];
    return at.every(Number.isFinite) ? at : undefined;
  }

  #left(element: Element, what: string): undefined {
    this.#findings.caution(element.line, `a polygon ${what} and is left out`, 'look at it in the design');
  }
}
