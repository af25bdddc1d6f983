import type { Photo } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { CasebackError } from '../model/problems.ts';
import { keptFile } from '../photos/kept.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** A photo of which the archive has the file. */
export interface FoundPhoto {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  readonly file: PhotoFile;
  readonly opened: OpenedSpecimen;
}

/** @throws CasebackError NOT_FOUND for what is no photo that may be seen, and for one whose file the archive does not have */
export function photoNamed(state: State, id: string): FoundPhoto {
  const { opened, thing: photo } = resolved(state, id, ['Photo']);
  const file = keptFile(state.specimenRow(opened.id) as SpecimenRow, photo.sha256);
  if (file) return { id, photo, file, opened };
  throw new CasebackError(
    'NOT_FOUND',
    `The archive knows the photo "${id}" by its digest alone; its file is not here`,
  );
}
