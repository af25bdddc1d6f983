import type { PictureType } from '../../model/photo-file.ts';
import { strippedJpeg } from './jpeg.ts';
import { strippedPng } from './png.ts';
import { strippedWebp } from './webp.ts';

const BY_TYPE = { 'image/jpeg': strippedJpeg, 'image/png': strippedPng, 'image/webp': strippedWebp };

/** A file to be stripped. */
export interface StripTask {
  readonly content: Uint8Array;
  readonly type: PictureType;
  readonly orientation: number;
}

/**
 * The file of a photo as it is handed on: its picture, the colours and how it is turned, bit for bit, and nothing else. The same bytes
 * give the same file for ever, so that it has a digest that can be cited.
 * @throws NoPhoto for a file that is cut off or damaged
 */
export function strippedFile(content: Uint8Array, type: PictureType, orientation: number): Uint8Array {
  return BY_TYPE[type](content, orientation);
}
