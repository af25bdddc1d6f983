import { type Dossier, specimenIdOf } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { InspectedPhoto } from './inspect.ts';

/** Photos whose files are at hand, by the digests of the files. */
export type PhotosAtHand = ReadonlyMap<string, InspectedPhoto>;

/** The file that the archive keeps of a photo; undefined where it knows the photo by its digest alone. */
export function keptFile({ added }: SpecimenRow, sha256: string): PhotoFile | undefined {
  return added.photoFiles.find((file) => file.sha256 === sha256);
}

/**
 * What is journaled of the files that come with dossiers: one entry a file and specimen, where the archive has it not yet.
 * @param rowOf the specimen as the archive has it
 */
export function photosKept(
  dossiers: readonly Dossier[],
  atHand: PhotosAtHand,
  rowOf: (specimen: string) => SpecimenRow | undefined,
  by: { readonly actor: string; readonly reason: string },
): readonly Extract<Change, { kind: 'photo-kept' }>[] {
  return dossiers.flatMap((dossier) => {
    const specimen = specimenIdOf(dossier);
    const row = rowOf(specimen);
    return [...Map.groupBy(dossier.photos, ({ sha256 }) => sha256)].flatMap(([sha256, photos]) => {
      const found = atHand.get(sha256);
      if (!found || (row && keptFile(row, sha256))) return [];
      const payload = { specimen, photos: photos.map(({ id }) => id), file: found.file };
      return [{ ...by, kind: 'photo-kept' as const, payload }];
    });
  });
}
