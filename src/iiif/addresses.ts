import { type LinkedPlace, NOWHERE, placeAt } from '../linked/places.ts';
import type { Thumbnail } from '../photos/step-pictures.ts';

/** Where the photos of a service have their addresses, and where its records have theirs. */
export interface PhotoPlace {
  /** Address of the service; ends with `/`, or with `:` for names without an address on the web. */
  readonly base: string;
  /** Where records begin in its linked data, so that both speak of the same things. */
  readonly records: LinkedPlace;
}

/** Names without an address on the web, as linked data has them. */
export const NO_PLACE: PhotoPlace = { base: NOWHERE.base, records: NOWHERE };

/**
 * Where a service has its photos.
 * @param base address under which it is reached
 * @param records where the records of its linked data begin, when that is another one; names without an address for null
 * @throws CasebackError BAD_INPUT for a base that is none
 */
export function photoPlaceAt(base: string, records: string | null = base): PhotoPlace {
  return { base: placeAt(base).base, records: records === null ? NOWHERE : placeAt(records) };
}

// Every address of photos is written here; `service/photos/` answers under them.

/** Base of a picture after the IIIF Image API. @param id of the photo */
export const pictureAt = (base: string, id: string): string => `${base}photos/${id}`;

/** The whole picture, upright, in its own size. */
export const wholeAt = (base: string, id: string): string => `${pictureAt(base, id)}/full/max/0/default.jpg`;

/** A small picture of a photo or of a region of it. @param id of the photo */
export const thumbnailAt = (base: string, id: string, { path }: Thumbnail): string =>
  `${pictureAt(base, id)}/${path}`;

/** The regions of a photo as W3C Web Annotations. */
export const annotationsAt = (base: string, id: string): string => `${pictureAt(base, id)}/annotations.json`;

/** The photos of a specimen as an IIIF manifest. */
export const manifestAt = (base: string, specimen: string): string =>
  `${base}photos/${specimen}/manifest.json`;

/** The manifests of a device as an IIIF collection. */
export const deviceCollectionAt = (base: string, device: string): string =>
  `${base}photos/${device}/collection.json`;

/** Devices with photos as an IIIF collection. @param page of them, from 1; the first address when left out */
export const archiveCollectionAt = (base: string, page?: number): string =>
  `${base}photos/collection.json${page === undefined ? '' : `?page=${page}`}`;
