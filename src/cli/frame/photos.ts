import { join } from 'node:path';
import type { Archive } from '../../archive.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import { type PhotosBeside, photosBeside } from '../../photos/beside.ts';
import { FolderPhotos } from '../../photos/folder-store.ts';
import { keptFile } from '../../photos/kept.ts';
import { Photos } from '../../photos/photos.ts';
import type { Place } from './data-folder.ts';

/** Where an archive keeps the files of photos: beside its journal. */
export function photosOf({ folder }: Pick<Place, 'folder' | 'database'>): Photos {
  return new Photos(new FolderPhotos(join(folder, 'photos')), join(folder, 'renditions'));
}

/** Files of photos that dossiers name beside themselves, or that are in the archive, and what is wrong with them. */
export function photosFor(
  archive: Archive | undefined,
  documents: readonly ReadDocument[],
): Promise<PhotosBeside> {
  const specimens = archive?.state('desk').facts.specimens;
  return photosBeside(documents, archive?.photos?.store, ({ dossier }, sha256) => {
    const row = specimens?.get(specimenIdOf(dossier));
    return row !== undefined && keptFile(row, sha256) !== undefined;
  });
}
