import { CasebackError } from '../model/problems.ts';
import { chiSquareTail } from '../statistics/distributions.ts';
import { bodyOf, type DrawnBody, type MeasuredBody } from './bodies.ts';
import { type Measured, type MeasuredTogether, Measuring, measuredAt, withInterval } from './measuring.ts';
import type { KnownPoint, Place, PlaneKind } from './plane.ts';
import { type Distortion, distortionOf, outstanding } from './residuals.ts';
import {
  fineness,
  parallaxPerMm,
  TILT_EFFECTS,
  type TiltEffect,
  type Viewpoint,
  viewpointOf,
} from './viewpoint.ts';

/** A place on a photo: from the left and from the top, percent. */
export type Spot = readonly [x: number, y: number];

/** What is measured on: a photo and its known points. */
export interface Photographed {
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  readonly points: readonly {
    readonly at: Spot;
    /** On the board, seen from its top side. */
    readonly mm: readonly [number, number];
    readonly within?: number | undefined;
  }[];
  readonly isBottom: boolean;
  /** Standard uncertainty with which places are picked, pixels. */
  readonly picked: number;
  /** Of the camera from what is in the middle of the photo, mm, where somebody measured it. */
  readonly cameraDistance?: number | undefined;
}

/** What is left between a known point and the fit: the photo less the fit. */
export interface PointResidual {
  readonly px: Place;
  /** On the board, from the known position to the one that the fit gives. */
  readonly mm: Place;
  /** Whether the other points contradict it, and how far it is from where they put it, mm. */
  readonly standsOut: number | undefined;
}

/** Whether the lens bends, as the known points show. */
export interface Bending {
  readonly kind: 'barrel' | 'pincushion' | 'not-seen';
  /** In the corners of the photo, percent of the distance from its middle; below 0 inwards. */
  readonly percent: Measured;
  /** What is left of it among the known points, root mean square, mm. */
  readonly left: number;
}

/** How sure a photo's measurements are, and what they do not know. */
export interface Calibration {
  readonly kind: PlaneKind;
  readonly degreesOfFreedom: number;
  /** Root mean square of what is left at the known points; undefined where as many points as the kind needs leave nothing. */
  readonly residualPx: number | undefined;
  readonly residualMm: number | undefined;
  /** Probability of so much being left if all is as stated; undefined likewise. */
  readonly fits: number | undefined;
  /** By which uncertainties are larger than stated. */
  readonly scatter: number;
  readonly points: readonly PointResidual[];
  /** mm a pixel in the middle of the photo, least and most over all directions. */
  readonly mmPerPx: readonly [least: number, most: number];
  /** How long the longer side of the photo is on the board, mm. */
  readonly viewLength: number;
  readonly viewpoint: Viewpoint | undefined;
  /** What tilts would do that are not known. */
  readonly tiltEffects: readonly TiltEffect[];
  readonly bending: Bending | undefined;
  /** Whether the points turn as the side of the board says; when not, the side is wrong or the photo is mirrored. */
  readonly isMirrored: boolean;
}

export interface MeasuredSpot {
  readonly x: Measured;
  readonly y: Measured;
  readonly covariance: number;
  /** Whether it lies outside of what the known points span. */
  readonly isOutside: boolean;
}

/** A photo on which may be measured. */
export class MeasurablePhoto {
  readonly photographed: Photographed;
  readonly measuring: Measuring;
  readonly calibration: Calibration;

