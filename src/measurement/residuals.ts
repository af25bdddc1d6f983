import { inverse, Matrix } from 'ml-matrix';
import { chiSquareTail } from '../statistics/distributions.ts';
import { type KnownPoint, type Place, Plane, type PlaneOptions } from './plane.ts';

// What is left between known points and the fit: which points stand out, and whether the rest looks like a lens.

/** Probability below which points do not go together, or one of them stands out among the others. */
const UNLIKELY = 0.01;
/** Points that are named as standing out, at most; where more do, it is not for single points. */
const MOST_NAMED = 3;

/** A known point that the others contradict. */
export interface Outstanding {
  /** Its place in the list of points, from 0. */
  readonly index: number;
  /** How far it is from where the other points put it, mm on the board. */
  readonly off: number;
}

/**
 * Points that stand out: while the points do not go together (chi-square, 1 %), the one whose leaving out explains most is named, if that
 * is more than chance makes of the worst of so many (Bonferroni) and enough points are left to tell it from another.
 */
export function outstanding(
  points: readonly KnownPoint[],
  plane: Plane,
  options: PlaneOptions,
): readonly Outstanding[] {
  const found: Outstanding[] = [];
  let rest = points.map((_, index) => index);
  let fit = plane;
  while (found.length < MOST_NAMED && fit.degreesOfFreedom > 2) {
    if (chiSquareTail(fit.chiSquare, fit.degreesOfFreedom) >= UNLIKELY) break;
    const falls = fit.leftOver().map(({ left, spread, by }) => {
      // First-order change of chi-square when the point is left out (Belsley, Kuh and Welsch, 1980, section 2.1).
      const own = Matrix.sub(spread, by.mmul(fit.covariance).mmul(by.transpose()));
      const column = Matrix.columnVector([...left]);
      return column.transpose().mmul(inverse(own)).mmul(column).get(0, 0);
    });
    const worst = falls.indexOf(Math.max(...falls));
    if (chiSquareTail(falls[worst], 2) * rest.length >= UNLIKELY) break;
    const index = rest[worst];
    rest = rest.filter((one) => one !== index);
    try {
      fit = Plane.fitted(
        rest.map((one) => points[one]),
        options,
      );
    } catch {
      break;
    }
    const { photo, board } = points[index];
    const [x, y] = fit.projection.toBoard(photo);
    found.push({ index, off: Math.hypot(x - board[0], y - board[1]) });
  }
  // Where the rest does not go together either, it is not these points.
  return chiSquareTail(fit.chiSquare, Math.max(1, fit.degreesOfFreedom)) < UNLIKELY &&
    found.length === MOST_NAMED
    ? []
    : found;
}

/** How a lens bends: a place at distance r from the middle of the photo lies at r (1 + k r²), with r = 1 in its corners. */
export interface Distortion {
  /** k: above 0 straight lines bend inwards (pincushion), below outwards (barrel). */
  readonly value: number;
  /** Standard uncertainty. */
  readonly uncertainty: number;
  /** What it does to places within the known points after the fit took up what it can, root mean square, pixels. */
  readonly left: number;
}

/**
 * Radial distortion of the third degree as what is left of the fit shows it (Brown, "Close-range camera calibration", 1971, its first
 * term), by one linear step: distortions of cameras are small.
 * @param middle of the photo, pixels
 * @returns undefined where the points cannot tell: fewer than six, or all near the middle
 */
export function distortionOf(
  plane: Plane,
  points: readonly KnownPoint[],
  middle: Place,
): Distortion | undefined {
  if (plane.degreesOfFreedom < 3) return undefined;
  const corner = Math.hypot(...middle);
  const left = plane.leftOver();
  const bends = points.map(({ photo: [u, v] }) => {
    const [dx, dy] = [u - middle[0], v - middle[1]];
    const r2 = (dx * dx + dy * dy) / corner ** 2;
    return Matrix.columnVector([dx * r2, dy * r2]);
  });
  const parameters = plane.covariance.rows;
  const across = Matrix.zeros(parameters, 1);
  let [own, told] = [0, 0];
  left.forEach(({ left: place, spread, by }, i) => {
    const weight = inverse(spread);
    const weighed = bends[i].transpose().mmul(weight);
    own += weighed.mmul(bends[i]).get(0, 0);
    told += weighed.mmul(Matrix.columnVector([...place])).get(0, 0);
    across.add(by.transpose().mmul(weight).mmul(bends[i]));
  });
  // What the fit has taken up of a bend tells nothing of it.
  const free = own - across.transpose().mmul(plane.covariance).mmul(across).get(0, 0);
  if (!(free > own * 1e-9)) return undefined;
  const value = told / free;
  const taken = plane.covariance.mmul(across);
  const squares = left.map(({ by }, i) => Matrix.sub(bends[i], by.mmul(taken)).mul(value).norm() ** 2);
  return {
    value,
    uncertainty: 1 / Math.sqrt(free),
    left: Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length),
  };
}
