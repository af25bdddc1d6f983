import { EigenvalueDecomposition, inverse, Matrix, pseudoInverse } from 'ml-matrix';
import { CasebackError } from '../model/problems.ts';
import {
  byPlace as derivatives,
  type Frame,
  into,
  outOf,
  type Place,
  Projection,
  projected,
  unprojected,
} from './projection.ts';

// Positions on a flat board from its photo. A camera without distortion maps a plane to a photo by a homography: x' = (h0 x + h1 y + h2) /
// (h6 x + h7 y + 1), likewise y' (Hartley and Zisserman, "Multiple View Geometry in Computer Vision", 2nd edition, 2004, section 2.3). It is
// fitted to points of known position by weighted least squares, in which a point counts by how well it was picked and how well its position
// is known, and uncertainty is carried on to first order (GUM, JCGM 100:2008, section 5.1.2; Hartley and Zisserman, section 5.2).

export type { Place } from './projection.ts';

export interface KnownPoint {
  /** Pixels. */
  readonly photo: Place;
  /** mm. */
  readonly board: Place;
  /** Standard uncertainty of its position on the board, in x and in y, mm. @default 0 */
  readonly within?: number | undefined;
}

/**
 * What the points allow: `scale` alone from two, as if the camera had looked straight down; `parallel` from three, as if from far
 * away; `perspective` from four or more.
 */
export type PlaneKind = 'scale' | 'parallel' | 'perspective';

/** A place on a board, measured. */
export interface MeasuredPlace {
  /** mm. */
  readonly at: Place;
  /** Standard uncertainties of x and y, mm. */
  readonly uncertainty: Place;
}

export interface MeasuredLength {
  /** mm. */
  readonly value: number;
  /** Standard uncertainty, mm. */
  readonly uncertainty: number;
}

/** What is left between a known point and the fit, photo minus fit, and how both hang together; pixels. */
export interface LeftOver {
  readonly left: Place;
  /** Covariance of the place on the photo, of the pick and of what is known of the position. */
  readonly spread: Matrix;
  /** How the place on the photo follows from the parameters of the fit. */
  readonly by: Matrix;
}

export interface PlaneOptions {
  /** Whether the photo shows the board from its bottom side; matters with two points, which do not tell. @default false */
  readonly isBottom?: boolean;
  /** Standard uncertainty with which a place is picked on the photo, in x and in y, pixels. @default 1 */
  readonly picked?: number;
}

/** Fewest points of each kind. */
const KINDS = { scale: 2, parallel: 3, perspective: 4 } as const;
const STEPS = 25;
/** A change of the parameters, relative to their size, below which the fit has settled. */
const SETTLED = 1e-10;
/** Relative uncertainty of a length across the points above which they do not carry a measurement. */
const TOO_UNSURE = 0.5;

/** The plane of a board as a photo shows it. */
export class Plane {
  readonly kind: PlaneKind;
  /** Root mean square of what is left between known points and the fit, pixels; undefined where nothing is left to differ. */
  readonly residual: number | undefined;
  /** Sum of squares of what is left, each in units of its own uncertainty, and its degrees of freedom: chi-square if all is as stated. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly #fit: Fit;
  readonly #picked: number;
  readonly #frames: Frames;
  readonly #points: readonly KnownPoint[];

  private constructor(
    kind: PlaneKind,
    fit: Fit,
    frames: Frames,
    picked: number,
    points: readonly KnownPoint[],
  ) {
    this.kind = kind;
    this.#fit = fit;
    this.#frames = frames;
    this.#picked = picked;
    this.#points = points;
    this.chiSquare = fit.chiSquare;
    this.degreesOfFreedom = 2 * points.length - fit.covariance.rows;
    const left = points.map(({ photo, board }) => {
      const [x, y] = this.toPhoto(board);
      return (x - photo[0]) ** 2 + (y - photo[1]) ** 2;
    });
    const sum = left.reduce((total, one) => total + one, 0);
    this.residual = this.degreesOfFreedom > 0 ? Math.sqrt(sum / this.degreesOfFreedom) : undefined;
  }

  /**
   * Fits the plane to points of known position.
   * @throws CasebackError BAD_INPUT for fewer than two points, for points that coincide, and for points that lie on a line or nearly
   */
  static fitted(points: readonly KnownPoint[], { isBottom = false, picked = 1 }: PlaneOptions = {}): Plane {
    if (points.length < KINDS.scale)
      throw refused('a scale takes two points of known position, and scale and tilt take four');
    const kind: PlaneKind =
      points.length >= KINDS.perspective
        ? 'perspective'
        : points.length === KINDS.parallel
          ? 'parallel'
          : 'scale';
    const frames = framesOf(points);
    // On a photo y runs down, so that a board seen from its top side is mirrored.
    const columns = columnsOf(kind, isBottom ? 1 : -1);
    const own = points.map(({ photo, board, within = 0 }) => ({
      photo: into(frames.photo, photo),
      board: into(frames.board, board),
      within: within / frames.board.size,
    }));
    const fit = fitOf(own, columns, picked / frames.photo.size);
    const plane = new Plane(kind, fit, frames, picked, points);
    plane.#mustCarry(points);
    return plane;
  }

