import type { Box } from '../model/photo-region.ts';
import type { Size } from '../photos/sizes.ts';

/** A piece of a photo, upright, one byte of grey a pixel, row by row. */
export interface Crop {
  readonly pixels: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** Pixels along the shorter side below which no two characters can be told apart. */
export const LEAST_SIDE = 10;
/** Largest crop, pixels; a larger one is made smaller, which costs no marking that a person could read on it. */
const MOST_PIXELS = 400_000;

/** A rectangle of pixels. */
interface Rectangle extends Size {
  readonly left: number;
  readonly top: number;
}

/** The whole pixels of a photo that a region covers; what lies outside the photo is left out. @returns undefined where nothing is left */
export function rectangleOf({ width, height }: Size, [x, y, w, h]: Box): Rectangle | undefined {
  const edge = (percent: number, size: number) =>
    Math.max(0, Math.min(size, Math.round((percent * size) / 100)));
  const [left, top] = [edge(x, width), edge(y, height)];
  const [right, bottom] = [edge(x + w, width), edge(y + h, height)];
  return right > left && bottom > top ? { left, top, width: right - left, height: bottom - top } : undefined;
}

/**
 * Takes a piece of a photo out, upright and grey, through the decoder that reads nothing but photos.
 * @param content the file as it is handed on
 * @param at as {@link rectangleOf} gives it
 * @throws Error of the decoder for a file that it does not take
 */
export async function cropOf(content: Uint8Array, at: Rectangle): Promise<Crop> {
  const { upright } = await import('../photos/decoder.ts');
  const { left, top, width, height } = at;
  const shrunk = Math.min(1, Math.sqrt(MOST_PIXELS / (width * height)));
  const { data, info } = await upright(content)
    .flatten({ background: '#fff' })
    .extract({ left, top, width, height })
    .greyscale()
    .resize(Math.max(1, Math.round(width * shrunk)), Math.max(1, Math.round(height * shrunk)), {
      fit: 'fill',
    })
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { pixels: data, width: info.width, height: info.height };
}
