import type { PhotoPlace } from '../iiif/addresses.ts';
import type { AnnotationPage } from '../iiif/annotations.ts';
import type { PresentationDocument } from '../iiif/manifest.ts';
import type { Photo } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { CasebackError } from '../model/problems.ts';
import { type Crop, cropOf } from '../photos/crop.ts';
import { hasPhotos } from '../photos/has-photos.ts';
import { keptFile } from '../photos/kept.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

export { hasPhotos };

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

/** A region of a photo by itself. @param name as addresses have it @throws CasebackError NOT_FOUND */
export function cropNamed({ id, file, photo }: FoundPhoto, name: string): Crop {
  for (const region of photo.regions) {
    const crop = cropOf(file, region);
    if (crop.name === name) return crop;
  }
  throw new CasebackError('NOT_FOUND', `Of the photo "${id}" there is no region under that name`);
}

/** Where a service has its photos, for documents about them; see `photoPlaceAt`. @throws CasebackError BAD_INPUT */
export async function photoPlace(base?: string, records?: string | null): Promise<PhotoPlace> {
  const { NO_PLACE, photoPlaceAt } = await import('../iiif/addresses.ts');
  return base === undefined ? NO_PLACE : photoPlaceAt(base, records);
}

/** The regions of a photo as W3C Web Annotations. @throws CasebackError NOT_FOUND, as of {@link photoNamed} */
export async function annotationsOf(state: State, id: string, place: PhotoPlace): Promise<AnnotationPage> {
  const { annotationPage } = await import('../iiif/annotations.ts');
  return annotationPage(photoNamed(state, id), place);
}

/**
 * The photos of a specimen as a manifest of the IIIF Presentation API 3.0.
 * @throws CasebackError NOT_FOUND for what is no specimen that may be seen, and for one without a photo whose file is here
 */
export async function photoManifest(
  state: State,
  id: string,
  place: PhotoPlace,
): Promise<PresentationDocument> {
  resolved(state, id, ['Specimen']);
  const opened = state.specimen(id) as OpenedSpecimen;
  const { manifestOf, photosInside } = await import('../iiif/manifest.ts');
  const photos = photosInside(state.specimenRow(id) as SpecimenRow, opened);
  if (photos.length > 0) return manifestOf(state, opened, photos, place);
  throw new CasebackError('NOT_FOUND', `Of the specimen "${id}" the archive has no file of a photo`);
}

/**
 * The manifests of a device, or devices with photos, as a collection of the IIIF Presentation API 3.0.
 * @param id of a device; all of them when left out
 * @param page of all devices, from 1
 * @throws CasebackError NOT_FOUND; the signal's reason
 */
export async function photoCollection(
  state: State,
  id: string | undefined,
  place: PhotoPlace,
  page?: number,
  signal?: AbortSignal,
): Promise<PresentationDocument> {
  const { archiveCollection, deviceCollection } = await import('../iiif/collection.ts');
  if (id === undefined) {
    const found = await archiveCollection(state, place, page, signal);
    if (found) return found;
    throw new CasebackError(
      'NOT_FOUND',
      `There is no page ${page}; the collection without one lists those that there are`,
    );
  }
  const found = deviceCollection(state, resolved(state, id, ['Device']).thing, place);
  if (found) return found;
  throw new CasebackError('NOT_FOUND', `Of the device "${id}" the archive has no file of a photo`);
}
