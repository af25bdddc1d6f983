import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Archive } from '../../archive.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import { CasebackError, type Problem } from '../../model/problems.ts';
import { type PhotosBeside, photosBeside } from '../../photos/beside.ts';
import { DatabasePhotos } from '../../photos/database-store.ts';
import { FolderPhotos } from '../../photos/folder-store.ts';
import { keptFile } from '../../photos/kept.ts';
import { Photos } from '../../photos/photos.ts';
import { NoPhoto } from '../../photos/refusal.ts';
import type { Place } from './data-folder.ts';
import { UsageError } from './exit.ts';

/**
 * Where an archive keeps the files of photos: where its journal is, in the data folder or the database. With a journal in a database
 * PHOTOS_DIR may name a folder that all its services share.
 */
export function photosOf({ folder, database }: Pick<Place, 'folder' | 'database'>): Photos {
  const shared = process.env.PHOTOS_DIR || undefined;
  const store =
    database === undefined
      ? new FolderPhotos(join(folder, 'photos'))
      : shared === undefined
        ? new DatabasePhotos(database)
        : new FolderPhotos(resolve(shared));
  return new Photos(store, join(folder, 'renditions'));
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

/** Photos that files bring and that are likely copies of others, in the archive or among the files, as worth a second look. */
export async function alikeFor(
  archive: Archive | undefined,
  documents: readonly ReadDocument[],
  { photos }: PhotosBeside,
): Promise<readonly Problem[]> {
  if (photos.size === 0) return [];
  const { alikeBrought } = await import('../../questions/alike.ts');
  return alikeBrought(documents, photos, archive && archive.version > 0 ? archive.state('desk') : undefined);
}

/** A file that is given as a photo. @throws UsageError where it cannot be read; CasebackError BAD_INPUT for what is no photo */
export async function inspectedFile(file: string) {
  let content: Uint8Array;
  try {
    content = readFileSync(file);
  } catch (error) {
    throw new UsageError(`${file} cannot be read: ${(error as Error).message}`);
  }
  const { inspectPhoto } = await import('../../photos/inspect.ts');
  try {
    return await inspectPhoto(content);
  } catch (error) {
    if (!(error instanceof NoPhoto)) throw error;
    throw new CasebackError('BAD_INPUT', `${file}: ${error.message}`);
  }
}
