import type { Metadata } from 'sharp';
import type { PhotoFile } from '../model/photo-file.ts';
import { digestOf, MOST_BYTES } from './bytes.ts';
import { MOST_PIXELS, upright } from './decoder.ts';
import { pictureTypeOf, seemsToBe } from './kinds.ts';
import { likenessOf } from './likeness.ts';
import { NoPhoto } from './refusal.ts';
import { strippedFile } from './stripped/stripped.ts';
import { hasFileBehind, type Structure, structureOf } from './stripped/structure.ts';

/** Pixels along the longer side below which a picture shows nothing that could be measured or read. */
const LEAST_SIDE = 16;

/** Largest picture that a decoder has to hold whole, pixels: with 8 bytes each, half a gigabyte. */
const MOST_HELD = 64_000_000;
/** Pixels times scans of a JPEG: some seconds of work. */
const MOST_WORK = 1_500_000_000;

/** The file of a photo, and what was found out about it. */
export interface InspectedPhoto {
  readonly file: PhotoFile;
  readonly content: Uint8Array;
}

/** What a thread says of a file that it was given, and gives back. */
export type InspectAnswer = { readonly content: Uint8Array } & (
  | { readonly file: PhotoFile }
  | { readonly why: string; readonly fix: string }
);

/**
 * What there is to know of the file of a photo. Every pixel is decoded, so that what is kept can be shown.
 * @throws NoPhoto for what is no JPEG, PNG or WebP picture (by content, whatever its name), is cut off, damaged, or too large
 */
export async function inspectPhoto(content: Uint8Array): Promise<InspectedPhoto> {
  if (content.length === 0) throw new NoPhoto('The file is empty', 'copy it from the camera again');
  if (content.length > MOST_BYTES)
    throw new NoPhoto(
      `The file has ${megabytes(content.length)} MB, and photos have up to ${megabytes(MOST_BYTES)} MB`,
      'save it with more compression or fewer pixels',
    );
  const type = pictureTypeOf(content);
  if (type === undefined)
    throw new NoPhoto(
      `The file is ${seemsToBe(content)}; photos are JPEG, PNG or WebP by content`,
      'save the photo in one of these',
    );
  const built = structureOf(content, type);
  checkSize(built);
  const { orientation } = built;
  if (hasFileBehind(content, built))
    throw new NoPhoto(
      'Behind the end of the picture the file has another one, an archive or a page',
      'save the picture alone',
    );
  // From here on nothing sees more of the file than its picture.
  const served = strippedFile(content, type, orientation);
  const { width = 0, height = 0, pages = 1 } = await metadataOf(served);
  checkSize({ ...built, width, height });
  if (pages > 1) throw new NoPhoto('The file is an animation', 'save one picture of it as a photo');
  if (Math.max(width, height) < LEAST_SIDE)
    throw new NoPhoto(`The picture has ${width} × ${height} pixels`, 'bring the photo itself');
  const isTurned = orientation > 4;
  return {
    content,
    file: {
      sha256: digestOf(content),
      type,
      bytes: content.length,
      width: isTurned ? height : width,
      height: isTurned ? width : height,
      orientation,
      served: { sha256: digestOf(served), bytes: served.length },
      likeness: await decoded(() => likenessOf(served)),
    },
  };
}

/** @throws NoPhoto for more pixels than are decoded */
function checkSize({ width, height, isHeldWhole, scans }: Structure): void {
  const pixels = width * height;
  if (pixels > MOST_PIXELS)
    throw new NoPhoto(
      `The picture has ${megapixels(pixels)} megapixels, and photos have up to ${megapixels(MOST_PIXELS)}`,
      'save it smaller, or in several photos',
    );
  if (isHeldWhole && pixels > MOST_HELD)
    throw new NoPhoto(
      `The picture has ${megapixels(pixels)} megapixels, and WebP, progressive JPEG and interlaced PNG, which are held in memory whole, have up to ${megapixels(MOST_HELD)}`,
      'save it as a plain JPEG or PNG, or smaller',
    );
  if (scans * pixels > MOST_WORK)
    throw new NoPhoto(
      `The JPEG file goes over its ${megapixels(pixels)} megapixels ${scans} times`,
      'save it as a plain JPEG',
    );
}

/** The header alone is read, before any memory is taken for pixels. */
function metadataOf(content: Uint8Array): Promise<Metadata> {
  return decoded(() => upright(content, { limitInputPixels: false }).metadata());
}

/** @throws NoPhoto in place of the decoder's own errors */
async function decoded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof NoPhoto) throw error;
    throw new NoPhoto(
      `The picture cannot be read: ${(error as Error).message.trim().split('\n')[0].replace(/:$/u, '')}`,
      'copy it from the camera again, or save it anew',
    );
  }
}

const megabytes = (bytes: number) => Math.ceil(bytes / 2 ** 20);
const megapixels = (pixels: number) => Math.round(pixels / 1e6);
