import { LRUCache } from 'lru-cache';
import type { PhotoRegion } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { boxOfRegion, cornersOfRegion, type Spot } from '../model/photo-region.ts';
import { CasebackError } from '../model/problems.ts';
import type { Photos } from '../photos/photos.ts';
import { cropOf, LEAST_SIDE, rectangleOf } from './crop.ts';
import { masked } from './masked.ts';
import { TURNS, type Turn, turnedBy } from './prepare.ts';
import { readCrop } from './read-crop.ts';
import type { ReadText } from './read-text.ts';

/** A part of a photo to be read. */
export interface PhotoPart {
  readonly file: PhotoFile;
  readonly region: Pick<PhotoRegion, 'xywh' | 'polygon'>;
  /** How far it is turned clockwise to be read, degrees, 0 to 360. */
  readonly turned?: number | undefined;
  /** In place of that: how far its own axes are turned counter-clockwise, degrees; then all four ways up are tried. */
  readonly rotation?: number | undefined;
}

/** Readings that are kept: photos never change under their digests. */
const KEPT = 500;
const kept = new LRUCache<string, Promise<PartReading>>({ max: KEPT });

/** A reading, and how far the part was turned clockwise for it in all, degrees. */
export interface PartReading {
  readonly lines: ReadText;
  readonly turned: number;
}

/** What is turned by less than this is read as it lies, degrees. */
const LEVEL = 2;

/**
 * Reads the characters on a part of a photo; the same part is read once.
 * @param name what messages call the photo
 * @throws CasebackError BAD_INPUT where the part lies beside the photo or has too few pixels, UNAVAILABLE where the file is missing
 *   or too many wait, OUT_OF_BUDGET where it takes too long
 */
export function readPhotoPart(photos: Photos, part: PhotoPart, name: string): Promise<PartReading> {
  const { file, region, turned, rotation } = part;
  const key = JSON.stringify([file.sha256, region.xywh, region.polygon, turned, rotation]);
  let reading = kept.get(key);
  if (!reading) {
    reading = read(photos, part, name);
    kept.set(key, reading);
    reading.catch(() => kept.delete(key));
  }
  return reading;
}

/** Ways to turn a part: first by less than a right angle, then by right angles. */
function waysUp({ turned, rotation = 0 }: PhotoPart): {
  readonly tilt: number;
  readonly turns: readonly Turn[];
} {
  if (turned !== undefined) {
    const quarter = TURNS[Math.floor(turned / 90) % 4];
    return { tilt: turned - quarter, turns: [quarter] };
  }
  // A part that is turned counter-clockwise lies straight when it is turned back; by 45 degrees at most, since all four ways are tried.
  const off = ((rotation % 90) + 90) % 90;
  const tilt = off > 45 ? off - 90 : off;
  return { tilt: Math.abs(tilt) < LEVEL ? 0 : tilt, turns: TURNS };
}

async function read(photos: Photos, part: PhotoPart, name: string): Promise<PartReading> {
  const { file, region } = part;
  const at = rectangleOf(file, boxOfRegion(region));
  if (!at)
    throw new CasebackError('BAD_INPUT', `The region lies beside the photo "${name}"; give another one`);
  if (Math.min(at.width, at.height) < LEAST_SIDE)
    throw new CasebackError(
      'BAD_INPUT',
      `The region on the photo "${name}" has ${at.width} × ${at.height} pixels, too few for a character (at least ${LEAST_SIDE} a side); take a photo from nearer, or give a larger region`,
    );
  const content = await photos.served(file);
  if (!content)
    throw new CasebackError(
      'UNAVAILABLE',
      `The file of the photo "${name}" is missing or is not the one that was kept; "caseback verify" says more`,
    );
  const whole = await cropOf(content, at);
  const corners = region.polygon && cornersOfRegion(region);
  const onCrop = ([x, y]: Spot): Spot => [
    ((x * file.width) / 100 - at.left) * (whole.width / at.width),
    ((y * file.height) / 100 - at.top) * (whole.height / at.height),
  ];
  const crop = corners ? masked(whole, corners.map(onCrop)) : whole;
  const { tilt, turns } = waysUp(part);
  const { lines, turn } = await readCrop(await turnedBy(crop, tilt), turns);
  return { lines, turned: (turn + tilt + 360) % 360 };
}
