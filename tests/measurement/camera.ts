import type { Place } from '../../src/measurement/plane.ts';

/** A pinhole camera in space (rotation, distance, focal length): it says nothing of homographies, on which the code that is tested rests. */
export interface Camera {
  /** Of the photo, pixels; its axis of view meets the middle. */
  readonly width: number;
  readonly height: number;
  /** Pixels. */
  readonly focal: number;
  /** From what is in the middle of the photo, mm. */
  readonly distance: number;
  /** What is in the middle of the photo, mm on the board. */
  readonly looksAt: Place;
  /** Degrees: of the axis of view from the perpendicular; towards which side; and of the camera about its axis. */
  readonly tilt: number;
  readonly towards: number;
  readonly turn: number;
  readonly isBottom?: boolean;
  /** Radial distortion in the corners of the photo: 0.01 is a pincushion of 1 %. */
  readonly bend?: number;
}

const DEGREES = Math.PI / 180;

/** Where a place above the board, mm as seen from its top side, is on the photo, pixels. */
export function photographed(camera: Camera, [x, y]: Place, above = 0): Place {
  const { width, height, focal, distance, looksAt, isBottom = false, bend = 0 } = camera;
  const [tilt, towards, turn] = [camera.tilt, camera.towards, camera.turn].map((one) => one * DEGREES);
  const hand = isBottom ? -1 : 1;
  const [px, py] = [hand * (x - looksAt[0]), y - looksAt[1]];
  const [u, v] = [
    px * Math.cos(towards) - py * Math.sin(towards),
    px * Math.sin(towards) + py * Math.cos(towards),
  ];
  // Tilted about the first axis: the second recedes, and what stands on the board comes nearer.
  const rv = v * Math.cos(tilt) + above * Math.sin(tilt);
  const depth = distance + v * Math.sin(tilt) - above * Math.cos(tilt);
  const [a, b] = [u * Math.cos(turn) - rv * Math.sin(turn), u * Math.sin(turn) + rv * Math.cos(turn)];
  const [right, down] = [(focal * a) / depth, (-focal * b) / depth];
  const bent = 1 + (bend * (right ** 2 + down ** 2)) / ((width / 2) ** 2 + (height / 2) ** 2);
  return [width / 2 + right * bent, height / 2 + down * bent];
}

/** Percent of the photo. */
export const spotOf = ({ width, height }: Camera, [x, y]: Place): Place => [
  (100 * x) / width,
  (100 * y) / height,
];
