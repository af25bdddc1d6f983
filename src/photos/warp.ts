/** Pixels one after the other, row by row, with one or three values each. */
export interface Pixels {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly channels: number;
}

/** x' = (h0 x + h1 y + h2) / (h6 x + h7 y + 1), likewise y', from places of the made picture to places of the one it is made from, in pixels. */
export type Homography = readonly number[];

/** A picture to be made. */
export interface WarpTask {
  readonly pixels: Pixels;
  readonly homography: Homography;
  readonly size: { readonly width: number; readonly height: number };
}

/** What is shown where there is nothing. */
const PAPER = 255;

/**
 * A picture as a homography maps it, each pixel between the four around its place (bilinear). The upper left pixel has its middle at
 * (0.5, 0.5). What lies outside is paper.
 */
export function warped(
  { data, width, height, channels }: Pixels,
  [h0, h1, h2, h3, h4, h5, h6, h7]: Homography,
  size: { readonly width: number; readonly height: number },
): Pixels {
  const made = new Uint8Array(size.width * size.height * channels).fill(PAPER);
  const row = width * channels;
  for (let j = 0, at = 0; j < size.height; j++)
    for (let i = 0; i < size.width; i++, at += channels) {
      const [x, y] = [i + 0.5, j + 0.5];
      const w = h6 * x + h7 * y + 1;
      const u = (h0 * x + h1 * y + h2) / w - 0.5;
      const v = (h3 * x + h4 * y + h5) / w - 0.5;
      // Half a pixel around the outermost middles still belongs to the picture.
      if (!(w > 0) || !(u >= -0.5 && v >= -0.5 && u <= width - 0.5 && v <= height - 0.5)) continue;
      const [left, top] = [
        Math.max(0, Math.min(width - 2, Math.floor(u))),
        Math.max(0, Math.min(height - 2, Math.floor(v))),
      ];
      const [dx, dy] = [Math.max(0, Math.min(1, u - left)), Math.max(0, Math.min(1, v - top))];
      for (let c = 0, from = top * row + left * channels + c; c < channels; c++, from++) {
        const above = data[from] + dx * (data[from + channels] - data[from]);
        const below = data[from + row] + dx * (data[from + row + channels] - data[from + row]);
        made[at + c] = Math.round(above + dy * (below - above));
      }
    }
  return { data: made, ...size, channels };
}
