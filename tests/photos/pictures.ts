import { createHash } from 'node:crypto';
import sharp from 'sharp';
import type { Dossier } from '../../src/model/dossier.ts';
import { upright } from '../../src/photos/decoder.ts';

// Pictures made for tests. Nothing on them is a photo of anything.

/** Grey values of a picture of blocks whose brightness follows from a seed, with a bright block in the upper left corner. */
export function blocks(width: number, height: number, seed = 1): Buffer {
  const data = Buffer.alloc(width * height * 3);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const cell = Math.floor((x * 12) / width) * 31 + Math.floor((y * 9) / height) * 17;
      const grey = x < width / 4 && y < height / 4 ? 250 : 20 + ((cell * seed * 37) % 160);
      data.fill(grey, (y * width + x) * 3, (y * width + x + 1) * 3);
    }
  return data;
}

/** Where a camera says it was; nobody's place. */
const PLACE = {
  IFD0: { Make: 'Invented', Model: 'Camera 1', Software: 'Darkroom 2' },
  IFD2: { BodySerialNumber: 'SN-0042', DateTimeOriginal: '2026:03:04 05:06:07' },
  IFD3: {
    GPSLatitudeRef: 'N',
    GPSLatitude: '10/1 20/1 30/1',
    GPSLongitudeRef: 'E',
    GPSLongitude: '4/1 5/1 6/1',
  },
} as const;

type Kind = 'jpeg' | 'png' | 'webp';

/** A picture as a camera would write it: with place, time, serial number and orientation. */
export async function pictureOf(
  kind: Kind,
  { width = 320, height = 200, orientation = 1, seed = 1 } = {},
): Promise<Buffer> {
  const raw = sharp(blocks(width, height, seed), { raw: { width, height, channels: 3 } });
  const told = raw.withExif(PLACE as never).withMetadata({ orientation });
  return kind === 'jpeg'
    ? told.jpeg({ quality: 90 }).toBuffer()
    : kind === 'png'
      ? told.png().toBuffer()
      : told.webp({ quality: 90 }).toBuffer();
}

/** Upright grey values of a file, one byte a pixel, with its size. */
export async function pixelsOf(content: Uint8Array) {
  const { data, info } = await upright(content).greyscale().raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

export const sha256Of = (content: Uint8Array): string => createHash('sha256').update(content).digest('hex');

/** A photo as a dossier has it. */
export const photoOf = (id: string, sha256: string, file?: string): Dossier['photos'][number] => ({
  id,
  sha256,
  file,
  credit: 'A. Example',
  licence: 'CC-BY-4.0',
  regions: [],
});
