/** Longer sides of the smaller copies of a picture, pixels: a thumbnail in a table, and a picture on a page. */
const LONGER_SIDES = [320, 1_280] as const;
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
