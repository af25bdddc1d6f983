/** Longer sides of the smaller copies of a picture, pixels: a thumbnail in a table, and a picture on a page. */
export const LONGER_SIDES = [320, 1_280] as const;
/** Side of a square tile, pixels. */
export const TILE = 512;

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Sizes in which a whole picture is at hand, the smallest first and its own last. */
export function sizesOf({ width, height }: Size): readonly Size[] {
  const longer = Math.max(width, height);
  const smaller = LONGER_SIDES.filter((side) => side < longer).map((side) => ({
    width: Math.max(1, Math.round((width * side) / longer)),
    height: Math.max(1, Math.round((height * side) / longer)),
  }));
  return [...smaller, { width, height }];
}

/** Powers of two by which tiles are smaller than the picture, up to that at which one tile has all of it (IIIF Image API 3.0, section 5.4). */
export function scaleFactorsOf({ width, height }: Size): readonly number[] {
  const factors = [1];
  while (Math.max(width, height) / (factors.at(-1) as number) > TILE)
    factors.push(2 * (factors.at(-1) as number));
  return factors;
}

/** Left, top, width and height of a part of a picture, percent of it. */
export type Share = readonly [left: number, top: number, width: number, height: number];

/** A part of a picture, whole pixels. */
export interface Part extends Size {
  readonly left: number;
  readonly top: number;
}

/** Rim around a part, as a share of its own size: where on the board it lies is seen by what lies around it. */
const RIM = 0.35;
/** Least width and height of a part with its rim, as a share of the picture. */
const LEAST_SHARE = 0.06;
/** Longer side of a part as it is shown, pixels: 300 dots an inch over half the width of a page. */
const LONGEST_PART = 1_280;

/** The pixels of a part with its rim. */
export function partOf(picture: Size, [left, top, width, height]: Share): Part {
  const along = (from: number, share: number, whole: number): readonly [number, number] => {
    const middle = ((from + share / 2) / 100) * whole;
    const half = Math.max((share / 100) * (0.5 + RIM), LEAST_SHARE / 2) * whole;
    const start = Math.max(0, Math.min(whole - 1, Math.floor(middle - half)));
    return [start, Math.max(1, Math.min(whole, Math.ceil(middle + half)) - start)];
  };
  const [x, wide] = along(left, width, picture.width);
  const [y, high] = along(top, height, picture.height);
  return { left: x, top: y, width: wide, height: high };
}

/** Pixels of a part as it is shown; never more than it has. */
export function sizeOfPart({ width, height }: Size): Size {
  const scale = Math.min(1, LONGEST_PART / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}
