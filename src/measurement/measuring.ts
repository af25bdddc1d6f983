import { type KnownPoint, type Place, Plane } from './plane.ts';
import type { Projection } from './projection.ts';

/** Half of the width of a 95 % interval, in standard uncertainties (GUM, JCGM 100:2008, table G.1). */
export const COVERAGE = 1.96;

/** A measured number with its 95 % interval. */
export interface Measured {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Standard uncertainty. */
  readonly uncertainty: number;
}

/** Several numbers that were measured together. */
export interface MeasuredTogether {
  readonly values: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

export interface MeasuringOptions {
  readonly isBottom: boolean;
  /** Standard uncertainty with which places are picked, pixels. */
  readonly picked: number;
}

/**
 * A photo on which is measured: the plane of its known points, and how what is uncertain about the fit and about a pick goes into whatever
 * is worked out of them. Known points that go together worse than was stated make everything as much less sure (the scale factor of
 * the Review of Particle Physics, introduction, section 5.2.2), and better ones nothing surer.
 */
export class Measuring {
  readonly plane: Plane;
  /** By how much uncertainties are larger than stated; 1 or more. */
  readonly scatter: number;
  readonly projection: Projection;
  readonly #variations: Plane['variations'];
  readonly #picked: number;

  /** @throws CasebackError BAD_INPUT for points that carry no measurement */
  constructor(points: readonly KnownPoint[], { isBottom, picked }: MeasuringOptions) {
    this.plane = Plane.fitted(points, { isBottom, picked });
    const { chiSquare, degreesOfFreedom, projection, variations } = this.plane;
    this.scatter = degreesOfFreedom > 0 ? Math.max(1, Math.sqrt(chiSquare / degreesOfFreedom)) : 1;
    this.projection = projection;
    this.#variations = variations;
    this.#picked = picked;
  }

  /**
   * Works something out of places picked on the photo, and how sure it is: every input is moved by its standard uncertainty either way, and
   * half the differences are added up (GUM, section 5.1.3, note 2).
   * @throws what `work` throws
   */
  of(
    picks: readonly Place[],
    work: (projection: Projection, picks: readonly Place[]) => readonly number[],
  ): MeasuredTogether {
    const values = work(this.projection, picks);
    const steps = [
      ...this.#variations.map(([plus, minus]) => halfDifference(work(plus, picks), work(minus, picks))),
      ...picks.flatMap((_, i) =>
        [0, 1].map((axis) => {
          const [plus, minus] = [1, -1].map((sign) =>
            work(
              this.projection,
              picks.map((place, j) => (j === i ? moved(place, axis, sign * this.#picked) : place)),
            ),
          );
          return halfDifference(plus, minus);
        }),
      ),
    ];
    const covariance = values.map((_, i) =>
      values.map((_one, j) => steps.reduce((sum, step) => sum + step[i] * step[j], 0) * this.scatter ** 2),
    );
    return { values, covariance };
  }
}

const halfDifference = (plus: readonly number[], minus: readonly number[]) =>
  plus.map((one, i) => (one - minus[i]) / 2);
const moved = ([x, y]: Place, axis: number, by: number): Place => (axis === 0 ? [x + by, y] : [x, y + by]);

/** One of several numbers, with its interval. @param also a further standard uncertainty, independent of the others */
export function measuredAt({ values, covariance }: MeasuredTogether, i: number, also = 0): Measured {
  return withInterval(values[i], Math.hypot(Math.sqrt(Math.max(0, covariance[i][i])), also));
}

export function withInterval(value: number, uncertainty: number): Measured {
  return { value, uncertainty, low: value - COVERAGE * uncertainty, high: value + COVERAGE * uncertainty };
}
