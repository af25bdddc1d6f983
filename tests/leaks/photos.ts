import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import type { PhotosAtHand } from '../../src/photos/kept.ts';
import { Photos } from '../../src/photos/photos.ts';
import { MemoryPhotos } from '../photos/memory-store.ts';
import { pictureOf } from '../photos/pictures.ts';
import { SECRET } from './hidden.ts';

const [shown, hidden] = await Promise.all(
  [1, 2].map(async (seed) => inspectPhoto(await pictureOf('png', { width: 64, height: 48, seed }))),
);

/** Files of the photos of the archives that are held against each other. */
export const PHOTOS_AT_HAND: PhotosAtHand = new Map([shown, hidden].map((one) => [one.file.sha256, one]));

/** Digest of the photo of a device; those that have the secret word have a photo of their own. */
export const photoDigest = (word: string): string => (word === SECRET ? hidden : shown).file.sha256;

export const photosInMemory = (): Photos =>
  new Photos(new MemoryPhotos(), mkdtempSync(join(tmpdir(), 'caseback-renditions-')));