  /** @throws CasebackError BAD_INPUT for points that carry no measurement */
  constructor(photographed: Photographed) {
    this.photographed = photographed;
    this.measuring = new Measuring(this.#known, photographed);
    this.calibration = this.#calibration();
  }

  /** Where a place of the photo is on the board. @throws CasebackError BAD_INPUT beyond the horizon */
  spot(at: Spot): MeasuredSpot {
    const found = this.measuring.of([this.#pixels(at)], (projection, [place]) => projection.toBoard(place));
    return {
      x: measuredAt(found, 0),
      y: measuredAt(found, 1),
      covariance: found.covariance[0][1],
      isOutside: !this.#spans([found.values[0], found.values[1]]),
    };
  }

  /** Where a place of the photo is on the board, mm, without how sure that is. @throws CasebackError BAD_INPUT beyond the horizon */
  onBoard(at: Spot): Place {
    return this.measuring.projection.toBoard(this.#pixels(at));
  }

  /** Distance on the board between two places of the photo, mm. @throws CasebackError BAD_INPUT beyond the horizon */
  length(from: Spot, to: Spot): Measured {
    return measuredAt(this.lengths([{ from, to }]), 0);
  }

  /** Distances that are measured together, mm. @throws CasebackError BAD_INPUT beyond the horizon */
  lengths(pairs: readonly { readonly from: Spot; readonly to: Spot }[]): MeasuredTogether {
    const ends = pairs.flatMap(({ from, to }) => [this.#pixels(from), this.#pixels(to)]);
    return this.measuring.of(ends, (projection, picks) =>
      pairs.map((_, i) => {
        const [[x, y], [u, v]] = [projection.toBoard(picks[2 * i]), projection.toBoard(picks[2 * i + 1])];
        return Math.hypot(u - x, v - y);
      }),
    );
  }

  /**
   * A body, from its corners or from the upright box around it, both in percent of the photo.
   * @param rotation degrees as seen from the top side: of a body in a box, or from which its length is told from its width
   * @throws CasebackError BAD_INPUT
   */
  body(
    shape:
      | { readonly corners: readonly Spot[] }
      | { readonly xywh: readonly [number, number, number, number] },
    rotation?: number,
  ): MeasuredBody {
    return bodyOf(this.measuring, this.#drawn(shape, rotation ?? 0), rotation);
  }

  /**
   * By how much a mm of height moves the outline of a body there, mm: at most, where nobody knows from how far the photo was taken.
   * @returns undefined where the tilt of the view is not known
   */
  parallaxAt(place: Place): number | undefined {
    const { viewpoint, viewLength } = this.calibration;
    if (!viewpoint) return undefined;
    const middle = this.measuring.projection.toBoard(this.#middle);
    const off = Math.hypot(place[0] - middle[0], place[1] - middle[1]);
    const distance = this.photographed.cameraDistance ?? viewpoint.distance?.value;
    return distance === undefined
      ? parallaxPerMm(viewpoint.tilt.high, off, viewLength)
      : parallaxPerMm(viewpoint.tilt.value, off, distance);
  }

  get #known(): readonly KnownPoint[] {
    return this.photographed.points.map(({ at, mm, within }) => ({
      photo: this.#pixels(at),
      board: mm,
      within,
    }));
  }

  get #middle(): Place {
    return [this.photographed.width / 2, this.photographed.height / 2];
  }

  #pixels([x, y]: Spot): Place {
    return [(x * this.photographed.width) / 100, (y * this.photographed.height) / 100];
  }

  #drawn(
    shape:
      | { readonly corners: readonly Spot[] }
      | { readonly xywh: readonly [number, number, number, number] },
    rotation: number,
  ): DrawnBody {
    if ('corners' in shape) {
      if (shape.corners.length < 3)
        throw new CasebackError('BAD_INPUT', 'A body takes three corners or more, in order around it');
      return { corners: shape.corners.map((corner) => this.#pixels(corner)) };
    }
    const [x, y, w, h] = shape.xywh;
    const [[left, top], [right, bottom]] = [this.#pixels([x, y]), this.#pixels([x + w, y + h])];
    return { box: { left, top, right, bottom }, rotation };
  }

  #calibration(): Calibration {
    const { measuring } = this;
    const { plane, projection } = measuring;
    const { degreesOfFreedom } = plane;
    const points = this.#known;
    const options = { isBottom: this.photographed.isBottom, picked: this.photographed.picked };
    const middle = this.#middle;
    const off = new Map(outstanding(points, plane, options).map(({ index, off }) => [index, off]));
    const residuals = points.map(({ photo, board }, index): PointResidual => {
      const [u, v] = projection.toPhoto(board);
      const [x, y] = projection.toBoard(photo);
      return {
        px: [photo[0] - u, photo[1] - v],
        mm: [x - board[0], y - board[1]],
        standsOut: off.get(index),
      };
    });
    const rootMeanSquare = (of: (one: PointResidual) => Place) =>
      degreesOfFreedom > 0
        ? Math.sqrt(residuals.reduce((sum, one) => sum + Math.hypot(...of(one)) ** 2, 0) / degreesOfFreedom)
        : undefined;
    const mmPerPx = fineness(projection, middle);
    const [a, b, c, d] = projection.localAt(projection.toBoard(middle));
    return {
      kind: plane.kind,
      degreesOfFreedom,
      residualPx: plane.residual,
      residualMm: rootMeanSquare(({ mm }) => mm),
      fits: degreesOfFreedom > 0 ? chiSquareTail(plane.chiSquare, degreesOfFreedom) : undefined,
      scatter: measuring.scatter,
      points: residuals,
      mmPerPx,
      viewLength:
        Math.max(this.photographed.width, this.photographed.height) * Math.sqrt(mmPerPx[0] * mmPerPx[1]),
      viewpoint: plane.kind === 'scale' ? undefined : viewpointOf(measuring, middle),
      tiltEffects: plane.kind === 'perspective' ? [] : TILT_EFFECTS,
      bending: bendingOf(distortionOf(plane, points, middle), plane, mmPerPx),
      isMirrored: a * d - b * c > 0 !== this.photographed.isBottom,
    };
  }

  /** Whether a place of the board is in the convex hull of the known points, or in their box where these are two. */
  #spans([x, y]: Place): boolean {
    const known = this.photographed.points.map(({ mm }) => mm);
    if (known.length === 2) {
      const [[a, b], [c, d]] = known;
      return x >= Math.min(a, c) && x <= Math.max(a, c) && y >= Math.min(b, d) && y <= Math.max(b, d);
    }
    // In the hull when no line through the place has all points strictly on one side: no gap of their directions is over half a turn.
    const angles = known
      .filter(([u, v]) => u !== x || v !== y)
      .map(([u, v]) => Math.atan2(v - y, u - x))
      .sort((one, other) => one - other);
    if (angles.length < known.length) return true;
    return angles.every((angle, i) => {
      const next = angles[(i + 1) % angles.length] + (i + 1 === angles.length ? 2 * Math.PI : 0);
      return next - angle <= Math.PI + 1e-9;
    });
  }
}

/** In standard uncertainties, above which a lens is said to bend. */
const SEEN = 2.576;

function bendingOf(
  distortion: Distortion | undefined,
  { chiSquare, degreesOfFreedom }: Measuring['plane'],
  mmPerPx: readonly [number, number],
): Bending | undefined {
  if (!distortion) return undefined;
  const { value } = distortion;
  // What the bend explains does not count as scatter of the points.
  const rest = chiSquare - (value / distortion.uncertainty) ** 2;
  const uncertainty = distortion.uncertainty * Math.sqrt(Math.max(1, rest / (degreesOfFreedom - 1)));
  const [percent, spread] = [100 * value, 100 * uncertainty];
  const isSeen = Math.abs(value) > SEEN * uncertainty;
  return {
    kind: !isSeen ? 'not-seen' : value > 0 ? 'pincushion' : 'barrel',
    percent: withInterval(percent, spread),
    left: distortion.left * Math.sqrt(mmPerPx[0] * mmPerPx[1]),
  };
}
