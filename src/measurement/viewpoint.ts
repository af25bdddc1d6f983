import { CasebackError } from '../model/problems.ts';
import type { Measured, Measuring } from './measuring.ts';
import { COVERAGE } from './measuring.ts';
import type { Place } from './plane.ts';
import type { Projection } from './projection.ts';

// From where a photo was taken, as far as its known points tell. On the axis of view, which a photo that was not cropped has in its middle,
// the board is foreshortened by the cosine of its tilt, whatever the lens; further off, the share by which a mm takes it further from the
// camera is the sine of the tilt over the distance (both follow from x = f X / Z, Hartley and Zisserman, section 6.1).

const DEGREES = Math.PI / 180;
/** Relative uncertainty of a distance above which it is not told. */
const TOO_UNSURE = 0.25;
/** Lengths of vectors of two parts of standard uncertainty 1 that lie below it in 95 of 100 where there is nothing but error. */
const NOTHING_THERE = Math.sqrt(-2 * Math.log(0.05));

/** From where a photo was taken. */
export interface Viewpoint {
  /** Angle between the axis of view and the perpendicular of the board, degrees; `low` is 0 where it may have been straight down. */
  readonly tilt: Measured;
  /** Distance of the camera from what is in the middle of the photo, mm; undefined where perspective does not tell. */
  readonly distance: Measured | undefined;
}

/**
 * @param middle of the photo, pixels
 * @returns undefined where the points say nothing of it
 */
export function viewpointOf(measuring: Measuring, middle: Place): Viewpoint | undefined {
  const { values, covariance } = measuring.of([], (projection) => [
    ...anisotropy(projection, middle),
    ...receding(projection, middle),
  ]);
  const [size, spread] = lengthOf([values[0], values[1]], covariance);
  if (!Number.isFinite(spread)) return undefined;
  const [low, high] = [Math.max(0, size - NOTHING_THERE * spread), Math.min(1, size + COVERAGE * spread)];
  // Rounding may take it a little above 1, where a board is seen all but edge-on.
  const angle = (e: number) => Math.acos(Math.sqrt(Math.max(0, (1 - e) / (1 + e)))) / DEGREES;
  const tilt = {
    value: angle(size),
    low: angle(low),
    high: angle(high),
    // What half the interval comes to: near 0 an angle is no linear function of what is measured.
    uncertainty: (angle(high) - angle(low)) / 2 / COVERAGE,
  };
  return {
    tilt,
    distance: measuring.plane.kind === 'perspective' && low > 0 ? distanceOf(measuring, middle) : undefined,
  };
}

/** Distance over both of what tells of it, the foreshortening and how fast the board recedes; its logarithm, since it cannot be below 0. */
function distanceOf(measuring: Measuring, middle: Place): Measured | undefined {
  const { values, covariance } = measuring.of([], (projection) => {
    const e = Math.hypot(...anisotropy(projection, middle));
    const sine = Math.sqrt((2 * e) / (1 + e));
    return [Math.log(sine / Math.hypot(...receding(projection, middle)))];
  });
  const spread = Math.sqrt(covariance[0][0]);
  if (!(spread < TOO_UNSURE)) return undefined;
  const [value, low, high] = [0, -COVERAGE, COVERAGE].map((steps) => Math.exp(values[0] + steps * spread));
  return { value, low, high, uncertainty: value * spread };
}

/**
 * How much more the photo shows in one direction than across it, as a vector at twice its angle: its length is (a² - b²) / (a² + b²) of the
 * largest and smallest scale. A tilt is 0 where both parts are, so that they, and not the angle, have errors like a normal distribution.
 */
function anisotropy(projection: Projection, middle: Place): readonly [number, number] {
  const [a, b, c, d] = projection.localAt(projection.toBoard(middle));
  const [uu, uv, vv] = [a * a + b * b, a * c + b * d, c * c + d * d];
  return [(uu - vv) / (uu + vv), (2 * uv) / (uu + vv)];
}

const receding = (projection: Projection, middle: Place) => projection.recedingAt(projection.toBoard(middle));

/** Length of a vector, and its standard uncertainty along itself. */
function lengthOf([x, y]: Place, covariance: readonly (readonly number[])[]): readonly [number, number] {
  const length = Math.hypot(x, y);
  const [nx, ny] = length === 0 ? [1, 0] : [x / length, y / length];
  const variance = nx * nx * covariance[0][0] + 2 * nx * ny * covariance[0][1] + ny * ny * covariance[1][1];
  return [length, Math.sqrt(variance)];
}

/**
 * mm a pixel at a place of the photo: the least and the most over all directions.
 * @throws CasebackError BAD_INPUT where the board is seen edge-on
 */
export function fineness(projection: Projection, photo: Place): readonly [least: number, most: number] {
  const [a, b, c, d] = projection.localAt(projection.toBoard(photo));
  const sum = a * a + b * b + c * c + d * d;
  const most = Math.sqrt((sum + Math.hypot(a * a + b * b - c * c - d * d, 2 * (a * c + b * d))) / 2);
  // The product of both is the determinant, which loses no digits where the smaller one is near 0.
  const least = Math.abs(a * d - b * c) / most;
  if (!(Number.isFinite(1 / least) && Number.isFinite(most)))
    throw new CasebackError(
      'BAD_INPUT',
      'By its known points the photo shows the board edge-on; look at them again',
    );
  return [1 / most, 1 / least];
}

/** How much a tilt that the points cannot tell changes lengths, percent. */
export interface TiltEffect {
  /** Degrees. */
  readonly tilt: number;
  /** By how much lengths may be off, either way, taken from far away: 1 less the cosine. */
  readonly percent: number;
  /** By how much at the edge of the photo, taken from as near as the photo is long on the board. */
  readonly percentNear: number;
}

/** What tilts of 5, 10 and 15 degrees would do. A phone held close is about as far from the board as its view is long (common practice, no source). */
export const TILT_EFFECTS: readonly TiltEffect[] = [5, 10, 15].map((tilt) => {
  const foreshortened = 1 - Math.cos(tilt * DEGREES);
  return {
    tilt,
    percent: 100 * foreshortened,
    percentNear: 100 * (foreshortened + Math.sin(tilt * DEGREES) / 2),
  };
});

/**
 * By how much a mm of height moves the outline of what stands on the board, mm, where the view is tilted so and the camera so far away: the
 * top of a body is seen where a line from the camera through it meets the board.
 * @param tilt degrees
 * @param off from the middle of the photo, mm on the board
 * @param distance of the camera from the middle of the photo, mm
 */
export function parallaxPerMm(tilt: number, off: number, distance: number): number {
  return Math.tan(tilt * DEGREES) + off / (distance * Math.cos(tilt * DEGREES));
}
