import { createHash } from 'node:crypto';
import { canonicalJson } from '../journal/canonical.ts';
import type { Photo } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';

/** What may be said anew of a photo. A list, be it an empty one, stands in place of the one on record; what is left out stays. */
export type PhotoChange = Partial<
  Pick<Photo, 'caption' | 'credit' | 'licence' | 'board' | 'side' | 'points' | 'regions'>
>;

/** SHA-256 over what is recorded of a photo, lower-case hexadecimal: it differs whenever something in it does. */
export function recordDigest(photo: Photo): string {
  return createHash('sha256').update(canonicalJson(photo)).digest('hex');
}

/** @throws CasebackError BAD_INPUT where nothing would be changed */
export function changedPhoto(photo: Photo, change: PhotoChange): Photo {
  const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
  const { points, ...rest }: Photo = { ...photo, ...given };
  const changed: Photo = points === undefined || points.length === 0 ? rest : { ...rest, points };
  if (recordDigest(changed) === recordDigest(photo))
    throw new CasebackError(
      'BAD_INPUT',
      `The photo "${photo.id}" is recorded so already; there is nothing to change`,
    );
  return changed;
}
