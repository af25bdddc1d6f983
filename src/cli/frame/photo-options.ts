import type { PhotoReadingWish } from '../../questions/photo-reading.ts';
import { quoted, UsageError } from './exit.ts';
import { list, text, type ValuesOf } from './options.ts';

/** What of which photo is read, and which way up. */
export const PHOTO_OPTIONS = {
  photo: text('ID', 'id of the photo to read, device/specimen/photo; the one that tells most when left out'),
  region: list('X,Y,W,H', 'left, top, width and height in percent of the photo, in place of its regions'),
  turned: text(
    'DEGREES',
    'how far the region is turned clockwise to be read, 0 to 360; all four ways up are tried when left out',
  ),
};

export function photoWish(
  of: string,
  { photo, region, turned }: ValuesOf<typeof PHOTO_OPTIONS>,
): PhotoReadingWish {
  return {
    of,
    photo,
    region: region?.map((one) => numberIn(one, '--region')),
    turned: turned === undefined ? undefined : numberIn(turned, '--turned'),
  };
}

function numberIn(written: string, option: string): number {
  const value = Number(written);
  if (written.trim() !== '' && Number.isFinite(value)) return value;
  throw new UsageError(
    `${option} has ${quoted(written)}; write numbers, such as ${option === '--region' ? '12.5,30,8,6' : '90'}`,
  );
}
