import type { Sharp, SharpOptions } from 'sharp';
import sharp from 'sharp';

/** Largest picture, pixels: that of 150 megapixels takes 450 MB while it is taken apart. */
export const MOST_PIXELS = 150_000_000;

/** Longest time for one picture; the slowest that is taken needs some seconds. */
const MOST_SECONDS = 60;

/** The only loaders that are open: what else the library reads (SVG, PDF, TIFF, camera formats) has been a way in before. */
const LOADERS = ['Jpeg', 'Png', 'Webp'].map((kind) => `VipsForeignLoad${kind}Buffer`);

sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({ operation: LOADERS });
// Files are read once; a cache would only hold memory.
sharp.cache(false);
// One thread a picture: the service has more to do than one photo.
sharp.concurrency(1);

/** A decoder of one file, upright, which fails on anything that is missing in it. */
export function upright(content: Uint8Array, options: SharpOptions = {}): Sharp {
  return sharp(content, {
    failOn: 'truncated',
    limitInputPixels: MOST_PIXELS,
    sequentialRead: true,
    autoOrient: true,
    ...options,
  }).timeout({ seconds: MOST_SECONDS });
}