  /** The fit itself, without its uncertainty. */
  get projection(): Projection {
    return this.#projectionOf(this.#fit.parameters);
  }

  /**
   * The fit moved by one standard uncertainty, either way, along each independent direction of what is uncertain about it: whatever is
   * worked out from a fit has the sum of squares of what these make of it as its variance (GUM, JCGM 100:2008, section 5.1.3, note 2).
   */
  get variations(): readonly (readonly [plus: Projection, minus: Projection])[] {
    const { covariance, parameters } = this.#fit;
    const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(covariance, {
      assumeSymmetric: true,
    });
    return realEigenvalues.map((variance, k) => {
      const step = eigenvectorMatrix.getColumnVector(k).mul(Math.sqrt(Math.max(0, variance)));
      return [
        this.#projectionOf(Matrix.add(parameters, step)),
        this.#projectionOf(Matrix.sub(parameters, step)),
      ];
    });
  }

  /** What is left at each known point, in the order given. */
  leftOver(): readonly LeftOver[] {
    const { h, columns } = this.#fit;
    const { photo, board } = this.#frames;
    return this.#points.map((point) => {
      const place = into(board, point.board);
      const [u, v] = this.toPhoto(point.board);
      return {
        left: [point.photo[0] - u, point.photo[1] - v],
        spread: spreadOf(byPlace(h, place), this.#ownPicked, (point.within ?? 0) / board.size).mul(
          photo.size ** 2,
        ),
        by: byEntries(h, place).mmul(columns).mul(photo.size),
      };
    });
  }

  /** Covariance of the parameters that {@link leftOver} is by. */
  get covariance(): Matrix {
    return this.#fit.covariance;
  }

  #projectionOf(parameters: Matrix): Projection {
    const { photo, board } = this.#frames;
    return new Projection(this.#fit.columns.mmul(parameters).to1DArray(), photo, board);
  }

  /** Where a place of the board is on the photo, pixels. */
  toPhoto(board: Place): Place {
    return outOf(this.#frames.photo, projected(this.#fit.h, into(this.#frames.board, board)));
  }

  /** Where a place on the photo is on the board. @throws CasebackError BAD_INPUT for one beyond the horizon of the plane */
  toBoard(photo: Place): MeasuredPlace {
    const { at, pick, fit } = this.#seen(photo);
    const covariance = carried(pick, this.#ownPicked ** 2).add(
      fit.mmul(this.#fit.covariance).mmul(fit.transpose()),
    );
    const { size } = this.#frames.board;
    return {
      at: outOf(this.#frames.board, at),
      uncertainty: [Math.sqrt(covariance.get(0, 0)) * size, Math.sqrt(covariance.get(1, 1)) * size],
    };
  }

  /** Distance on the board between two places picked on the photo. @throws as {@link toBoard} */
  distance(one: Place, other: Place): MeasuredLength {
    const [a, b] = [this.#seen(one), this.#seen(other)];
    const [dx, dy] = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
    const length = Math.hypot(dx, dy);
    const { size } = this.#frames.board;
    // Both hang on the same fit, so that what is wrong with it goes into the difference once.
    const shared = Matrix.sub(b.fit, a.fit);
    const covariance = shared.mmul(this.#fit.covariance).mmul(shared.transpose());
    for (const { pick } of [a, b]) covariance.add(carried(pick, this.#ownPicked ** 2));
    const [nx, ny] = length === 0 ? [1, 0] : [dx / length, dy / length];
    const variance =
      nx * nx * covariance.get(0, 0) + 2 * nx * ny * covariance.get(0, 1) + ny * ny * covariance.get(1, 1);
    return { value: length * size, uncertainty: Math.sqrt(variance) * size };
  }

  /** Pixels a millimetre of the board at a place of the photo: the least and the most over all directions. */
  scaleAt(photo: Place): readonly [least: number, most: number] {
    const { local } = this.#seen(photo);
    const [a, b, c, d] = [local.get(0, 0), local.get(0, 1), local.get(1, 0), local.get(1, 1)];
    // Singular values of a matrix of two rows.
    const [sum, root] = [
      a * a + b * b + c * c + d * d,
      Math.hypot(a * a + b * b - c * c - d * d, 2 * (a * c + b * d)),
    ];
    const ratio = this.#frames.photo.size / this.#frames.board.size;
    return [Math.sqrt(Math.max(0, sum - root) / 2) * ratio, Math.sqrt((sum + root) / 2) * ratio];
  }

  get #ownPicked(): number {
    return this.#picked / this.#frames.photo.size;
  }

  /** A place of the photo on the board, in own units, with how it follows from the pick and from the fit. */
  #seen(photo: Place) {
    const { h, columns } = this.#fit;
    const own = into(this.#frames.photo, photo);
    const at = unprojected(h, own);
    const local = byPlace(h, at);
    const pick = inverse(local);
    return { at, local, pick, fit: Matrix.mul(pick.mmul(byEntries(h, at)).mmul(columns), -1) };
  }

  #mustCarry(points: readonly KnownPoint[]): void {
    const [first, last] = farthest(points);
    const { value, uncertainty } = this.distance(first.photo, last.photo);
    const across = points.map(({ photo }) => Math.max(...this.toBoard(photo).uncertainty));
    if (!(uncertainty < TOO_UNSURE * value) || !(Math.max(...across) < TOO_UNSURE * value))
      throw refused(
        'the points of known position lie too close together, or on a line; pick some that span the board',
      );
  }
}

interface Frames {
  readonly photo: Frame;
  readonly board: Frame;
}

interface Fit {
  /** The homography from the board to the photo, h0 to h7, in own units. */
  readonly h: readonly number[];
  /** How h follows from the parameters. */
  readonly columns: Matrix;
  readonly parameters: Matrix;
  /** Covariance of the parameters. */
  readonly covariance: Matrix;
  readonly chiSquare: number;
}

function framesOf(points: readonly KnownPoint[]): Frames {
  const frame = (places: readonly Place[]): Frame => {
    const middle: Place = [mean(places.map(([x]) => x)), mean(places.map(([, y]) => y))];
    const size = Math.sqrt(mean(places.map(([x, y]) => (x - middle[0]) ** 2 + (y - middle[1]) ** 2)));
    if (!(size > 0)) throw refused('the points of known position are all in one place');
    return { middle, size };
  };
  return { photo: frame(points.map(({ photo }) => photo)), board: frame(points.map(({ board }) => board)) };
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;

/** h = columns × parameters. @param hand 1 where board and photo have the same sense of rotation, else -1 */
function columnsOf(kind: PlaneKind, hand: 1 | -1): Matrix {
  if (kind === 'scale')
    return new Matrix([
      [1, 0, 0, 0],
      [0, -hand, 0, 0],
      [0, 0, 1, 0],
      [0, 1, 0, 0],
      [hand, 0, 0, 0],
      [0, 0, 0, 1],
      [0, 0, 0, 0],
      [0, 0, 0, 0],
    ]);
  return Matrix.eye(8, kind === 'parallel' ? 6 : 8);
}

/** Weighted least squares, from the linear solution (direct linear transformation) by the steps of Gauss and Newton. */
function fitOf(points: readonly KnownPoint[], columns: Matrix, picked: number): Fit {
  const rows = points.flatMap(({ photo: [u, v], board: [x, y] }) => [
    [x, y, 1, 0, 0, 0, -u * x, -u * y],
    [0, 0, 0, x, y, 1, -v * x, -v * y],
  ]);
  const told = Matrix.columnVector(points.flatMap(({ photo }) => [...photo]));
  let parameters = pseudoInverse(new Matrix(rows).mmul(columns)).mmul(told);
  for (let step = 0; step < STEPS; step++) {
    const { information, gradient } = weighed(points, columns, parameters, picked);
    const change = pseudoInverse(information).mmul(gradient);
    parameters = Matrix.add(parameters, change);
    if (change.norm() <= SETTLED * (1 + parameters.norm())) break;
  }
  const { information, chiSquare } = weighed(points, columns, parameters, picked);
  const h = columns.mmul(parameters).to1DArray();
  let covariance: Matrix;
  try {
    covariance = inverse(information);
  } catch {
    throw refused('the points of known position lie on a line; pick some that span the board');
  }
  return { h, columns, parameters, covariance, chiSquare };
}

/** Written in plain numbers: it is the work of a fit, and matrices of two rows for each point would be most of it. */
function weighed(points: readonly KnownPoint[], columns: Matrix, parameters: Matrix, picked: number) {
  const h = columns.mmul(parameters).to1DArray();
  const count = columns.columns;
  const to = Array.from({ length: 8 }, (_, row) => columns.getRow(row));
  const information = Matrix.zeros(count, count);
  const gradient = Matrix.zeros(count, 1);
  let chiSquare = 0;
  for (const { photo, board, within = 0 } of points) {
    const [x, y] = board;
    const [u, v] = projected(h, board);
    const [left, down] = [photo[0] - u, photo[1] - v];
    const [a, b, c, d] = derivatives(h, board);
    // The inverse of what spreadOf gives.
    const [uu, uv, vv] = [
      picked ** 2 + within ** 2 * (a * a + b * b),
      within ** 2 * (a * c + b * d),
      picked ** 2 + within ** 2 * (c * c + d * d),
    ];
    const determinant = uu * vv - uv * uv;
    const [p, q, r] = [vv / determinant, -uv / determinant, uu / determinant];
    const w = h[6] * x + h[7] * y + 1;
    const across = new Float64Array(count);
    const along = new Float64Array(count);
    for (let k = 0; k < count; k++) {
      const far = to[6][k] * x + to[7][k] * y;
      across[k] = (to[0][k] * x + to[1][k] * y + to[2][k] - u * far) / w;
      along[k] = (to[3][k] * x + to[4][k] * y + to[5][k] - v * far) / w;
    }
    for (let k = 0; k < count; k++) {
      const [one, other] = [p * across[k] + q * along[k], q * across[k] + r * along[k]];
      gradient.set(k, 0, gradient.get(k, 0) + one * left + other * down);
      for (let j = 0; j < count; j++)
        information.set(k, j, information.get(k, j) + one * across[j] + other * along[j]);
    }
    chiSquare += p * left * left + 2 * q * left * down + r * down * down;
  }
  return { information, gradient, chiSquare };
}

/** A known position that is off shows on the photo as the plane maps it there. */
const spreadOf = (local: Matrix, picked: number, within: number): Matrix =>
  Matrix.eye(2, 2)
    .mul(picked ** 2)
    .add(carried(local, within ** 2));

const carried = (by: Matrix, variance: number): Matrix => by.mmul(by.transpose()).mul(variance);

/** Derivatives of the projection by the place. */
function byPlace(h: readonly number[], place: Place): Matrix {
  const [a, b, c, d] = derivatives(h, place);
  return new Matrix([
    [a, b],
    [c, d],
  ]);
}

/** Derivatives of the projection by h0 to h7. */
function byEntries(h: readonly number[], [x, y]: Place): Matrix {
  const [u, v] = projected(h, [x, y]);
  const w = h[6] * x + h[7] * y + 1;
  return new Matrix([
    [x / w, y / w, 1 / w, 0, 0, 0, (-u * x) / w, (-u * y) / w],
    [0, 0, 0, x / w, y / w, 1 / w, (-v * x) / w, (-v * y) / w],
  ]);
}

function farthest(points: readonly KnownPoint[]): readonly [KnownPoint, KnownPoint] {
  let best: readonly [KnownPoint, KnownPoint] = [points[0], points[1]];
  let most = -1;
  for (const [i, one] of points.entries())
    for (const other of points.slice(i + 1)) {
      const apart = Math.hypot(one.board[0] - other.board[0], one.board[1] - other.board[1]);
      if (apart > most) [best, most] = [[one, other], apart];
    }
  return best;
}

const refused = (why: string) => new CasebackError('BAD_INPUT', why.charAt(0).toUpperCase() + why.slice(1));
