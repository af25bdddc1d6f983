import sharp from 'sharp';
import type { Crop } from './crop.ts';

/** Quarter turns clockwise by which a crop is turned before it is read, degrees. */
export const TURNS = [0, 90, 180, 270] as const;
export type Turn = (typeof TURNS)[number];

/** How a crop was made ready. */
export interface Preparation {
  readonly turn: Turn;
  /** Whether it was taken for light characters on dark, and inverted. */
  readonly isInverted: boolean;
  /** How much it was blurred first, against the grain of a sensor: standard deviation in pixels of the crop; 0 for not at all. */
  readonly blur: number;
  /** Height to which it was brought, pixels, the margin left out. */
  readonly height: number;
}

/** White around it, pixels: characters that touch the edge of a picture are lost. */
const MARGIN = 24;
/** Longest side of what is read, pixels. */
const LONGEST = 2_000;
/** Share of the darkest and of the lightest pixels that the stretch of the contrast leaves out. */
const CLIPPED = 0.5;

/** Whether most of a crop is darker than its characters: Otsu's threshold, and the larger class is the background. */
export function isLightOnDark({ pixels }: Crop): boolean {
  const counts = new Float64Array(256);
  for (const one of pixels) counts[one]++;
  const threshold = otsu(counts);
  let dark = 0;
  for (let grey = 0; grey <= threshold; grey++) dark += counts[grey];
  return dark > pixels.length / 2;
}

/**
 * Standard deviation of the grain of a crop as a share of its contrast: what a mask leaves that lines and slopes do not show in
 * (Immerkaer 1996, Computer Vision and Image Understanding 64, 300-302), by its median.
 */
export function grainOf({ pixels, width, height }: Crop): number {
  const counts = new Float64Array(16 * 255 + 1);
  let all = 0;
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      const [above, below] = [at - width, at + width];
      const left =
        pixels[above - 1] +
        pixels[above + 1] +
        pixels[below - 1] +
        pixels[below + 1] -
        2 * (pixels[above] + pixels[below] + pixels[at - 1] + pixels[at + 1]) +
        4 * pixels[at];
      counts[Math.abs(left)]++;
      all++;
    }
  let [median, below] = [0, counts[0]];
  while (below < all / 2) below += counts[++median];
  const [low, high] = rangeOf(pixels);
  return median / (MASK * MEDIAN * Math.max(1, high - low));
}

/** Standard deviation of what the mask makes of grain of 1, and median of the absolute value of a normal one. */
const MASK = 6;
const MEDIAN = 0.6745;

/** Threshold that parts grey values best into two classes (Otsu 1979, IEEE Transactions SMC 9, 62-66). */
function otsu(counts: Float64Array): number {
  let [total, sum] = [0, 0];
  counts.forEach((count, grey) => {
    total += count;
    sum += count * grey;
  });
  let [below, sumBelow, best, at] = [0, 0, -1, 0];
  for (let grey = 0; grey < 255; grey++) {
    below += counts[grey];
    sumBelow += counts[grey] * grey;
    const above = total - below;
    if (below === 0 || above === 0) continue;
    const between = below * above * (sumBelow / below - (sum - sumBelow) / above) ** 2;
    if (between > best) [best, at] = [between, grey];
  }
  return at;
}

/** A crop turned clockwise by any angle; what comes in at the corners is as light as most of it. @param degrees clockwise */
export async function turnedBy(crop: Crop, degrees: number): Promise<Crop> {
  if (degrees === 0) return crop;
  const raw = { width: crop.width, height: crop.height, channels: 1 as const };
  const grey = Math.round(medianOf(crop.pixels));
  const { data, info } = await sharp(crop.pixels, { raw })
    .rotate(degrees, { background: { r: grey, g: grey, b: grey } })
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { pixels: data, width: info.width, height: info.height };
}

function medianOf(pixels: Uint8Array): number {
  const counts = new Float64Array(256);
  for (const one of pixels) counts[one]++;
  let [grey, darker] = [0, counts[0]];
  while (grey < 255 && darker < pixels.length / 2) darker += counts[++grey];
  return grey;
}

/** Makes a crop ready for reading, as PNG: its contrast stretched, dark characters on light, turned, enlarged, with a white margin. */
export async function prepared(
  crop: Crop,
  { turn, isInverted, blur, height }: Preparation,
): Promise<Uint8Array> {
  const isAcross = turn === 90 || turn === 270;
  const [w, h] = isAcross ? [crop.height, crop.width] : [crop.width, crop.height];
  const scale = Math.min(height / h, LONGEST / w, LONGEST / h);
  const raw = { width: crop.width, height: crop.height, channels: 1 as const };
  const soft =
    blur === 0
      ? crop.pixels
      : await sharp(crop.pixels, { raw }).blur(blur).toColourspace('b-w').raw().toBuffer();
  return sharp(stretched(soft, isInverted), { raw })
    .rotate(turn)
    .resize(Math.max(1, Math.round(w * scale)), Math.max(1, Math.round(h * scale)), {
      fit: 'fill',
      kernel: 'cubic',
    })
    .extend({ top: MARGIN, bottom: MARGIN, left: MARGIN, right: MARGIN, background: '#fff' })
    .toColourspace('b-w')
    .png({ compressionLevel: 1 })
    .toBuffer();
}

/** Grey values from black to white. */
function stretched(pixels: Uint8Array, isInverted: boolean): Uint8Array {
  const [low, high] = rangeOf(pixels);
  const range = Math.max(1, high - low);
  return pixels.map((one) => {
    const share = Math.max(0, Math.min(1, (one - low) / range));
    return Math.round(255 * (isInverted ? 1 - share : share));
  });
}

/** The darkest and the lightest value without the few beyond them. */
function rangeOf(pixels: Uint8Array): readonly [low: number, high: number] {
  const counts = new Float64Array(256);
  for (const one of pixels) counts[one]++;
  const at = (share: number) => {
    let left = (share / 100) * pixels.length;
    for (let grey = 0; grey < 256; grey++) {
      left -= counts[grey];
      if (left < 0) return grey;
    }
    return 255;
  };
  return [at(CLIPPED), at(100 - CLIPPED)];
}
