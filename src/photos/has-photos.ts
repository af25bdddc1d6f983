import type { SpecimenRow } from '../state/facts.ts';
import { dossierOf } from '../state/merge.ts';
import { keptFile } from './kept.ts';

/** Whether a specimen has a photo that can be shown, by its row, which is the same object for all that see the same of it. */
const known = new WeakMap<SpecimenRow, boolean>();

/** Whether a photo of a specimen can be shown: one that its dossier names, of which the archive has the file. */
export function hasPhotos(row: SpecimenRow): boolean {
  if (row.added.photoFiles.length === 0) return false;
  let has = known.get(row);
  if (has === undefined) {
    has = dossierOf(row).photos.some(({ sha256 }) => keptFile(row, sha256));
    known.set(row, has);
  }
  return has;
}
